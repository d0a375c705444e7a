"""What the hours say: age at the laboratory, lines that stand or have just started, disinfectant still about."""

from collections import defaultdict
from collections.abc import Iterator

from swabwright.case.plan import PlanWarning
from swabwright.detection.recovery import cleanings_of
from swabwright.planning.cautions_facts import fact_warning
from swabwright.planning.cautions_scene import NO_RESIDUE, Scene
from swabwright.planning.cautions_times import last_before, local
from swabwright.planning.clock_windows import line_of
from swabwright.planning.walk import TimedStop
from swabwright.plant.lines import Cleaning, Line
from swabwright.spread.hours import Span


def timing_warnings(scene: Scene) -> Iterator[PlanWarning]:
    """Every caution that follows from when sites are reached and when analysis starts."""
    yield from _laboratory(scene)
    yield from _transport(scene)
    yield from _lines(scene)
    yield from _cleanings(scene)


def _laboratory(scene: Scene) -> Iterator[PlanWarning]:
    last = scene.timed[-1]
    # The first sample waits for the last one before it travels.
    walked = (last.arrive_at - scene.timed[0].arrive_at).total_seconds() / 3600 + last.stop.minutes / 60
    hours = walked + scene.visit.hours_to_laboratory
    target = scene.figures.number("rule.hours_to_analysis_target")
    limit = scene.figures.number("rule.hours_to_analysis_limit")
    if hours > limit:
        yield fact_warning("laboratory_late", hours=hours, limit=limit)
    elif hours > target:
        yield fact_warning("laboratory_slow", hours=hours, target=target, limit=limit)


def _transport(scene: Scene) -> Iterator[PlanWarning]:
    low = scene.figures.number("rule.transport_temperature_low_c")
    high = scene.figures.number("rule.transport_temperature_high_c")
    temperature = scene.visit.transport_temperature_c
    if not low <= temperature <= high:
        yield fact_warning("transport_temperature", temperature=temperature, low=low, high=high)


def _lines(scene: Scene) -> Iterator[PlanWarning]:
    """Sites of a line that stands, or started too lately, when they are reached; stops that were asked for apart."""
    at: dict[str, list[tuple[TimedStop, Line]]] = defaultdict(list)
    for one in scene.timed:
        line = line_of(one.stop, scene.plant)
        # A site that asks for its line to stand is not told that the line stands.
        if line is not None and one.stop.kind != "blank" and not one.stop.halt.needs_line_stop:
            at[line.id].append((one, line))
    for reached in at.values():
        line = reached[0][1]
        yield from _line(line, [one for one, _ in reached], scene)


def _line(line: Line, reached: list[TimedStop], scene: Scene) -> Iterator[PlanWarning]:
    wanted = scene.figures.number("rule.hours_after_line_start")
    runs = {one.order: last_before(line.runs, scene.plant, one.arrive_at) for one in reached}
    standing = [one for one in reached if not _lasts(runs[one.order], one)]
    early = [one for one in reached if _lasts(runs[one.order], one) and _hours_since(runs[one.order], one) < wanted]
    if standing:
        yield fact_warning("line_not_running", _codes(standing), line=line.name, time=_clock(standing[0], scene))
    if early:
        hours = _hours_since(runs[early[0].order], early[0])
        facts = {"line": line.name, "time": _clock(early[0], scene), "hours": hours, "wanted": wanted}
        yield fact_warning("line_too_early", _codes(early), **facts)


def _cleanings(scene: Scene) -> Iterator[PlanWarning]:
    wanted = scene.figures.number("rule.hours_after_disinfectant")
    for cleaning in scene.plant.cleanings:
        reached = _cleaned(cleaning, scene)
        last = {one.order: last_before(cleaning.when, scene.plant, one.arrive_at) for one in reached}
        during = [one for one in reached if _lasts(last[one.order], one)]
        soon = [one for one in reached if one not in during and 0 <= _hours_after(last[one.order], one) < wanted]
        if during:
            yield fact_warning("being_cleaned", _codes(during), cleaning=cleaning.name, time=_clock(during[0], scene))
        if soon and cleaning.chemistry not in NO_RESIDUE:
            hours = _hours_after(last[soon[0].order], soon[0])
            yield fact_warning("disinfectant", _codes(soon), cleaning=cleaning.name, hours=hours, wanted=wanted)


def _cleaned(cleaning: Cleaning, scene: Scene) -> list[TimedStop]:
    return [
        one
        for one in scene.timed
        if one.stop.kind != "blank" and cleaning in cleanings_of(one.stop.at.site, scene.plant)
    ]


def _lasts(span: Span | None, one: TimedStop) -> bool:
    return span is not None and one.arrive_at < span[1]


def _hours_since(span: Span | None, one: TimedStop) -> float:
    return (one.arrive_at - span[0]).total_seconds() / 3600 if span else 0.0


def _hours_after(span: Span | None, one: TimedStop) -> float:
    return (one.arrive_at - span[1]).total_seconds() / 3600 if span else -1.0


def _codes(reached: list[TimedStop]) -> list[str]:
    return [one.stop.code for one in reached]


def _clock(one: TimedStop, scene: Scene) -> str:
    return f"{local(one.arrive_at, scene.plant):%H:%M}"
