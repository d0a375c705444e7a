"""The contact network of a plant: what can carry contamination from where to where, how often and why."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import chain

from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.spread.along import reaches_along
from swabwright.spread.around import reaches_around
from swabwright.spread.drawing import Drawing, Space
from swabwright.spread.inside import reaches_below, reaches_by_hand, reaches_in_machines
from swabwright.spread.mechanisms import MECHANISMS
from swabwright.spread.onfoot import reaches_on_routes
from swabwright.spread.places import Place, places_of
from swabwright.spread.reach import Reach
from swabwright.spread.streams import Rate, Register, Stream, registered, streams_of


@dataclass(frozen=True)
class ContactNetwork:
    """Rows, sources and streams of a plant.

    places: the rows in canonical order. lines: their incoming material are the sources after the rows.
    register: permanent stream indices by source; give it to the next network of the same plant.
    """

    places: tuple[Place, ...]
    lines: tuple[str, ...]
    streams: tuple[Stream, ...]
    register: Mapping[str, tuple[str, ...]] = field(repr=False)
    neighbours: Mapping[str, tuple[str, ...]] = field(repr=False)
    """Adjoining rooms of each room."""

    @property
    def row_names(self) -> tuple[str, ...]:
        """Site key, or `room:<id>` for the rest of a room."""
        return tuple(place.name for place in self.places)

    @property
    def source_names(self) -> tuple[str, ...]:
        """The row names, then `line:<id>` for incoming material."""
        return self.row_names + tuple(f"line:{line}" for line in self.lines)

    @property
    def edges(self) -> int:
        """How many ordered pairs of rows and mechanisms are joined."""
        return sum(len(stream.targets) for stream in self.streams)


def contact_network(
    plant: Plant, catalogue: Catalogue, space: Space, register: Register | None = None
) -> ContactNetwork:
    """The contact network of a plant as drawn; `register` keeps stream indices of an earlier drawing of it.

    Refused: two sites with one key, a switched-off name that is no mechanism or site.
    """
    places = places_of(plant, catalogue)
    drawing = Drawing(plant, places, space, catalogue.figures)
    lines = tuple(sorted(line.id for line in plant.lines))
    families = tuple(place.family for place in places) + tuple(f"line:{line}" for line in lines)
    streams, grown = registered(_switched(plant, drawing, _streams(drawing, families)), register or {})
    return ContactNetwork(
        places=places,
        lines=lines,
        streams=streams,
        register=grown,
        neighbours={room.id: space.neighbours(room.id) for room in plant.rooms},
    )


def reaches_of(drawing: Drawing) -> Iterator[Reach]:
    """What every source reaches by every mechanism."""
    builders = (
        reaches_along,
        reaches_in_machines,
        reaches_around,
        reaches_on_routes,
        reaches_by_hand,
        reaches_below,
    )
    return chain.from_iterable(build(drawing) for build in builders)


def _streams(drawing: Drawing, families: tuple[str, ...]) -> list[Stream]:
    names = tuple(place.name for place in drawing.places)
    streams: list[Stream] = []
    for reach in reaches_of(drawing):
        mechanism = drawing.mechanisms[reach.mechanism]
        rate = Rate(mechanism.rate_per_8h, mechanism.fraction)
        streams += streams_of(reach, rate, families[reach.source], names)
    return streams


def _switched(plant: Plant, drawing: Drawing, streams: list[Stream]) -> list[Stream]:
    """The streams with everything off that a person has switched off: `mechanism:splash`, `S014>S020:hand`."""
    mechanisms = {name.removeprefix("mechanism:") for name in plant.switched_off if name.startswith("mechanism:")}
    _refuse_unknown(mechanisms, MECHANISMS, "mechanism")
    edges = {_edge(name, drawing) for name in plant.switched_off if not name.startswith("mechanism:")}
    return [_switch(stream, mechanisms, edges) for stream in streams]


def _switch(stream: Stream, mechanisms: set[str], edges: set[tuple[int, int, str]]) -> Stream:
    rows = [target.row for target in stream.targets]
    off = frozenset(row for row in rows if (stream.source, row, stream.mechanism) in edges)
    on = stream.mechanism not in mechanisms and len(off) < len(rows)
    return replace(stream, on=on, off=off)


def _edge(name: str, drawing: Drawing) -> tuple[int, int, str]:
    ends, _, mechanism = name.rpartition(":")
    source, arrow, target = ends.partition(">")
    if not arrow:
        raise SwabwrightError(
            f"switched_off: '{name}' is neither a mechanism (`mechanism:splash`) nor an edge (`S014>S020:hand`)"
        )
    _refuse_unknown({mechanism}, MECHANISMS, "mechanism")
    return _node(source, drawing), _node(target, drawing), mechanism


def _node(code: str, drawing: Drawing) -> int:
    nodes = dict(drawing.row_of_code)
    nodes |= {f"room:{room}": row for room, row in drawing.rest_row.items()}
    nodes |= {f"line:{line}": node for line, node in drawing.incoming.items()}
    _refuse_unknown({code}, tuple(nodes), "site")
    return nodes[code]


def _refuse_unknown(names: set[str], known: tuple[str, ...], what: str) -> None:
    for name in sorted(names - set(known)):
        raise SwabwrightError(f"switched_off: no {what} '{name}'{did_you_mean(name, known)}")
