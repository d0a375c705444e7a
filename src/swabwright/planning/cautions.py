"""Every caution of a plan: what its sites ask for, product at stake, and what the clock and the data say."""

from collections.abc import Iterator
from typing import Any

from swabwright.case.plan import PlanWarning
from swabwright.planning.cautions_hold import hold_warnings
from swabwright.planning.cautions_medium import medium_warnings
from swabwright.planning.cautions_scene import Scene, codes, meets, rooms_of
from swabwright.planning.cautions_timing import timing_warnings
from swabwright.planning.clock_windows import line_of
from swabwright.planning.walk_stops import WalkStop
from swabwright.plant.registry import data_files


def cautions_of(scene: Scene) -> tuple[PlanWarning, ...]:
    """The cautions of a timed walk: product at stake first, then safety, hours and data.

    They defer to the site's rules and give no permission; the texts and their sources stand in cautions.toml.
    """
    return (*hold_warnings(scene), *_from_hazards(scene), *timing_warnings(scene), *medium_warnings(scene))


def _from_hazards(scene: Scene) -> Iterator[PlanWarning]:
    for entry in data_files()["cautions.toml"]["cautions"]:
        stops = meets(entry["hazard"], scene)
        if stops:
            about = () if entry.get("about_all") else codes(stops)
            yield PlanWarning(kind=entry["kind"], text=_filled(entry, stops, scene), sites=about)


def _filled(entry: dict[str, Any], stops: tuple[WalkStop, ...], scene: Scene) -> str:
    figures = {name: scene.figures.number(figure) for name, figure in entry.get("figures", {}).items()}
    text: str = entry["text"]
    return text.format(rooms=rooms_of(stops), lines=_lines(stops, scene), **figures)


def _lines(stops: tuple[WalkStop, ...], scene: Scene) -> str:
    lines = [line_of(stop, scene.plant) for stop in stops]
    return ", ".join(dict.fromkeys(line.name if line else "machines without a line" for line in lines))
