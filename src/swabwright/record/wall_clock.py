"""A logger's wall clock as moments: a repeated hour by the order of the rows or refused, a missing hour refused."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, tzinfo
from itertools import pairwise

from swabwright.errors import Fault


@dataclass(frozen=True)
class Clocked:
    """Seconds since 1970 UTC by reading, what was decided on the way, and what could not be."""

    seconds: tuple[int, ...] = ()
    said: tuple[str, ...] = ()
    faults: tuple[Fault, ...] = ()


def on_the_clock(local: Sequence[tuple[int, datetime]], zone: tzinfo) -> Clocked:
    """Pairs of row number and wall-clock time of a zone as moments, in the order of the rows."""
    missing = [Fault(f"row {row}", _missing(at, zone)) for row, at in local if not _exists(at, zone)]
    if missing:
        return Clocked(faults=tuple(missing[:1]))
    twice = [_comes_twice(at, zone) for _, at in local]
    if not any(twice):
        return Clocked(tuple(_moment(at, zone, 0) for _, at in local))
    back = next((place for place in range(1, len(local)) if twice[place] and _steps_back(local, place)), None)
    first, last = twice.index(True), len(twice) - 1 - twice[::-1].index(True)
    if back is None and (first == 0 or last < len(local) - 1):
        return Clocked(faults=(Fault(f"row {local[first][0]}", _undecided(local[first][1], zone)),))
    seconds = tuple(_moment(at, zone, int(back is not None and place >= back)) for place, (_, at) in enumerate(local))
    again = f"the second time from row {local[back][0]} on" if back is not None else "the first time"
    said = f"the hour of {local[first][1]:%Y-%m-%d %H:%M} came twice in {zone}; by the order of the rows it is {again}"
    return Clocked(seconds, (said,))


def _steps_back(local: Sequence[tuple[int, datetime]], place: int) -> bool:
    """Whether the clock was set back before this reading; the same time again is that of an hourly logger only."""
    step = local[place][1] - local[place - 1][1]
    if step:
        return step < timedelta()
    others = [later[1] - earlier[1] for earlier, later in pairwise(local) if later[1] != earlier[1]]
    return bool(others) and min(others) >= timedelta(hours=1)


def order_faults(rows: Sequence[int], seconds: Sequence[int]) -> list[Fault]:
    """Every reading that is not later than the one before it."""
    return [
        Fault(
            f"row {row}",
            ("repeats the time of" if later == earlier else "is earlier than")
            + f" row {before}; leave one of them out with --leave-out {row}, or export the file anew",
        )
        for (before, row), (earlier, later) in zip(pairwise(rows), pairwise(seconds), strict=True)
        if later <= earlier
    ]


def _moment(at: datetime, zone: tzinfo, fold: int) -> int:
    return round(at.replace(tzinfo=zone, fold=fold).timestamp())


def _exists(at: datetime, zone: tzinfo) -> bool:
    return at.replace(tzinfo=zone).astimezone(UTC).astimezone(zone).replace(tzinfo=None) == at


def _comes_twice(at: datetime, zone: tzinfo) -> bool:
    return _exists(at, zone) and _moment(at, zone, 0) != _moment(at, zone, 1)


def _missing(at: datetime, zone: tzinfo) -> str:
    return (
        f"{at:%Y-%m-%d %H:%M} did not exist in {zone}, the clocks went forward; if the logger's clock was not set "
        "forward, give its own offset with --time-zone, such as +01:00"
    )


def _undecided(at: datetime, zone: tzinfo) -> str:
    return (
        f"{at:%Y-%m-%d %H:%M} came twice in {zone}, the clocks went back, and the rows do not tell which is meant; "
        "give the logger's own offset with --time-zone, such as +01:00"
    )
