"""Earlier samples as results at their own moment, with everything that is uncertain about such a sample."""

from collections import defaultdict
from dataclasses import dataclass, replace

import numpy as np

from swabwright.belief.known import Fact, Known, remembering
from swabwright.belief.rows import HypothesisRows
from swabwright.case.investigation import EarlierResult
from swabwright.detection.cells import expected_cells
from swabwright.detection.choices import make_item
from swabwright.detection.draws import item_draws
from swabwright.detection.factor import SiteResults, site_factor
from swabwright.detection.items import Item
from swabwright.detection.model import detection_model
from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.effective import effective_site


@dataclass(frozen=True)
class EarlierSample:
    """An earlier result with the item it was."""

    result: EarlierResult
    item: Item


def earlier_samples(known: Known) -> tuple[EarlierSample, ...]:
    """Every earlier result as an item of the bank, at the occasion when it was taken.

    Area, medium and transport are taken as on this visit, because an earlier result does not say them.
    """
    return tuple(_sample(known, place, result) for place, result in enumerate(known.investigation.earlier_results))


def _sample(known: Known, place: int, result: EarlierResult) -> EarlierSample:
    path = f"earlier_results[{place}]"
    site = known.site_called(result.site, f"{path}.site")
    devices = known.setting.catalogue.devices
    if result.device not in devices:
        hint = did_you_mean(result.device, list(devices))
        raise SwabwrightError(f"investigation.json: {path}.device: no device '{result.device}'{hint}")
    # old results are read at their own moment, when a younger niche may not have been there yet
    moments = [occasion.at for occasion in known.bank.occasions]
    if result.taken_at not in moments:
        raise ValueError(f"the bank was not read at {result.taken_at.isoformat()}, when {result.site} was sampled")
    effective = effective_site(site, known.setting.catalogue)
    item = make_item(known.setting, effective, (result.mode, result.device), moments.index(result.taken_at))
    return EarlierSample(result, replace(item, row=known.bank.row_names.index(site.key)))


def earlier_results(known: Known, rows: HypothesisRows) -> dict[str, SiteResults]:
    """The results of each site before this visit in each row, by the key whose discrepancy they share.

    Those of the investigation and those found since; a count is read as 'detected' here.
    """
    return remembering(known, "earlier results", rows, None, lambda: _results(known, rows))


def _results(known: Known, rows: HypothesisRows) -> dict[str, SiteResults]:
    samples = earlier_samples(known)
    if not samples and not known.since:
        return {}
    items = (*(sample.item for sample in samples), *(one.item for one in known.since))
    draws = item_draws(known.bank, known.setting.plant, known.setting.catalogue, items)
    cells = expected_cells(known.bank, rows, items, draws)
    places: dict[str, list[int]] = defaultdict(list)
    for place, item in enumerate(items):
        places[item.shared_key].append(place)
    found = np.array([*(one.result.result == "detected" for one in samples), *(one.detected for one in known.since)])
    usual = known.figures.number("detection.false_positive")
    rate = np.array([*(usual for _ in samples), *(one.false_positive for one in known.since)])
    return {key: SiteResults(cells[at], found[at], rate[at]) for key, at in places.items()}


def earlier_facts(known: Known, rows: HypothesisRows) -> tuple[Fact, ...]:
    """One fact for each site with earlier results: the chance of exactly these results, all together."""
    model = detection_model(known.figures)
    # pieces of a site share what the model misses about it, so their results are read together
    names = {site.split_from or site.key: site.code for site in known.setting.plant.sites}
    return tuple(
        Fact(
            words=_words(names[key], results),
            factor=site_factor(results, model),
            unmoved=float(site_factor(_nothing(results), model)[0]),
            asks_for_contamination=bool(results.detected.any()),
        )
        for key, results in earlier_results(known, rows).items()
    )


def _nothing(results: SiteResults) -> SiteResults:
    return replace(results, cells=np.zeros((len(results.detected), 1), np.float32))


def _words(code: str, results: SiteResults) -> str:
    found, silent = results.counts
    return f"earlier results at {code}: {found} detected, {silent} not detected"
