"""The plan document, put together from what was chosen and judged."""

from collections.abc import Iterator
from itertools import islice
from math import ceil

from swabwright import __version__
from swabwright.belief.shares import believed
from swabwright.case.canonical import bytes_hash, document_hash
from swabwright.case.figures_hash import figures_hash
from swabwright.case.numbers import sample_numbers
from swabwright.case.plan import Hashes, Plan
from swabwright.planning.cautions import cautions_of
from swabwright.planning.cautions_scene import Scene
from swabwright.planning.kit import kit_of
from swabwright.planning.walk_controls import Shares
from swabwright.reports.stipple import stipple
from swabwright.spread.setting import MODEL_VERSION
from swabwright.work.chosen import Chosen
from swabwright.work.compose_samples import planned_samples
from swabwright.work.judged import Judged
from swabwright.work.opened import OpenVisit
from swabwright.work.rests_on import rests_on
from swabwright.work.simulated import Simulated
from swabwright.work.summary import summary


def compose(
    opened: OpenVisit, chosen: Chosen, judged: Judged, reports: Simulated, shares: Shares, pocket: bytes
) -> Plan:
    """The draft plan of a visit, with its summary in sentences."""
    case = opened.case
    numbers = sample_numbers(case.investigation.reference, opened.visit.id, case.investigation.seed, case.numbers_taken)
    samples = planned_samples(opened, chosen.timed, numbers)
    spare = _spare_numbers(opened, len(samples) + shares.judgement, shares, numbers)
    where = believed(reports.belief)
    scene = Scene(chosen.timed, case.plant, case.catalogue, opened.visit)
    plan = Plan(
        format="swabwright/plan",
        version=1,
        visit=opened.visit.id,
        investigation=case.investigation.name,
        plant=case.plant.name,
        visit_date=opened.visit.limits.starts_at.date(),
        software_version=__version__,
        model_version=str(MODEL_VERSION),
        seed=case.investigation.seed,
        hashes=_hashes(opened, pocket),
        chance_of_finding=judged.finding,
        chance_of_hitting=judged.hitting,
        upper_bound=judged.certificate.upper_bound,
        gap=judged.certificate.gap,
        gap_without_minutes=judged.certificate.gap_without_minutes,
        not_detected_means=judged.silence,
        curve=judged.curve,
        samples=samples,
        judgement_kept_free=shares.judgement,
        spare_numbers=spare,
        walk=chosen.walk,
        kit=kit_of(scene, shares.judgement),
        warnings=cautions_of(scene),
        believed=where,
        stipple=stipple(case.plant, where, case.investigation.seed),
        rests_on=rests_on(opened, reports.living, chosen.items),
        sentences=("-",),
    )
    return plan.model_copy(update={"sentences": summary(plan)})


def _hashes(opened: OpenVisit, pocket: bytes) -> Hashes:
    case = opened.as_read
    return Hashes(
        investigation=document_hash(case.investigation),
        plant=document_hash(case.plant),
        rulebook=case.rulebook_hash,
        overrides=case.overrides_hash,
        figures=figures_hash(case.figures),
        pocket_table=bytes_hash(pocket),
    )


def _spare_numbers(opened: OpenVisit, used: int, shares: Shares, numbers: Iterator[str]) -> tuple[str, ...]:
    """Numbers for the judgement share and the rulebook's spares; their labels come at the end."""
    spare = ceil(used * opened.figures.number("rule.spare_share"))
    return tuple(islice(numbers, shares.judgement + spare))
