"""Which breaks a walk goes by: waiting for a break can cost more than what the break makes reachable."""

from collections.abc import Iterable, Iterator, Mapping

from swabwright.planning.clock_windows import Window, joined_windows

Windows = Mapping[str, tuple[Window, ...]]
"""When each line stands, by line id."""
SHORT_SHARE = 0.5
"""Windows longer than this share of the visit are no breaks: nobody has to hurry for them."""
ALL_WAYS_UP_TO = 3
"""With so many breaks every subset is looked at, with more only the first few, the last few and each alone."""


def ways_through(windows: Windows, visit_minutes: float) -> tuple[Windows, ...]:
    """The windows left when the walk goes by some of the breaks only; all of them first, then ever fewer."""
    longest = SHORT_SHARE * visit_minutes
    breaks = joined_windows(one for of in windows.values() for one in of if one.minutes < longest)
    kept = sorted(_subsets(len(breaks)), key=lambda subset: (-len(subset), sorted(subset)))
    return tuple(_using([breaks[place] for place in subset], windows, longest) for subset in kept)


def _subsets(count: int) -> set[frozenset[int]]:
    if count <= ALL_WAYS_UP_TO:
        return {frozenset(place for place in range(count) if number >> place & 1) for number in range(1 << count)}
    return set(_runs(count))


def _runs(count: int) -> Iterator[frozenset[int]]:
    """The first few, the last few, each alone, all and none."""
    for place in range(count + 1):
        yield frozenset(range(place))
        yield frozenset(range(place, count))
    for place in range(count):
        yield frozenset({place})


def _using(breaks: Iterable[Window], windows: Windows, longest: float) -> Windows:
    used = tuple(breaks)

    def usable(window: Window) -> bool:
        return window.minutes >= longest or any(
            one.opens <= window.opens and window.closes <= one.closes for one in used
        )

    return {line: tuple(window for window in of if usable(window)) for line, of in windows.items()}
