"""Clearance rounds on the drawing: pips at every sampled site, letters where something was done."""

from collections.abc import Sequence
from dataclasses import replace

from swabwright.case.clearance import Clearance
from swabwright.plant.document import Plant
from swabwright.reports.action_letters import action_badges
from swabwright.reports.findings_scene import BACKGROUND_SCALE, STRENGTH
from swabwright.reports.marks import Fill, Mark
from swabwright.reports.pips import pips_svg
from swabwright.reports.sampled import Sampled
from swabwright.reports.scene import Scene
from swabwright.reports.spots import Badge, Spot


def clearance_scene(document: Clearance, plant: Plant, sampled: Sequence[Sampled]) -> Scene:
    """Every site of the rounds and of the next one, with what came back round by round, and every action's letter."""
    sites = _sites(document, sampled)
    drawn = {site.code: site.position for site in plant.sites}
    spots, badges = [], []
    for code, mark in sites.items():
        if code not in drawn:
            continue
        fills = pips_of(document, sampled, code)
        svg, size = pips_svg(fills)
        spots.append(Spot(drawn[code], replace(mark, fill=_last(fills)), scale=BACKGROUND_SCALE))
        badges.append(Badge(drawn[code], svg, size, mark.radius_mm(BACKGROUND_SCALE)))
    letters = action_badges(document.actions, plant)
    return Scene(plant, tuple(spots), badges=(*letters, *badges), alt=_alt(document, plant, len(spots)))


def pips_of(document: Clearance, sampled: Sequence[Sampled], code: str) -> list[Fill | None]:
    """What came back from a site in every round, None where it was not sampled; the next round last."""
    fills = [_of_round(sampled, done.visit, code) for done in document.rounds]
    if document.next_round is not None:
        coming = any(sample.site == code for sample in document.next_round.samples)
        fills.append("not-yet-known" if coming else None)
    return fills


def _last(fills: Sequence[Fill | None]) -> Fill:
    """The last that came back; the mark itself shows it."""
    back: list[Fill] = [fill for fill in fills if fill is not None and fill != "not-yet-known"]
    return back[-1] if back else "not-yet-known"


def _of_round(sampled: Sequence[Sampled], visit: str, code: str) -> Fill | None:
    here = [sample.fill for sample in sampled if sample.visit == visit and sample.site == code]
    return min(here, key=STRENGTH.index, default=None)


def _sites(document: Clearance, sampled: Sequence[Sampled]) -> dict[str, Mark]:
    """Each site with the mark of its last sample."""
    rounds = {done.visit for done in document.rounds}
    marks = {one.site: Mark(one.device, one.zone) for one in sampled if one.visit in rounds}
    coming = document.next_round.samples if document.next_round else ()
    return {sample.site: Mark(sample.device, sample.zone) for sample in coming} | marks


def _alt(document: Clearance, plant: Plant, sites: int) -> str:
    return (
        f"Plan of {plant.name}: {sites} sites with what {len(document.rounds)} rounds found there, and "
        f"{len(document.actions)} actions by letter. The tables list the same."
    )
