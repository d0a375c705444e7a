"""The findings document, put together from the results as they were read."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from swabwright import __version__
from swabwright.belief.shares import dots_of
from swabwright.case.canonical import document_hash
from swabwright.case.figures_hash import figures_hash
from swabwright.case.findings import Findings, FindingsHashes, Reading
from swabwright.case.plan import Believed
from swabwright.inference.quantities import share_of, two_niches
from swabwright.reports.stipple import stipple
from swabwright.spread.setting import MODEL_VERSION
from swabwright.work.findings_assumptions import assumptions
from swabwright.work.findings_hardest import hardest
from swabwright.work.findings_presence import presence_of
from swabwright.work.findings_read import ReadStrain
from swabwright.work.findings_results import blank_counts, results_used
from swabwright.work.findings_weights import leading_place, result_weights, under_other_priors
from swabwright.work.findings_where import credible_of, group_findings, place_findings, supported
from swabwright.work.findings_words import summary
from swabwright.work.opened import OpenVisit

TESTED_ON = "tested on simulated plants only"


@dataclass(frozen=True)
class RecordTold:
    """What the record says beside the results: which strain, up to which entry, what was not read."""

    strain: str | None
    head: str
    as_of: datetime
    sampled_on: tuple[date, ...]
    visits: Mapping[str, str]
    """Names of the visits by their ids, which are those of the batches."""
    found: str
    presumptive: frozenset[str] = frozenset()
    left_out: tuple[str, ...] = ()
    rests_on: tuple[str, ...] = ()


def compose_findings(read: ReadStrain, told: RecordTold) -> Findings:
    """The findings of one strain, with their summary in sentences.

    NothingFits where no niche accounts for any detection: it names those that are hardest to explain.
    """
    one, opened, figures = read.one, read.one.opened, read.one.opened.figures
    hard = hardest(read)
    leading = leading_place(one.after.share, read.spots)
    results = results_used(one.observations, opened.case.plant, told.presumptive)
    places, machines, rooms = (
        place_findings(read),
        group_findings(read, read.spots.machines),
        group_findings(read, read.spots.rooms),
    )
    support, what = supported(places, machines, rooms, figures.number("inference.claim"))
    believed = _believed(read)
    findings = Findings(
        format="swabwright/findings",
        version=1,
        investigation=opened.case.investigation.name,
        reference=opened.case.investigation.reference,
        plant=opened.case.plant.name,
        strain=told.strain,
        as_of=told.as_of,
        visits=tuple(told.visits.values()),
        first_sample_on=min(told.sampled_on, default=None),
        last_sample_on=max(told.sampled_on, default=None),
        software_version=__version__,
        model_version=str(MODEL_VERSION),
        seed=opened.case.investigation.seed,
        hashes=_hashes(opened, told.head),
        results=results,
        left_out=told.left_out,
        taken_on_trust=told.rests_on,
        blanks=blank_counts(one.observations, one.after, told.visits, figures.number("findings.contamination_told")),
        found=told.found,
        support=support,
        supported=what,
        claim_needs=100.0 * figures.number("inference.claim"),
        prior_set_by=one.prior.set_by,
        prior_words=one.prior.words,
        tested_on=TESTED_ON,
        places=places,
        machines=machines,
        rooms=rooms,
        not_on_the_drawing=read.readings.told(share_of(read.spots.not_drawn)),
        incoming_material=read.readings.told(share_of(read.spots.incoming)),
        two_niches=read.readings.told(two_niches),
        credible_set=credible_of(read, figures.number("findings.credible")),
        presence=presence_of(read),
        weights=result_weights(read, results, leading),
        other_priors=tuple(under_other_priors(read, leading)),
        assumptions=assumptions(read, leading),
        hardest=hard,
        reading=_reading(read),
        believed=believed,
        stipple=stipple(opened.case.plant, believed, opened.case.investigation.seed),
        sentences=(),
    )
    return findings.model_copy(update={"sentences": summary(findings)})


def _hashes(opened: OpenVisit, head: str) -> FindingsHashes:
    case = opened.as_read
    return FindingsHashes(
        investigation=document_hash(case.investigation),
        plant=document_hash(case.plant),
        rulebook=case.rulebook_hash,
        overrides=case.overrides_hash,
        figures=figures_hash(case.figures),
        record_head=head,
    )


def _believed(read: ReadStrain) -> tuple[Believed, ...]:
    """Every place with its share and its dots, the likeliest first."""
    share, names = read.after.share, read.one.known.bank.source_names
    dots = dots_of(share, names)
    order = sorted(range(len(names)), key=lambda at: (-share[at], names[at]))
    spots = read.spots.every
    return tuple(
        Believed(place=spots[at].code, name=spots[at].name, share=min(1.0, float(share[at])), dots=int(dots[at]))
        for at in order
    )


def _reading(read: ReadStrain) -> Reading:
    after, bank = read.after, read.one.known.bank
    return Reading(
        bank=bank.bank,
        histories=bank.histories,
        effective_histories=round(after.effective_histories, 1),
        leading_share_error_points=round(100.0 * after.leading_share_error, 2),
        lacking=read.one.lacking,
    )
