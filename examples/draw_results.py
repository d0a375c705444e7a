"""What the laboratory of juniper-lane-to-the-end would find: drawn once from the engine's own model, then kept.

Run from the project's root, after the plans: .venv/bin/python examples/draw_results.py
One history is drawn among those that bear the case's facts, given the niches of truths.toml; every sample is then
detected with the chance that this history gives it, strain by strain. Writes story/outcomes.toml. After the actions
both niches are gone, so the rounds draw nothing.
"""

import tomllib
from pathlib import Path

import numpy as np

from swabwright.belief.evidence import all_facts, weigh
from swabwright.belief.known import Known
from swabwright.belief.outcome import cells_of
from swabwright.belief.rows import HypothesisRows
from swabwright.case.folder import read_case
from swabwright.case.plan import PlannedSample
from swabwright.detection.choices import build_items, item_at
from swabwright.detection.items import Item
from swabwright.plant.sites import Mode
from swabwright.work.opened import OpenVisit, open_visits
from swabwright.work.simulated import simulated_bank
from swabwright.work.storage import cache_folder

HERE = Path(__file__).parent
CASE = HERE / "juniper-lane-to-the-end"
VISITS = ("visit-1", "visit-2")
HISTORIES = 1000
BY_JUDGEMENT = {"visit-1": (("S027", "SP"), ("S085", "SP")), "visit-2": (("S082", "SP"),)}


def draw() -> str:
    """The outcomes of both visits as TOML: by visit and site, the strains that are found there."""
    truth = tomllib.loads((HERE / "truths.toml").read_text(encoding="utf-8"))[CASE.name]
    case = read_case(CASE)
    planned = [visit for visit in VISITS if visit in {plan.visit for plan in case.accepted}]
    planned = [visit for visit in VISITS if visit in {plan.visit for plan in case.accepted}]
    # both visits even before the second is planned: then what the first one finds stays the same
    opened = open_visits(case, tuple(case.visit(visit) for visit in VISITS))
    bank = simulated_bank(opened, "C", cache_folder(), print, histories=HISTORIES)
    random = np.random.default_rng(truth["seed"])
    known = Known(case.investigation, opened.setting, bank)
    keys = {site.code: site.key for site in case.plant.sites}
    sources = {strain: bank.source_names.index(keys[code]) for strain, code in truth["niches"].items()}
    history = _bearing_the_facts(known, list(sources.values()), random)
    lines = ["# Drawn by draw_results.py: the strains that are found at each site, by case and visit.", ""]
    for visit in planned:
        here = opened.on(case.visit(visit))
        sampled = _items(here, Known(case.investigation, here.setting, bank))
        chances = {strain: _chances(known, history, source, sampled) for strain, source in sources.items()}
        lines += [f"[{CASE.name}.{visit}]", *_drawn(sampled, chances, random), ""]
    return "\n".join([*lines, "[fernhill-dairy]", ""])


def _bearing_the_facts(known: Known, sources: list[int], random: np.random.Generator) -> int:
    """One history, by how well it explains the facts of the investigation with these niches."""
    every = np.arange(known.bank.histories, dtype=np.int32)
    places = np.full((len(every), 3), -1, np.int32)
    places[:, : len(sources)] = sources
    rows = HypothesisRows(every, places, np.full(len(every), 1.0 / len(every)), known.bank.copy[every])
    weighed = weigh(rows, all_facts(known, rows))
    return int(random.choice(weighed.history, p=weighed.weight / weighed.weight.sum()))


def _items(opened: OpenVisit, known: Known) -> tuple[Item, ...]:
    """What was sampled on a visit, as items of the bank, the duplicate once more."""
    case, visit = opened.case, opened.visit
    plan = next(plan for plan in case.accepted if plan.visit == visit.id)
    offered = {(item.site_code, item.device, item.mode): item for item in build_items(opened.setting, known.bank)}
    planned = [(offered[_asked(sample)], sample.arrive_at) for sample in plan.samples if sample.site]
    added = [(offered[code, device, "as_is"], plan.walk.ends_at) for code, device in BY_JUDGEMENT[visit.id]]
    return tuple(item_at(opened.setting, item, at, known.bank) for item, at in [*planned, *added])


def _asked(sample: PlannedSample) -> tuple[str, str, Mode]:
    return str(sample.site), sample.device, sample.mode


def _chances(known: Known, history: int, source: int, items: tuple[Item, ...]) -> list[float]:
    """The chance of each sample to be detected when it lives at this source alone."""
    rows = HypothesisRows(
        np.array([history], np.int32),
        np.array([[source, -1, -1]], np.int32),
        np.ones(1),
        known.bank.copy[[history]],
    )
    return [float(chance) for chance in 1.0 - np.exp(-cells_of(known, rows, items)[:, 0])]


def _drawn(items: tuple[Item, ...], chances: dict[str, list[float]], random: np.random.Generator) -> list[str]:
    lines = []
    for place, item in enumerate(items):
        found = [strain for strain, chance in chances.items() if random.random() < chance[place]]
        told = ", ".join(f"{strain} {chance[place]:.3f}" for strain, chance in chances.items())
        again = " again" if any(before.site_code == item.site_code for before in items[:place]) else ""
        words = ", ".join(f'"{strain}"' for strain in found)
        lines.append(f'"{item.site_code}{again}" = [{words}]  # chance of {told}')
    return lines


if __name__ == "__main__":
    (HERE / "story" / "outcomes.toml").write_text(draw(), encoding="utf-8")
