"""Blanks and duplicates inside the series, and the share kept free for what is seen on the day."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil

from swabwright.case.investigation import Limits
from swabwright.errors import LimitsClash
from swabwright.planning.walk_stops import WalkStop, control_at
from swabwright.plant.figures import Figures


@dataclass(frozen=True)
class Shares:
    """How the containers of a visit are shared out."""

    surface: int
    """Chosen by their gain."""
    blanks: int
    duplicates: int
    judgement: int
    """Kept free for what is seen on the day."""


NO_CONTROLS = Shares(surface=0, blanks=0, duplicates=0, judgement=0)


def shares_of(limits: Limits, figures: Figures) -> Shares:
    """The containers of a visit by use: what the lead has set, else the rulebook; none left to choose is refused."""
    total = min(limits.samples, limits.laboratory_takes)
    share = figures.number("rule.judgement_share") if limits.judgement_share is None else limits.judgement_share
    blanks = ceil(total / figures.number("rule.samples_per_blank")) if limits.blanks is None else limits.blanks
    duplicates = (
        ceil(total * figures.number("rule.duplicate_share")) if limits.duplicates is None else limits.duplicates
    )
    judgement = round(total * share)
    surface = total - blanks - duplicates - judgement
    if surface < 1:
        raise LimitsClash(
            f"of {total} containers, {blanks} blanks, {duplicates} duplicates and {judgement} kept free for judgement "
            "leave none to choose; allow more samples or fewer controls"
        )
    return Shares(surface, blanks, duplicates, judgement)


def with_controls(ordered: Sequence[WalkStop], shares: Shares, minutes_of: Callable[[str], float]) -> list[WalkStop]:
    """The stops in order with blanks and duplicates among them; `minutes_of` gives minutes by device code.

    The first blank is opened at the first site of the day, the last at the last, others in between; a duplicate
    follows the sample that it repeats.
    """
    blanks = _blank_places(len(ordered), shares.blanks)
    doubled = set(_duplicate_places(ordered, shares.duplicates))
    series: list[WalkStop] = []
    for place, stop in enumerate(ordered):
        minutes = minutes_of(stop.device)
        opened = [control_at(stop, "blank", minutes)] * blanks.count(place)
        after = place == len(ordered) - 1 and place > 0
        series.extend([] if after else opened)
        series.append(stop)
        series.extend([control_at(stop, "duplicate", minutes)] if place in doubled else [])
        series.extend(opened if after else [])
    return series


def _blank_places(sites: int, blanks: int) -> list[int]:
    if blanks == 1:
        return [0]
    return [round(n * (sites - 1) / (blanks - 1)) for n in range(blanks)]


def _duplicate_places(ordered: Sequence[WalkStop], duplicates: int) -> list[int]:
    """Where a second sample says most: easy sites first, with room beside the first sample, the highest gain first."""
    places = range(len(ordered))
    # The lead sees best whether two samples agree where something is likely to be found.
    return sorted(places, key=lambda n: (not _easy(ordered[n]), -ordered[n].gain, n))[:duplicates]


def _easy(stop: WalkStop) -> bool:
    halt = stop.halt
    stands_by_itself = stop.mode == "as_is" and not (halt.needs_line_stop or halt.needs_isolation)
    return stands_by_itself and stop.at.area_cm2 >= 2 * stop.at.sample_area_cm2
