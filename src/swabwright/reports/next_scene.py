"""A proposal on the drawing: boxed numbers where to sample next, what came back so far behind them."""

from collections.abc import Sequence

from swabwright.case.next_visit import NextVisit
from swabwright.plant.document import Plant
from swabwright.reports.findings_scene import BACKGROUND_SCALE, WORDS, SiteSeen, seen_at_sites
from swabwright.reports.marks import Mark
from swabwright.reports.sampled import Sampled
from swabwright.reports.scene import Scene
from swabwright.reports.spots import Spot
from swabwright.reports.tokens import MARK_SCALE


def next_scene(document: NextVisit, plant: Plant, sampled: Sequence[Sampled], first: int) -> Scene:
    """The proposed samples, numbered on from `first`, and the marks of every site sampled before."""
    drawn = {site.code: site.position for site in plant.sites}
    before = [_spot(one, drawn[one.code]) for one in seen_at_sites(sampled) if one.code in drawn]
    proposed = [
        Spot(drawn[sample.site], Mark(sample.device, sample.zone), str(first + at), boxed=True)
        for at, sample in enumerate(document.samples)
        if sample.site in drawn
    ]
    return Scene(plant, (*before, *proposed), alt=_alt(document, plant, len(before)))


def _spot(seen: SiteSeen, at: tuple[float, float]) -> Spot:
    mark = Mark(seen.samples[-1].device, seen.samples[-1].zone, seen.fill)
    word = WORDS.get(seen.fill, "")
    return Spot(at, mark, seen.number if word else "", word, scale=MARK_SCALE if word else BACKGROUND_SCALE)


def _alt(document: NextVisit, plant: Plant, before: int) -> str:
    return (
        f"Plan of {plant.name}: {len(document.samples)} proposed samples in boxed numbers, and {before} sites sampled "
        "before with what came back. The table lists the same samples."
    )
