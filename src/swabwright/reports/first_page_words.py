"""The sentences of the first page, and its pictures said in words."""

from collections.abc import Sequence
from typing import Any

from swabwright.case.investigation import Visit
from swabwright.case.plan import Plan
from swabwright.case.words import bounded, clock, counted, doubt, out_of_100
from swabwright.reports.closing_words import not_said
from swabwright.reports.dots_words import dots_said
from swabwright.reports.wording import duration, listed


def first_page(plan: Plan, visit: Visit) -> dict[str, Any]:
    """The sentences and text alternatives of the first page."""
    return {
        "limits": limits_words(plan, visit),
        "finding": finding(plan),
        "not_detected": not_detected(plan),
        "dots_in_words": dots_in_words(plan),
        "not_said_first": " ".join(not_said(plan)[:2]) + " The rest stands before the figures it rests on.",
        "clock_alt": f"The walk against the clock, {clock(plan.walk.starts_at)} to {clock(plan.walk.ends_at)}.",
        "curve_alt": curve_alt(plan),
        "tens_alt": tens_alt(plan),
        "boxes_alt": f"Boxes of 5, 50 and 200 dots; {plan.stipple.not_drawn} of 1,000 dots are not on the drawing.",
    }


def surfaces(plan: Plan) -> int:
    """How many samples the chance counts."""
    return sum(sample.kind == "surface" for sample in plan.samples)


def limits_words(plan: Plan, visit: Visit) -> str:
    """What bounds the visit, in a sentence or two."""
    controls = len(plan.samples) - surfaces(plan)
    people = counted(visit.limits.people_per_team, "person").replace("persons", "people")
    return (
        f"{counted(len(plan.samples), 'container')} with {people} between {clock(visit.limits.starts_at)} and "
        f"{clock(visit.limits.ends_at)}; the laboratory can take {visit.limits.laboratory_takes}. "
        f"{controls} of the {len(plan.samples)} are controls; {plan.judgement_kept_free} more are kept for what is "
        f"seen on the day. The walk is {plan.walk.metres:.0f} metres and takes {duration(plan.walk.minutes)}."
    )


def _bound(bound: float, number: int) -> Sequence[tuple[str, bool]]:
    """That no choice does better, or that nothing can be said of it."""
    if not bounded(bound):
        return ((f"How much better another choice of {counted(number, 'site')} could be cannot be said.", False),)
    said = f"Under these assumptions no choice of {counted(number, 'site')} does better than "
    return ((said, False), (out_of_100(bound), True), (".", False))


def finding(plan: Plan) -> list[dict[str, Any]]:
    """The finding: the chance with its range, and that under these assumptions no choice does better."""
    chance, number = plan.chance_of_finding, surfaces(plan)
    # a plan of one sample is still a plan, and still says a sentence
    these = f"these {number} samples find it" if number > 1 else "this one sample finds it"
    return _parts(
        (f"If it lives in this plant, {these} with a chance of ", False),
        (f"{out_of_100(chance.value)} in 100", True),
        (f" ({out_of_100(chance.low)} to {out_of_100(chance.high)}). ", False), *_bound(plan.upper_bound, number),
        (f" {doubt(chance)}" if doubt(chance) else "", False),
    )  # fmt: skip


def not_detected(plan: Plan) -> list[dict[str, Any]]:
    """What 'not detected' in every sample would and would not mean."""
    before, after = plan.not_detected_means.before, plan.not_detected_means.after
    every = f"all {surfaces(plan)}" if surfaces(plan) > 1 else "the one sample"
    return _parts(
        (f"Not detected in {every} would not mean that it is not there: the chance that it lives here "
         f"falls from {out_of_100(before.value)} to ", False),
        (f"{out_of_100(after.value)} in 100", True),
        (f" ({out_of_100(after.low)} to {out_of_100(after.high)}), under these assumptions.", False),
    )  # fmt: skip


def _parts(*parts: tuple[str, bool]) -> list[dict[str, Any]]:
    return [{"text": text, "bold": bold} for text, bold in parts]


def dots_in_words(plan: Plan) -> str:
    """The stipple said in words: the places with most dots, the rest, and what is not drawn."""
    return f"Where it may live, before any sample: {dots_said(plan.believed, plan.stipple)}"


def curve_alt(plan: Plan) -> str:
    """The curve in words."""
    steps = [
        f"{point.samples} samples {out_of_100(point.chance.value)} in 100" for point in plan.curve if point.samples
    ]
    return f"Chance of finding it with the first so many samples: {listed(steps)}."


def tens_alt(plan: Plan) -> str:
    """The two ten by tens in words."""
    before, after = plan.not_detected_means.before.value, plan.not_detected_means.after.value
    return f"Two squares of a hundred: {out_of_100(before)} filled before, {out_of_100(after)} after."
