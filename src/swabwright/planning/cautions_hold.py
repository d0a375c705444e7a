"""Product at stake: asked, answered and written down before the first food-contact sample."""

from collections.abc import Iterator
from datetime import date, datetime

from swabwright.case.plan import PlanWarning
from swabwright.planning.cautions_facts import fact_warning
from swabwright.planning.cautions_scene import Scene
from swabwright.planning.cautions_times import last_full_clean, local
from swabwright.planning.clock_windows import line_of
from swabwright.plant.document import Plant
from swabwright.plant.lines import Line

FOOD_CONTACT_ZONE = 1


def hold_warnings(scene: Scene) -> Iterator[PlanWarning]:
    """One caution naming lines and lots, when any site of zone 1 is sampled."""
    contact = [one for one in scene.timed if one.stop.kind != "blank" and one.stop.at.site.zone == FOOD_CONTACT_ZONE]
    if not contact:
        return
    first = contact[0]
    lines = {line.id: line for one in contact if (line := line_of(one.stop, scene.plant)) is not None}
    said = [_at_stake(line, scene.plant, first.arrive_at) for line in lines.values()]
    yield fact_warning(
        "hold",
        [one.stop.code for one in contact],
        site=first.stop.code,
        time=f"{local(first.arrive_at, scene.plant):%H:%M}",
        at_stake="; ".join(said) or "ask the plant, these sites belong to no line of the plant document",
    )


def _at_stake(line: Line, plant: Plant, moment: datetime) -> str:
    since = last_full_clean(line, plant, moment)
    # What outlived a full clean reaches back further; this is the least.
    lots = [lot.code for lot in line.lots if since is None or lot.made_on >= since]
    named = f"lots {', '.join(lots)}" if lots else "no lot of these days is listed, ask for them"
    return f"{line.name} ({line.product}), {named}{_since(since)}"


def _since(day: date | None) -> str:
    return f", since {day.day} {day:%B}" if day else ""
