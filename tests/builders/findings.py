"""Results of the tiny plant read on a few simulated histories, as findings are made from them."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any

from builders.known import investigation
from builders.plants import tiny_plant

from swabwright.belief.believe import items_under
from swabwright.case.findings import Findings
from swabwright.case.folder import Case
from swabwright.detection.choices import build_items
from swabwright.detection.items import Item
from swabwright.detection.observed import Observations, Observed
from swabwright.inference.wording import FOUND
from swabwright.plant.document import Plant
from swabwright.plant.figures import Figures
from swabwright.plant.registry import load_catalogue
from swabwright.spread.bank import ResponseBank
from swabwright.work.findings_compose import RecordTold, compose_findings
from swabwright.work.findings_read import ReadStrain
from swabwright.work.opened import OpenVisit, open_visit
from swabwright.work.read_case import read_bank
from swabwright.work.simulated import simulated_bank

HISTORIES = 60
NOON = datetime(2026, 3, 9, 12, tzinfo=UTC)


def opened_tiny(plant: Plant | None = None, **changes: Any) -> OpenVisit:
    """The only visit of an invented investigation of the tiny plant, or of a drawing of it."""
    catalogue = load_catalogue()
    case = Case(Path(), investigation(**changes), plant or tiny_plant(), catalogue, "0" * 64, None, ())
    return open_visit(case, case.investigation.visits[0])


@cache
def usual_tiny() -> tuple[OpenVisit, ResponseBank]:
    """The tiny plant opened, and a few histories of it, made once."""
    opened = opened_tiny()
    return opened, bank_of(opened)


def bank_of(opened: OpenVisit) -> ResponseBank:
    """A few histories of an opened visit."""
    return simulated_bank(opened, "B", None, lambda _: None, histories=HISTORIES)


def sample_at(opened: OpenVisit, bank: ResponseBank, key: int) -> Item:
    """The first way to sample the site with this key as it stands."""
    return next(item for item in build_items(opened.setting, bank) if item.site_key == f"{key:032x}")


def result(item: Item, *, detected: bool, **changes: Any) -> Observed:
    """A result of an item, its sample named by the site's key."""
    name = f"sample {int(item.site_key, 16)}"
    return Observed(**{"sample": name, "item": item, "detected": detected, "batch": "visit-1", **changes})


def read_tiny(
    found: Iterable[int] = (),
    silent: Iterable[int] = (),
    *,
    opened: OpenVisit | None = None,
    change: Any = lambda results: results,
    **more: Any,
) -> ReadStrain:
    """The tiny plant with results at sites by key; `change` is applied to the results, `more` goes beside them."""
    if opened is None:
        opened, bank = usual_tiny()
    else:
        bank = bank_of(opened)
    results = [result(sample_at(opened, bank, key), detected=True) for key in found]
    results += [result(sample_at(opened, bank, key), detected=False) for key in silent]
    return read_strain(opened, bank, Observations(tuple(change(results)), **more))


def read_strain(opened: OpenVisit, bank: ResponseBank, observations: Observations) -> ReadStrain:
    """These observations on a bank, to be read again with other figures."""
    one = read_bank(opened, bank, observations)
    items = tuple(each.item for each in observations.results)

    def observe_under(figures: Figures) -> Observations:
        again = items_under(one.known.under(figures), items)
        return replace(
            observations,
            results=tuple(replace(each, item=item) for each, item in zip(observations.results, again, strict=True)),
        )

    return ReadStrain(one, observe_under)


def told(**changes: Any) -> RecordTold:
    """A record of one visit, read to its last entry."""
    usual = {"strain": None, "head": "f" * 64, "as_of": NOON, "sampled_on": (NOON.date(),), "found": FOUND}
    return RecordTold(**{**usual, "visits": {"visit-1": "First visit"}, **changes})


def findings_tiny(found: Iterable[int] = (), silent: Iterable[int] = (), **more: Any) -> Findings:
    """The findings of such results."""
    return compose_findings(read_tiny(found, silent, **more), told())
