"""The findings document, put together from the results as they were read."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from swabwright import __version__
from swabwright.belief.shares import dots_of
from swabwright.case.canonical import document_hash
from swabwright.case.figures_hash import figures_hash
from swabwright.case.findings import Findings, FindingsHashes, Reading
from swabwright.case.plan import Believed
from swabwright.case.words import counted
from swabwright.inference.quantities import share_of, two_niches
from swabwright.reports.stipple import stipple
from swabwright.spread.setting import MODEL_VERSION
from swabwright.work.findings_assumptions import Influence
from swabwright.work.findings_detections import WAYS_WORDS, detections
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
    one, case, figures = read.one, read.one.opened.case, read.one.opened.figures
    read.say("Reading them again with what could not be measured set otherwise")
    found = detections(read)
    believed = _believed(read)
    parts: dict[str, Any] = _of_record(read, told) | _where(read) | _evidence(read, told)
    findings = Findings(
        format="swabwright/findings",
        version=1,
        investigation=case.investigation.name,
        reference=case.investigation.reference,
        plant=case.plant.name,
        software_version=__version__,
        model_version=str(MODEL_VERSION),
        seed=case.investigation.seed,
        hashes=_hashes(read.one.opened, told.head),
        claim_needs=100.0 * figures.number("inference.claim"),
        prior_set_by=one.prior.set_by,
        prior_words=one.prior.words,
        tested_on=TESTED_ON,
        presence=presence_of(read),
        hardest=found.hardest(),
        ways=tuple(found.ways()),
        ways_words=WAYS_WORDS,
        reading=_reading(read),
        believed=believed,
        stipple=stipple(case.plant, believed, case.investigation.seed),
        sentences=(),
        **parts,
    )
    return findings.model_copy(update={"sentences": summary(findings)})


def _of_record(read: ReadStrain, told: RecordTold) -> dict[str, Any]:
    """What the record says: strain, dates, results, blanks, and what was left out."""
    one, figures = read.one, read.one.opened.figures
    return {
        "strain": told.strain,
        "as_of": told.as_of,
        "visits": tuple(told.visits.values()),
        "first_sample_on": min(told.sampled_on, default=None),
        "last_sample_on": max(told.sampled_on, default=None),
        "results": results_used(one.observations, one.opened.case.plant, told.presumptive),
        "left_out": told.left_out,
        "taken_on_trust": (*told.rests_on, *_read_beside(read)),
        "blanks": blank_counts(one.observations, one.after, told.visits, figures.number("findings.contamination_told")),
        "found": told.found,
    }


def _read_beside(read: ReadStrain) -> Iterator[str]:
    """Earlier results of the investigation, which are read beside those of the record."""
    earlier = len(read.one.reading.results) - len(read.one.observations.results)
    if earlier:
        yield f"{counted(earlier, 'earlier result')} of the investigation read beside them, at the hour of each."


def _where(read: ReadStrain) -> dict[str, Any]:
    """Where it lives, and how far that carries a claim."""
    figures, spots, tell = read.one.opened.figures, read.spots, read.readings.told
    places = place_findings(read)
    machines, rooms = group_findings(read, spots.machines), group_findings(read, spots.rooms)
    support, what = supported(places, machines, rooms, figures.number("inference.claim"))
    return {
        "places": places,
        "machines": machines,
        "rooms": rooms,
        "support": support,
        "supported": what,
        "not_on_the_drawing": tell(share_of(spots.not_drawn)),
        "incoming_material": tell(share_of(spots.incoming)),
        "two_niches": tell(two_niches),
        "credible_set": credible_of(read, figures.number("findings.credible")),
    }


def _evidence(read: ReadStrain, told: RecordTold) -> dict[str, Any]:
    """What moved it, and what would: results, other priors, figures."""
    leading = leading_place(read.after.share, read.spots)
    results = results_used(read.one.observations, read.one.opened.case.plant, told.presumptive)
    influence = Influence(read, leading)
    read.say("Leaving out each result in turn")
    weights = result_weights(read, results, leading)
    read.say("Setting unconfirmed figures to both ends of their ranges")
    return {
        "weights": weights,
        "other_priors": tuple(under_other_priors(read, leading)),
        "assumptions": influence.assumptions(),
        "assumptions_words": influence.words,
    }


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
