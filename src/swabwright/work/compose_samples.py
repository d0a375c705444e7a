"""The samples of a plan: numbers, order, places, hours, and what each asks for, in words."""

from collections.abc import Iterator, Sequence

from swabwright.case.plan import PlannedSample
from swabwright.case.words import out_of_100
from swabwright.detection.choices import area_to_take
from swabwright.planning.clock_words import needs_words
from swabwright.planning.walk import TimedStop
from swabwright.planning.walk_stops import WalkStop
from swabwright.work.opened import OpenVisit

WHY_CONTROL = {
    "blank": "Shows whether handling, gloves or air could have put the organism on a sample.",
    "duplicate": "Shows how well two samples side by side agree.",
}


def planned_samples(opened: OpenVisit, timed: Sequence[TimedStop], numbers: Iterator[str]) -> tuple[PlannedSample, ...]:
    """One planned sample for each container of the walk, in the order of work."""
    musts = {entry.site: entry.why for entry in opened.visit.limits.must}
    return tuple(_sample(opened, one, next(numbers), musts.get(one.stop.code)) for one in timed)


def _sample(opened: OpenVisit, one: TimedStop, number: str, must: str | None) -> PlannedSample:
    stop, site = one.stop, one.stop.at.site
    blank = stop.kind == "blank"
    return PlannedSample(
        sample_number=number,
        order=one.order,
        kind=stop.kind,
        site=None if blank else site.code,
        site_key=None if blank else site.key,
        site_name=None if blank else site.name,
        room=stop.room.id,
        zone=None if blank else site.zone,
        device=stop.device,
        mode=stop.mode,
        area_cm2=None if blank else area_to_take(opened.setting, stop.at, stop.device),
        area_words=area_words(opened, stop),
        minutes=round(stop.minutes, 2),
        arrive_at=one.arrive_at,
        team=1,
        change_first=one.change_first,
        needs=needs_words(stop),
        why=_why(stop, must),
        gain=stop.gain if stop.kind == "surface" else None,
    )


def area_words(opened: OpenVisit, stop: WalkStop) -> str:
    """What to take at a stop: in an investigation the spot that outlives cleaning, else the rulebook's square."""
    if stop.kind == "blank":
        return f"Open it at {stop.at.site.name}, handle it as a sample, touch nothing, close it."
    beside = "Beside the sample before, an equal area: " if stop.kind == "duplicate" else ""
    area = f"{area_to_take(opened.setting, stop.at, stop.device):,.0f} cm2"
    if opened.visit.purpose == "routine":
        return f"{beside}{area}, the rulebook's square."
    spot = stop.at.site.spot or "the joint, seam or crack where it would outlive cleaning"
    inside = ", opened up" if stop.mode == "opened" else ""
    return f"{beside}{spot}{inside}, and its surroundings, {area} in all."


def _why(stop: WalkStop, must: str | None) -> str:
    if stop.kind != "surface":
        return WHY_CONTROL[stop.kind]
    adds = f"Adds {out_of_100(stop.gain)} in 100 to the chance of finding it, given those chosen before it."
    return f"Asked for: {must}. {adds}" if must else adds
