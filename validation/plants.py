"""Invented plants as the model sees them before any sample: the chance of a detection at every site, draw by draw."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import numpy.typing as npt
from benchmarks.world.plants import make_plant

from swabwright.belief.believe import believe
from swabwright.belief.known import Known
from swabwright.belief.outcome import cells_of
from swabwright.belief.rows import HypothesisRows
from swabwright.case.folder import Case
from swabwright.case.investigation import Implicated, Investigation, Limits, Presence, Visit
from swabwright.detection.choices import build_items
from swabwright.detection.factor import SiteResults, site_factor
from swabwright.detection.items import Item
from swabwright.detection.model import DetectionModel, detection_model
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.sites import Mode
from swabwright.spread.build import build_bank
from swabwright.work.opened import OpenVisit, open_visit
from validation.published import Phase, Settings, SiteKinds

Array = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int32]
Purpose = str
VISIT_STARTS, VISIT_ENDS = datetime(2026, 3, 16, 4, tzinfo=UTC), datetime(2026, 3, 16, 16, tzinfo=UTC)
"""From before the lines start to after they stop, so that every phase of the day can be read."""
SUSPECTED = timedelta(days=12)
"""How long the implicated line made suspected product: the days over which the suspicion is counted."""


@dataclass(frozen=True)
class Reading:
    """How a site is sampled: area of a routine square or of an investigation, closed or opened, at which hour."""

    purpose: Purpose = "routine"
    mode: Mode = "as_is"
    phase: Phase = "rulebook_hour"


ROUTINE, BEFORE = Reading(), Reading(phase="before_start")
SOUGHT, OPENED = Reading("investigation"), Reading("investigation", "opened")
READINGS = (ROUTINE, BEFORE, SOUGHT, OPENED)


@dataclass(frozen=True)
class Seen:
    """One invented plant: its sites, and per draw of history and niches the chance that one sample detects it.

    chance: by reading, shape (sites, draws), NaN where a site cannot be sampled so. Draws are equally likely, given
    that it lives here: for routine readings nothing else is known, for those of an investigation a line is implicated.
    niches: (draws, 3) site indices of the latter draws, -1 for none or for a niche that is not on the drawing.
    """

    types: tuple[str, ...]
    groups: tuple[str, ...]
    zones: tuple[int, ...]
    chance: dict[Reading, Array]
    niches: IntArray
    background: float
    """Chance of a detection where it does not live."""

    def of(self, kinds: SiteKinds) -> npt.NDArray[np.bool_]:
        """Which sites are of these kinds, shape (sites,)."""
        facts = zip(self.types, self.groups, self.zones, strict=True)
        named = [kind in kinds.types or group in kinds.groups or zone in kinds.zones for kind, group, zone in facts]
        return np.array(named) | kinds.every


def see_plants(catalogue: Catalogue, settings: Settings) -> tuple[Seen, ...]:
    """Every invented plant of the settings; the same settings give the same plants and draws."""
    return tuple(see_plant(catalogue, settings, settings.seed + number) for number in range(settings.plants))


def see_plant(catalogue: Catalogue, settings: Settings, seed: int) -> Seen:
    """One invented plant, simulated, believed without any fact, and read at every site in every way."""
    opened = _opened(catalogue, settings, seed)
    bank = build_bank(opened.bank_setting, bank="A", histories=settings.histories)
    known = Known(opened.case.investigation, opened.setting, bank)
    belief = believe(known, settings.hypotheses).living
    drawn = {
        purpose: _drawn(rows, settings.draws_a_plant, seed)
        for purpose, rows in (("routine", belief.before), ("investigation", belief.rows))
    }
    model = detection_model(catalogue.figures)
    sites = opened.case.plant.sites
    return Seen(
        types=tuple(site.type for site in sites),
        groups=tuple(catalogue.site_types[site.type].prevalence_group for site in sites),
        zones=tuple(site.zone for site in sites),
        chance={reading: _chances(known, drawn[reading.purpose], reading, model) for reading in READINGS},
        niches=_on_sites(known, drawn["investigation"]),
        background=float(detected(np.zeros((1, 1), np.float32), model)[0, 0]),
    )


def detected(cells: npt.NDArray[np.float32], model: DetectionModel) -> Array:
    """Chance that a single sample is reported detected, in full form, for expected cells of any shape (items, S)."""
    silent, clean_batch = np.zeros(1, np.bool_), np.full(1, model.false_positive)
    return np.stack([1.0 - site_factor(SiteResults(one[None], silent, clean_batch), model) for one in cells])


def _opened(catalogue: Catalogue, settings: Settings, seed: int) -> OpenVisit:
    plant = make_plant(catalogue, seed=seed, sites=settings.sites, lines=settings.lines)
    investigation = _investigation(seed)
    case = Case(Path(), investigation, plant, catalogue, "", None, ())
    return open_visit(case, investigation.visits[0])


def _investigation(seed: int) -> Investigation:
    last = VISIT_STARTS.date() - timedelta(days=1)
    first = last - SUSPECTED + timedelta(days=1)
    limits = Limits(samples=40, starts_at=VISIT_STARTS, ends_at=VISIT_ENDS, people_per_team=2, laboratory_takes=100)
    visit = Visit(
        id="visit-1",
        name="Round",
        lead="invented",
        limits=limits,
        medium="neutralising_buffer",
        hours_to_laboratory=6.0,
        transport_temperature_c=4.0,
    )
    return Investigation(
        format="swabwright/investigation",
        version=1,
        name=f"Invented plant {seed}",
        reference=f"invented-{seed}",
        agency="invented",
        organism="listeria_monocytogenes",
        signal_on=VISIT_STARTS.date(),
        seed=seed,
        implicated=(Implicated(line="line-0", first_day=first, last_day=last, said_by="invented"),),
        presence=Presence(lives_here=0.5, set_by="invented"),
        visits=(visit,),
    )


def _drawn(rows: HypothesisRows, count: int, seed: int) -> HypothesisRows:
    """Equally likely rows in the place of weighted ones."""
    places = np.random.default_rng(seed).choice(len(rows), size=count, p=rows.weight / rows.weight.sum())
    even = np.full(count, 1.0 / count)
    return HypothesisRows(rows.history[places], rows.sources[places], even, rows.copy[places])


def _chances(known: Known, rows: HypothesisRows, reading: Reading, model: DetectionModel) -> Array:
    visit = known.setting.visit.model_copy(update={"purpose": reading.purpose})
    asked = replace(known, setting=replace(known.setting, visit=visit))
    items = _usual_items(build_items(asked.setting, known.bank), reading, asked)
    chances = np.full((len(known.setting.plant.sites), len(rows)), np.nan)
    place_of = {site.key: place for place, site in enumerate(known.setting.plant.sites)}
    found = detected(cells_of(asked, rows, items), model)
    chances[[place_of[item.site_key] for item in items]] = found
    return chances


def _usual_items(items: Iterable[Item], reading: Reading, known: Known) -> tuple[Item, ...]:
    """The first device of each site in a mode, which is the catalogue's best, read in one phase of the day."""
    occasion = next(place for place, one in enumerate(known.bank.occasions) if one.phase == reading.phase)
    first: dict[str, Item] = {}
    for item in items:
        if item.mode == reading.mode:
            first.setdefault(item.site_key, item)
    return tuple(replace(item, occasion=occasion) for item in first.values())


def _on_sites(known: Known, rows: HypothesisRows) -> IntArray:
    places = {site.key: place for place, site in enumerate(known.setting.plant.sites)}
    site_of = np.array([*(places.get(name, -1) for name in known.bank.source_names), -1], np.int32)
    # source -1, no niche, reads the last entry
    return np.asarray(site_of[rows.sources])
