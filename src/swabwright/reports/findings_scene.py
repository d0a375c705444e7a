"""Findings on the drawing: a mark a site with what came back, and the thousand dots."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from swabwright.case.findings import Findings
from swabwright.plant.document import Plant
from swabwright.reports.marks import Fill, Mark
from swabwright.reports.sampled import Sampled
from swabwright.reports.scene import Scene
from swabwright.reports.spots import Link, Spot
from swabwright.reports.tokens import MARK_SCALE

BACKGROUND_SCALE = 0.72
"""Marks without a number: results that moved little."""
STRENGTH: tuple[Fill, ...] = ("detected", "presumptive", "not-detected", "no-result", "not-yet-known")
WORDS: dict[Fill, str] = {"detected": "detected", "presumptive": "presumptive"}
NOT_READ = "detected, not read here"
WEIGHTS = 8
"""So many results are told with their evidence."""


@dataclass(frozen=True)
class SiteSeen:
    """What came back from one site: the strongest of its results, and all its samples in order."""

    code: str
    samples: tuple[Sampled, ...]
    fill: Fill
    is_read: bool

    @property
    def number(self) -> str:
        """The orders of work of its samples."""
        return ", ".join(sample.order for sample in self.samples)

    @property
    def word(self) -> str:
        """The word beside the mark; a detection that these findings do not read says so."""
        return WORDS.get(self.fill, "") if self.is_read else NOT_READ if self.fill == "detected" else ""


def sites_seen(found: Findings, sampled: Sequence[Sampled]) -> tuple[SiteSeen, ...]:
    """Every sampled site with what these findings read of it; a site that they do not read keeps what came back."""
    outcomes = {used.sample: fill_of(used.outcome) for used in found.results}
    return tuple(_seen(code, samples, outcomes) for code, samples in _by_site(sampled).items())


def seen_at_sites(sampled: Sequence[Sampled]) -> tuple[SiteSeen, ...]:
    """Every sampled site with what came back from it."""
    outcomes = {sample.number: sample.fill for sample in sampled}
    return tuple(_seen(code, samples, outcomes) for code, samples in _by_site(sampled).items())


def _by_site(sampled: Sequence[Sampled]) -> dict[str, list[Sampled]]:
    by_site: dict[str, list[Sampled]] = {}
    for sample in sampled:
        by_site.setdefault(sample.site, []).append(sample)
    return by_site


def _seen(code: str, samples: list[Sampled], outcomes: dict[str, Fill]) -> SiteSeen:
    read = [outcomes[sample.number] for sample in samples if sample.number in outcomes]
    strongest = min(read or [sample.fill for sample in samples], key=STRENGTH.index)
    return SiteSeen(code, tuple(samples), strongest, bool(read))


def fill_of(outcome: str) -> Fill:
    """How a mark is filled for an outcome of the findings."""
    fills: dict[str, Fill] = {"detected": "detected", "presumptive": "presumptive", "not_detected": "not-detected"}
    return fills[outcome]


def findings_scene(found: Findings, plant: Plant, sampled: Sequence[Sampled], links: Sequence[Link] = ()) -> Scene:
    """The dots of the findings and the marks of every sampled site; what matters is larger and numbered."""
    seen = sites_seen(found, sampled)
    told = {weight.sample for weight in found.weights[:WEIGHTS]}
    places = {site.code: site.position for site in plant.sites}
    spots = tuple(_spot(one, places[one.code], told) for one in seen if one.code in places)
    return Scene(plant, spots, found.stipple, tuple(links), alt=_alt(found, plant, seen))


def _spot(seen: SiteSeen, at: tuple[float, float], told: Iterable[str]) -> Spot:
    matters = bool(seen.word) or any(sample.number in told for sample in seen.samples)
    mark = Mark(seen.samples[-1].device, seen.samples[-1].zone, seen.fill)
    scale = MARK_SCALE if matters else BACKGROUND_SCALE
    return Spot(at, mark, seen.number if matters else "", seen.word, scale=scale)


def _alt(found: Findings, plant: Plant, seen: Sequence[SiteSeen]) -> str:
    detected = sum(one.fill == "detected" for one in seen)
    return (
        f"Plan of {plant.name}: {len(seen)} sampled sites, {detected} with a detection, and {len(found.stipple.dots)} "
        "of 1,000 dots where it may live. The tables list the same sites and places."
    )
