"""What a plan says of itself, in sentences, the most important first."""

from collections.abc import Iterator

from swabwright.case.plan import Plan
from swabwright.case.words import bounded, clock, counted, day, doubt, hours_and_minutes, in_100, out_of_100, with_range

UNDER = "under these assumptions"


def summary(plan: Plan) -> tuple[str, ...]:
    """The sentences of a plan: what it can find, what no plan can beat, what silence would mean, walk, limits."""
    return tuple(_sentences(plan))


def _sentences(plan: Plan) -> Iterator[str]:
    surfaces = sum(sample.kind == "surface" for sample in plan.samples)
    samples = counted(surfaces, "surface sample")
    yield (
        f"If it lives in this plant, these {samples} find it with a chance of "
        f"{with_range(plan.chance_of_finding)}. {_bound(plan, surfaces)}"
    )
    yield _silence(plan, surfaces)
    if doubt(plan.chance_of_finding):
        yield doubt(plan.chance_of_finding)
    yield f"A sample sits on the niche itself and finds it with a chance of {with_range(plan.chance_of_hitting)}."
    yield from _curve(plan, surfaces)
    yield _walk(plan)
    yield _containers(plan, surfaces)
    yield _believed(plan)
    yield "Tested on simulated plants only. This is decision support; site rules and the plant's own staff decide."


def _bound(plan: Plan, surfaces: int) -> str:
    if not bounded(plan.upper_bound):
        return f"How much better another choice of {surfaces} within these limits could be cannot be said."
    best = out_of_100(plan.upper_bound)
    return f"No choice of {surfaces} within these limits does better than {best} in 100, {UNDER}."


def _silence(plan: Plan, surfaces: int) -> str:
    means = plan.not_detected_means
    return (
        f"Not detected in all {surfaces} would not mean that it is not there: the chance that it lives here falls from "
        f"{out_of_100(means.before.value)} to {with_range(means.after)}, {UNDER}."
    )


def _curve(plan: Plan, surfaces: int) -> Iterator[str]:
    """What fewer and more samples would find; nothing where the curve has no other point."""
    fewer = [point for point in plan.curve if point.samples < surfaces]
    more = [point for point in plan.curve if point.samples > surfaces]
    if fewer:
        last = fewer[-1]
        yield f"The first {last.samples} of them alone find it with a chance of {in_100(last.chance.value)}."
    if more:
        after = more[0]
        yield f"With {after.samples} it would be {in_100(after.chance.value)}, if time and laboratory allowed."


def _walk(plan: Plan) -> str:
    walk = plan.walk
    return (
        f"The walk begins on {day(walk.starts_at)} at {clock(walk.starts_at)} and ends at {clock(walk.ends_at)}, "
        f"{hours_and_minutes(walk.minutes)} and {walk.metres:.0f} m, clean before dirty, drains last in each class."
    )


def _containers(plan: Plan, surfaces: int) -> str:
    blanks = sum(sample.kind == "blank" for sample in plan.samples)
    duplicates = sum(sample.kind == "duplicate" for sample in plan.samples)
    return (
        f"{counted(len(plan.samples), 'container')} in all: {surfaces} surfaces, {counted(blanks, 'blank')}, "
        f"{counted(duplicates, 'duplicate')}; {plan.judgement_kept_free} more stay free for what you see on the day."
    )


def _believed(plan: Plan) -> str:
    first, *rest = plan.believed
    following = " and ".join(f"{place.name} ({out_of_100(place.share)})" for place in rest[:2])
    when = "Before any sample" if plan.hashes.results is None else "After the results so far"
    return (
        f"{when} it lives most likely at {first.name}, {in_100(first.share)}, then {following}; "
        f"{plan.stipple.not_drawn} of 1,000 dots are not on the drawing."
    )
