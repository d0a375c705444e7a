"""Tests of product, and of raw material, ingredient or water, that were taken on a visit."""

from collections import defaultdict
from collections.abc import Iterable

import numpy as np
import numpy.typing as npt

from swabwright.belief.evidence import kg_made, line_called
from swabwright.belief.known import Fact, Known, niche_loads
from swabwright.belief.product import DayTests, day_factor, product_model
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.draws import capacity_draws
from swabwright.detection.observed import MaterialTest
from swabwright.errors import SwabwrightError

Array = npt.NDArray[np.float64]
Kind = tuple[str, str, object]


def material_facts(known: Known, rows: HypothesisRows, materials: Iterable[MaterialTest]) -> tuple[Fact, ...]:
    """One fact for each kind, line and day of tests; tests of one day share one clumped load."""
    groups: dict[Kind, list[MaterialTest]] = defaultdict(list)
    for test in sorted(materials, key=lambda test: test.sample):
        groups[test.kind, test.line, test.day].append(test)
    return tuple(_fact(known, rows, groups[key]) for key in sorted(groups, key=str))


def _fact(known: Known, rows: HypothesisRows, tests: list[MaterialTest]) -> Fact:
    first, bank = tests[0], known.bank
    if first.day not in bank.days:
        raise SwabwrightError(f"sample {first.sample}: the bank holds no load of {first.day}")
    capacity = capacity_draws(bank, known.setting.plant, known.setting.catalogue)
    line = known.line_index(first.line, f"sample {first.sample}")
    per_unit = bank.product[:, line, bank.days.index(first.day), :].astype(np.float64)
    if first.kind == "incoming":
        # what came in is met before the line adds anything of its own
        came_in = np.array([name == f"line:{first.line}" for name in bank.source_names])
        per_unit = np.where(came_in, per_unit, 0.0)
    made_kg = kg_made(line_called(known, first.line), first.day, known.setting.plant.timezone, f"sample {first.sample}")
    found = np.array([test.detected for test in tests])
    day_tests = DayTests(
        np.array([test.kg_tested for test in tests]) / made_kg, found, min(test.increments for test in tests)
    )
    model = product_model(known.figures)

    def read(loads: Array) -> Array:
        return day_factor(loads, day_tests, model)

    load = niche_loads(rows, capacity, per_unit)
    what = "product" if first.kind == "product" else "incoming material"
    words = f"{what} of line {first.line} of {first.day}: {int(found.sum())} of {len(tests)} tests detected"
    return Fact(words, read(load), float(read(np.zeros(1))[0]), bool(found.any()), load, read)
