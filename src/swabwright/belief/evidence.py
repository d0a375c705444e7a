"""How facts move where it may live: implicated lines, product tests, earlier results."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta
from math import fsum
from zoneinfo import ZoneInfo

import numpy as np
import numpy.typing as npt

from swabwright.belief.earlier import earlier_facts
from swabwright.belief.known import Fact, Known, niche_loads
from swabwright.belief.product import DayTests, day_factor, product_model
from swabwright.belief.rows import HypothesisRows
from swabwright.case.investigation import Implicated, ProductTest
from swabwright.detection.draws import capacity_draws
from swabwright.detection.windows import A_DAY, minutes_of
from swabwright.errors import NothingFits, SwabwrightError
from swabwright.plant.lines import Line
from swabwright.spread.hours import spans_of, without

Array = npt.NDArray[np.float64]
Capacity = npt.NDArray[np.float32]
HARDLY_BETTER = 1.0 + 1e-9


def all_facts(known: Known, rows: HypothesisRows) -> tuple[Fact, ...]:
    """Every fact of the investigation and how well each row explains it."""
    capacity = capacity_draws(known.bank, known.setting.plant, known.setting.catalogue)
    return (
        *implicated_facts(known, rows, capacity),
        *product_facts(known, rows, capacity),
        *earlier_facts(known, rows),
    )


def weigh(rows: HypothesisRows, facts: Sequence[Fact]) -> HypothesisRows:
    """The rows weighted by the facts, which are independent given a row; refused when no row explains one of them."""
    for fact in facts:
        # background rates keep every factor above zero, so a misfit is: no better than with nothing there at all
        if fact.asks_for_contamination and float(fact.factor.max()) <= fact.unmoved * HARDLY_BETTER:
            raise NothingFits(
                f"no hypothesis explains this fact: {fact.words}. Nothing that may live in the plant as drawn reaches "
                "it; check the line, its dates and the routes, or say that the fact is in doubt by leaving it out"
            )
    weight = rows.weight * np.prod([fact.factor for fact in facts], axis=0) if facts else rows.weight
    total = fsum(weight)
    if not total > 0:
        raise NothingFits(_clash(rows, facts))
    return replace(rows, weight=weight / total)


def _clash(rows: HypothesisRows, facts: Sequence[Fact]) -> str:
    """Names the fact without which the others fit, else all of them."""
    for left_out in facts:
        others = [fact.factor for fact in facts if fact is not left_out]
        if others and float((rows.weight * np.prod(others, axis=0)).sum()) > 0:
            return f"no hypothesis explains this fact together with the others: {left_out.words}"
    return f"no hypothesis explains these facts together: {'; '.join(fact.words for fact in facts)}"


def implicated_facts(known: Known, rows: HypothesisRows, capacity: Capacity) -> tuple[Fact, ...]:
    """One fact for each implicated line and span: load / (load + L0), L0 in proportion to the days of the span."""
    return tuple(
        _implicated(known, rows, capacity, (place, one)) for place, one in enumerate(known.investigation.implicated)
    )


def _implicated(known: Known, rows: HypothesisRows, capacity: Capacity, one: tuple[int, Implicated]) -> Fact:
    place, implicated = one
    line = known.line_index(implicated.line, f"implicated[{place}].line")
    days = _days(implicated.first_day, implicated.last_day)
    columns = [_day_index(known, day) for day in days]
    load = niche_loads(rows, capacity, known.bank.product[:, line, columns, :].sum(axis=1, dtype=np.float64))
    half = (
        known.figures.number("evidence.half_point_cfu") * len(days) / known.figures.number("evidence.half_point_days")
    )
    words = f"line {implicated.line} is implicated from {implicated.first_day} to {implicated.last_day}"

    def read(loads: Array) -> Array:
        return loads / (loads + half)

    return Fact(f"{words} (said by {implicated.said_by})", read(load), 0.0, True, load, read)


def product_facts(known: Known, rows: HypothesisRows, capacity: Capacity) -> tuple[Fact, ...]:
    """One fact for each line and day whose product was tested."""
    # tests of one day met the same clumps; days are independent given what the line carried
    groups: dict[tuple[str, date], list[tuple[int, ProductTest]]] = defaultdict(list)
    for place, test in enumerate(known.investigation.product_tests):
        groups[test.line, test.made_on].append((place, test))
    return tuple(_product(known, rows, capacity, tests) for tests in groups.values())


def _product(known: Known, rows: HypothesisRows, capacity: Capacity, placed: list[tuple[int, ProductTest]]) -> Fact:
    place, first = placed[0]
    path = f"product_tests[{place}]"
    tests = [test for _, test in placed]
    line, day = known.line_index(first.line, f"{path}.line"), _day_index(known, first.made_on)
    load = niche_loads(rows, capacity, known.bank.product[:, line, day, :].astype(np.float64))
    made_kg = kg_made(line_called(known, first.line), first.made_on, known.setting.plant.timezone, path)
    found = np.array([test.result == "detected" for test in tests])
    # the fewest increments of any test: a day is never read as better mixed than its worst test shows
    day_tests = DayTests(
        np.array([test.kg_tested for test in tests]) / made_kg, found, min(t.increments for t in tests)
    )
    model = product_model(known.figures)
    words = f"product of line {first.line} of {first.made_on}: {int(found.sum())} of {len(tests)} tests detected"

    def read(loads: Array) -> Array:
        return day_factor(loads, day_tests, model)

    return Fact(words, read(load), float(read(np.zeros(1))[0]), bool(found.any()), load, read)


def kg_made(line: Line, day: date, timezone: str, path: str) -> float:
    """kg that a line makes in the runs that begin on a day, breaks taken off; a day without a run is refused."""
    zone = ZoneInfo(timezone)
    minutes = fsum(
        minutes_of(span)
        for span in without(spans_of(line.runs, (day,), zone), spans_of(line.breaks, (day, day + A_DAY), zone))
    )
    if minutes <= 0:
        raise SwabwrightError(
            f"investigation.json: {path}.made_on: line '{line.id}' does not run on {day} ({day:%A}); "
            "correct the date, or the line's hours in plant.json"
        )
    return line.kg_per_hour * minutes / 60.0


def line_called(known: Known, name: str) -> Line:
    """The line of the plant with a name that is known to be one."""
    return next(line for line in known.setting.plant.lines if line.id == name)


def _days(first: date, last: date) -> list[date]:
    if last < first:
        raise SwabwrightError(f"investigation.json: implicated: the span ends on {last}, before it begins on {first}")
    return [first + timedelta(days=offset) for offset in range((last - first).days + 1)]


def _day_index(known: Known, day: date) -> int:
    if day not in known.bank.days:
        raise ValueError(f"the bank holds no product load of {day}")
    return known.bank.days.index(day)
