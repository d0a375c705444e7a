"""Streams: the random processes of the contact network, each with a permanent index at its source."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from swabwright.spread.mechanisms import AREA_MECHANISMS, NUMBERS
from swabwright.spread.reach import Reach, Target

Register = Mapping[str, tuple[str, ...]]
"""Names of the streams of each source in the order of their permanent indices; only ever added to."""


@dataclass(frozen=True)
class Stream:
    """One random process: an area mechanism of a source with all its targets, or one point edge.

    rate_per_8h: events in 8 running hours of `clock`. index: place of its random word at the source.
    on: whether it can happen at all; off: targets a person has switched off one by one.
    """

    source: int
    family: str
    name: str
    mechanism: str
    clock: str
    rate_per_8h: float
    fraction: float
    targets: tuple[Target, ...]
    index: int = -1
    on: bool = True
    off: frozenset[int] = frozenset()

    @property
    def shares(self) -> tuple[float, ...]:
        """Share of each target in the amount of one event; 0 where a person has switched it off."""
        return tuple(0.0 if target.row in self.off else target.share for target in self.targets)


@dataclass(frozen=True)
class Rate:
    """Events in 8 hours and fraction moved by an event, of one mechanism."""

    per_8h: float
    fraction: float


def streams_of(reach: Reach, rate: Rate, family: str, target_names: tuple[str, ...]) -> list[Stream]:
    """The streams of one reach: a single one for an area mechanism, else one a target (its share in the rate)."""
    base = Stream(
        source=reach.source,
        family=family,
        name=f"{reach.mechanism}:{reach.way}",
        mechanism=reach.mechanism,
        clock=reach.clock,
        rate_per_8h=rate.per_8h * reach.rate_factor,
        fraction=rate.fraction,
        targets=reach.targets,
    )
    if reach.mechanism in AREA_MECHANISMS:
        return [base]
    return [
        replace(
            base,
            name=f"{base.name}>{target_names[target.row]}",
            rate_per_8h=base.rate_per_8h * target.share,
            targets=(replace(target, share=1.0),),
        )
        for target in reach.targets
        if target.share > 0
    ]


def registered(streams: Iterable[Stream], register: Register) -> tuple[tuple[Stream, ...], dict[str, tuple[str, ...]]]:
    """Streams with their permanent index, in order of source and index, and the register with new ones added.

    An index once given stays: a stream that has gone leaves a hole. The pieces of a split site share one list.
    """
    names: dict[str, dict[str, int]] = {
        family: {name: index for index, name in enumerate(known)} for family, known in register.items()
    }
    for stream in sorted(streams, key=_order_of_first_naming):
        known = names.setdefault(stream.family, {})
        known.setdefault(stream.name, len(known))
    placed = [replace(stream, index=names[stream.family][stream.name]) for stream in streams]
    grown = {family: tuple(known) for family, known in names.items()}
    return tuple(sorted(placed, key=lambda stream: (stream.source, stream.index))), grown


def _order_of_first_naming(stream: Stream) -> tuple[str, int, str]:
    return stream.family, NUMBERS[stream.mechanism], stream.name
