"""Seconds to choose the twelve samples of a next visit by what they would say."""

from collections.abc import Iterable
from time import process_time

import numpy as np

from benchmarks.table import Row
from benchmarks.visit_problems import investigated_plant
from swabwright.belief.believe import Belief
from swabwright.belief.known import Known
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.choices import build_items
from swabwright.detection.items import Item
from swabwright.detection.observed import Observations, Observed
from swabwright.inference.foreseen import foreseen_chances
from swabwright.inference.information import Informed, choose_informative, settings_of
from swabwright.inference.labels import labels_of
from swabwright.inference.outcome_paths import foreseen
from swabwright.plant.registry import load_catalogue
from swabwright.spread.bank import ResponseBank
from swabwright.work.after_results import belief_after
from swabwright.work.opened import OpenVisit
from swabwright.work.read_case import read_bank
from swabwright.work.simulated import simulated_bank

LIMIT_S, AIM_S = 1.0, 0.3
SITES, ITEMS, COUNT, RESULTS, HISTORIES = 200, 260, 12, 30, 1500
RUNS = 3
EVERY = 5
"""Of the sites, each fifth was sampled on the first visit."""


def rows(*, full: bool) -> Iterable[Row]:
    """The row of the next visit; the same whether the table is full or small."""
    opened = investigated_plant(load_catalogue(), 1, SITES)
    bank = simulated_bank(opened, "A", None, lambda _: None, histories=HISTORIES)
    belief, items = _after_results(opened, bank)
    _choose(belief, items)
    seconds = min(_timed(belief, items) for _ in range(RUNS * (2 if full else 1)))
    title = f"next visit of {COUNT} from {len(items)} items"
    yield Row("15", title, f"{seconds:.2f} s", f"{LIMIT_S:g} s", f"{AIM_S:g} s", seconds <= LIMIT_S, _note(belief))


def _note(belief: Belief) -> str:
    return f"{len(belief.rows):,} hypotheses after {RESULTS} results; exchanges included, the walk not; CPU time"


def _after_results(opened: OpenVisit, bank: ResponseBank) -> tuple[Belief, tuple[Item, ...]]:
    """The belief after results that one history of the bank itself would give, and items to choose among."""
    every = build_items(opened.setting, bank)
    # one sample a site, each fifth site
    sampled = tuple({item.site_key: item for item in every}.values())[::EVERY][:RESULTS]
    source = bank.source_names.index(sampled[0].site_key)
    known = Known(opened.case.investigation, opened.setting, bank)
    truth = HypothesisRows(np.zeros(1, np.int32), np.array([[source, -1, -1]], np.int32), np.ones(1), bank.copy[:1])
    found = foreseen_chances(known, truth, sampled)[:, 0] > np.linspace(0.05, 0.95, len(sampled))
    results = tuple(
        Observed(f"sample {number}", item, bool(found[number]), "visit-1") for number, item in enumerate(sampled)
    )
    belief = belief_after(read_bank(opened, bank, Observations(results)))
    return belief, every[:ITEMS]


def _timed(belief: Belief, items: tuple[Item, ...]) -> float:
    belief.known.remembered.clear()
    began = process_time()
    _choose(belief, items)
    return process_time() - began


def _choose(belief: Belief, items: tuple[Item, ...]) -> None:
    known, figures = belief.known, belief.known.figures
    rooms = {site.key: site.room for site in known.setting.plant.sites}
    places = [rooms.get(name, name) for name in known.bank.source_names]
    labels = labels_of(belief.rows, places, figures.number("next.rows_a_label"))
    keys = sorted({item.site_key for item in items})
    site = np.array([keys.index(item.site_key) for item in items], np.int32)
    tie = np.arange(len(items), dtype=np.uint64)
    chance = foreseen_chances(known, belief.rows, items)
    what = foreseen(chance, belief.rows.weight, labels, (site, tie), known.investigation.seed)
    choose_informative(Informed(what, settings_of(figures)), (), COUNT, lambda _: True)
