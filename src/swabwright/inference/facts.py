"""Facts that hang on the load of a line: suspected lines, tests of product, tests of what came in."""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from swabwright.belief.evidence import implicated_facts, product_facts
from swabwright.belief.known import Fact, Known
from swabwright.detection.draws import capacity_draws
from swabwright.detection.observed import MaterialTest
from swabwright.detection.phi import table_cells
from swabwright.inference.entries import single_rows
from swabwright.inference.materials import material_facts

Array = npt.NDArray[np.float64]


class FactTables(NamedTuple):
    """Loads of every row (history, then source) and what they say; loads of several niches add up.

    implicated: (lines, rows), half: (lines,) of load / (load + half). product: (tests, rows), tables: (tests, entries)
    the factor over that of no load, at the loads of `table_cells`.
    """

    implicated: Array
    half: Array
    product: Array
    tables: Array


class Facts(NamedTuple):
    """The facts of a case on a bank, in words and as tables."""

    listed: tuple[Fact, ...]
    tables: FactTables


def read_facts(known: Known, materials: tuple[MaterialTest, ...]) -> Facts:
    """Every fact that is no surface sample, read in every history with one niche."""
    rows = single_rows(known, range(known.bank.histories))
    capacity = capacity_draws(known.bank, known.setting.plant, known.setting.catalogue)
    lines = implicated_facts(known, rows, capacity)
    tests = (*product_facts(known, rows, capacity), *material_facts(known, rows, materials))
    half = np.array([1.0 / float(_read(fact, np.ones(1))[0]) - 1.0 for fact in lines])
    factors = [_read(fact, table_cells()) / fact.unmoved for fact in tests]
    tables = FactTables(
        implicated=_loads(lines, len(rows)),
        half=half,
        product=_loads(tests, len(rows)),
        tables=np.stack(factors) if factors else np.zeros((0, 1)),
    )
    return Facts((*lines, *tests), tables)


def _loads(facts: tuple[Fact, ...], rows: int) -> Array:
    return np.stack([np.asarray(fact.load, np.float64) for fact in facts]) if facts else np.zeros((0, rows))


def _read(fact: Fact, loads: Array) -> Array:
    if fact.read is None:
        raise ValueError(f"this fact hangs on no load: {fact.words}")
    return fact.read(loads)
