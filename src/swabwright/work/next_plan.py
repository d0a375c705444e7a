"""The draft plan of a visit after results: the plan document with figures that know what was found."""

from swabwright.case.next_visit import NextSample, NextVisit
from swabwright.case.plan import Plan, PlannedSample
from swabwright.planning.walk_controls import Shares
from swabwright.work.compose import compose
from swabwright.work.judged import judge
from swabwright.work.next_choices import NextChoices
from swabwright.work.next_results import ResultsSoFar
from swabwright.work.plan_case import PlannedVisit
from swabwright.work.pocket import pocket_bytes
from swabwright.work.simulated import Simulated
from swabwright.work.summary import summary

MOST_LETTERS = 400


def draft_after(so_far: ResultsSoFar, choices: NextChoices, told: tuple[Simulated, Shares, NextVisit]) -> PlannedVisit:
    """The samples chosen for what they say as a draft plan; its chances are those after the results so far."""
    reports, shares, document = told
    chosen = choices.chosen["information"]
    judged = judge(chosen, reports, round(so_far.opened.figures.number("planning.curve_step")))
    pocket = pocket_bytes(so_far.opened, chosen, choices.items)
    plan = compose(so_far.opened, chosen, judged, reports, shares, pocket)
    return PlannedVisit(_after(plan, document), pocket)


def _after(plan: Plan, document: NextVisit) -> Plan:
    """The plan with the results it goes by, and with why each sample was chosen."""
    why = {one.site: one for one in document.samples if one.chosen_for == "what it says"}
    changed = plan.model_copy(
        update={
            "hashes": plan.hashes.model_copy(update={"results": document.hashes.results}),
            "samples": tuple(_told(sample, why) for sample in plan.samples),
        }
    )
    return changed.model_copy(update={"sentences": summary(changed)})


def _told(sample: PlannedSample, why: dict[str, NextSample]) -> PlannedSample:
    one = why.get(sample.site or "") if sample.kind == "surface" else None
    if one is None:
        return sample
    says = f"Expected to say {one.bits.value:.2f} bits about where it lives, given those chosen before it. "
    return sample.model_copy(update={"why": (says + sample.why)[:MOST_LETTERS]})
