"""The next visit after results: what to sample, what each way of choosing gives, as a proposal and as a draft plan."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path

from swabwright import __version__
from swabwright.belief.shares import believed
from swabwright.case.canonical import document_hash
from swabwright.case.figures_hash import figures_hash
from swabwright.case.folder import Case
from swabwright.case.investigation import Visit
from swabwright.case.next_visit import NextSample, NextVisit, NextVisitHashes, SoFar
from swabwright.errors import LimitsClash
from swabwright.planning.walk import WalkPlanner
from swabwright.planning.walk_controls import Shares, shares_of
from swabwright.spread.setting import MODEL_VERSION
from swabwright.work.after_results import simulated_after
from swabwright.work.next_choices import NextChoices, next_choices
from swabwright.work.next_gives import Teller, Told
from swabwright.work.next_materials import material_samples
from swabwright.work.next_plan import draft_after
from swabwright.work.next_results import ResultsSoFar, results_hash, results_so_far, strain_to_read
from swabwright.work.next_said import next_sentences
from swabwright.work.opened import OpenVisit
from swabwright.work.plan_case import PlannedVisit
from swabwright.work.read_case import ReadCase
from swabwright.work.simulated import Simulated

LEADING = 5
"""Likeliest places that are told."""


@dataclass(frozen=True)
class ProposedVisit:
    """What to sample next, and the draft plan that `swabwright accept` takes."""

    document: NextVisit
    planned: PlannedVisit


@dataclass(frozen=True)
class _Found:
    """The results read on the bank that reports, and the belief after them."""

    so_far: ResultsSoFar
    one: ReadCase
    reports: Simulated


def next_visit(
    case: Case,
    visit: Visit,
    *,
    samples: int | None = None,
    strain: str | None = None,
    cache_folder: Path | None,
    say: Callable[[str], None],
) -> ProposedVisit:
    """The samples of a visit that are expected to say most after all results so far, under its limits and walk.

    samples: surface samples, fewer than the limits allow. One bank chooses, another tells what the choice gives.
    Refused where no earlier visit was accepted, limits clash, or nothing explains the results (SwabwrightError).
    """
    say("Reading the record and the clock of all visits")
    so_far = results_so_far(case, visit, strain)
    shares = _shares(so_far.opened, samples)
    planner = WalkPlanner(so_far.opened.space, case.figures, visit, shares)
    chooses, one = so_far.read("A", cache_folder, say), so_far.read("B", cache_folder, say)
    say("Choosing what says most, and three other ways beside it")
    detected = frozenset(found.item.site_key for found in chooses.reading.results if found.detected)
    choices = next_choices(so_far.opened, simulated_after(chooses), detected, planner, shares)
    say("Telling what each way gives")
    found = _Found(so_far, one, simulated_after(one))
    document = _document(found, choices)
    say("Making the draft plan")
    return ProposedVisit(document, draft_after(so_far, choices, (found.reports, shares, document)))


def _shares(opened: OpenVisit, samples: int | None) -> Shares:
    """The containers of the visit, with fewer surface samples where that is asked."""
    shares = shares_of(opened.visit.limits, opened.figures)
    if samples is None:
        return shares
    if not 1 <= samples <= shares.surface:
        raise LimitsClash(
            f"--samples {samples}: visit '{opened.visit.id}' has room for 1 to {shares.surface} chosen surface samples "
            "beside its controls and those kept free; ask for fewer, or raise its limits in investigation.json"
        )
    return replace(shares, surface=samples)


def _document(found: _Found, choices: NextChoices) -> NextVisit:
    opened, one = found.so_far.opened, found.one
    teller = Teller(opened, found.reports)
    told = {
        way: teller.told(way, chosen, choices.informative if way == "information" else ())
        for way, chosen in choices.chosen.items()
    }
    read = found.so_far.results(one.known.bank)
    strain = strain_to_read(read, found.so_far.asked)
    document = NextVisit(
        format="swabwright/next-visit",
        version=1,
        visit=opened.visit.id,
        investigation=opened.case.investigation.name,
        plant=opened.case.plant.name,
        software_version=__version__,
        model_version=str(MODEL_VERSION),
        seed=opened.case.investigation.seed,
        hashes=NextVisitHashes(
            investigation=document_hash(opened.as_read.investigation),
            plant=document_hash(opened.as_read.plant),
            figures=figures_hash(opened.as_read.figures),
            results=results_hash(one.observations, strain),
        ),
        claim=opened.figures.number("inference.claim"),
        radius_m=opened.figures.number("next.radius_m"),
        within_radius=choices.within_radius,
        so_far=_so_far(found, teller, strain, tuple(one for one in read.by_strain if one)),
        samples=tuple(_samples(opened, told["information"], choices)),
        nothing_stands_out=not choices.informative,
        ways=tuple(way.gives for way in told.values()),
        materials=tuple(material_samples(opened, found.reports)),
        lacking=one.lacking,
        left_out=(*read.left_out, *read.missing[strain]),
        sentences=("-",),
    )
    return document.model_copy(update={"sentences": next_sentences(document)})


def _so_far(found: _Found, teller: Teller, strain: str | None, strains: tuple[str, ...]) -> SoFar:
    results = found.one.observations.results
    return SoFar(
        results=len(results),
        detected=sum(one.detected for one in results),
        visits=tuple(visit.id for visit in found.so_far.before),
        strain=strain,
        strains=strains,
        open_bits=teller.open_bits,
        told_apart=teller.labels.count,
        leading=believed(found.reports.belief)[:LEADING],
    )


def _samples(opened: OpenVisit, told: Told, choices: NextChoices) -> list[NextSample]:
    sites = {site.key: site for site in opened.case.plant.sites}
    return [
        NextSample(
            site=item.site_code,
            site_name=sites[item.site_key].name,
            room=sites[item.site_key].room,
            zone=sites[item.site_key].zone,
            device=item.device,
            mode=item.mode,
            chosen_for="what it says" if item.site_code in choices.informative else "finding it",
            bits=told.each[place],
            detected=told.detected[place],
        )
        for place, item in enumerate(told.items)
    ]
