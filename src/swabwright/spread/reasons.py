"""What reaches a site and what it reaches, with the reason of each edge and how much it moves."""

from collections.abc import Iterator
from dataclasses import dataclass

from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.spread.mechanisms import AREA_MECHANISMS
from swabwright.spread.network import ContactNetwork
from swabwright.spread.streams import Stream

HOURS = 8.0


@dataclass(frozen=True)
class EdgeReason:
    """One edge in words and figures.

    source, target: how sentences call them (a site's code, the rest of a room, incoming material of a line).
    events_per_8h: how often, while it runs. share_moved: of the source's load, to this target, by one event.
    """

    source: str
    target: str
    mechanism: str
    events_per_8h: float
    share_moved: float
    reason: str
    on: bool

    @property
    def moved_per_8h(self) -> float:
        """Share of the source's load that reaches the target in 8 running hours, while little has moved."""
        return self.events_per_8h * self.share_moved


@dataclass(frozen=True)
class EdgesAt:
    """The edges into and out of one row, the strongest first."""

    into: tuple[EdgeReason, ...]
    out_of: tuple[EdgeReason, ...]


def edges_at(network: ContactNetwork, site: str) -> EdgesAt:
    """What reaches a row and what it reaches; `site` is its code, its key, or `room:<id>`. Refused when unknown."""
    row = row_of(network, site)
    into = [edge for stream in network.streams for edge in _edges(network, stream) if edge[1] == row]
    out_of = [edge for stream in network.streams if stream.source == row for edge in _edges(network, stream)]
    return EdgesAt(_strongest_first(into), _strongest_first(out_of))


def row_of(network: ContactNetwork, site: str) -> int:
    """The row of a site by its code or key, or of the rest of a room."""
    names = {place.label: row for row, place in enumerate(network.places)}
    names |= {place.name: row for row, place in enumerate(network.places)}
    if site not in names:
        raise SwabwrightError(f"no site '{site}'{did_you_mean(site, [place.label for place in network.places])}")
    return names[site]


def source_label(network: ContactNetwork, source: int) -> str:
    """How sentences call a source."""
    if source < len(network.places):
        return network.places[source].label
    return f"incoming material of line {network.lines[source - len(network.places)]}"


def _edges(network: ContactNetwork, stream: Stream) -> Iterator[tuple[EdgeReason, int]]:
    source = source_label(network, stream.source)
    for target in stream.targets:
        yield (
            EdgeReason(
                source=source,
                target=network.places[target.row].label,
                mechanism=stream.mechanism,
                events_per_8h=stream.rate_per_8h,
                share_moved=stream.fraction * (target.share if stream.mechanism in AREA_MECHANISMS else 1.0),
                reason=target.reason,
                on=stream.on and target.row not in stream.off,
            ),
            target.row,
        )


def _strongest_first(edges: list[tuple[EdgeReason, int]]) -> tuple[EdgeReason, ...]:
    ranked = sorted(edges, key=lambda edge: (-edge[0].moved_per_8h, edge[0].source, edge[0].target))
    return tuple(edge for edge, _ in ranked)
