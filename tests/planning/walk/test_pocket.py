"""The pocket table: whole numbers that agree with the engine, the same in every reader."""

import json
from base64 import b64decode
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from builders.pockets import greedy_plan, pocket_problem, stop_maker_of
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.planning.choose_finds import evaluate, prepare
from swabwright.planning.pocket import alternates, pocket_table
from swabwright.planning.pocket_read import read_pocket
from swabwright.planning.pocket_table import SCALE, WEIGHTS, chance_from_pocket
from swabwright.plant.space import FloorSpace

LAW = settings(deadline=None, derandomize=True, max_examples=60)
VECTORS = json.loads((Path(__file__).parents[2] / "vectors" / "pocket.json").read_text())
PLANNED = 12


@cache
def made():
    drawn, problem = pocket_problem(sites=120, rows=8000)
    plan = greedy_plan(prepare(problem), PLANNED)
    return problem, pocket_table(prepare(problem), plan, stop_maker_of(drawn), FloorSpace(drawn))


def engine_chance(chosen):
    problem, table = made()
    number = {name.split()[0]: n for n, name in enumerate(problem.names)}
    return float(evaluate(problem, [number[table.items[n].site] for n in chosen]) @ problem.weight)


@LAW
@given(st.sets(st.integers(0, PLANNED - 1)), st.sets(st.integers(PLANNED, 91), max_size=6))
def test_a_changed_plan_agrees_with_the_engine_to_1_in_100(kept, added):
    _, table = made()
    chosen = [*kept, *added]
    assert chance_from_pocket(table, chosen) / SCALE == pytest.approx(engine_chance(chosen), abs=0.01)


@LAW
@given(st.sets(st.integers(0, 91)))
def test_any_set_agrees_with_the_engine_to_1_in_100(chosen):
    _, table = made()
    assert chance_from_pocket(table, chosen) / SCALE == pytest.approx(engine_chance(chosen), abs=0.01)


@pytest.mark.parametrize("taken", range(1, PLANNED + 1))
def test_the_plan_so_far_agrees_with_the_engine_to_1_in_1000(taken):
    _, table = made()
    assert chance_from_pocket(table, range(taken)) / SCALE == pytest.approx(engine_chance(range(taken)), abs=0.001)


@LAW
@given(st.sets(st.integers(0, 91), max_size=8), st.integers(0, 91))
def test_a_further_sample_never_lowers_the_chance(chosen, further):
    _, table = made()
    assert chance_from_pocket(table, {*chosen, further}) >= chance_from_pocket(table, chosen)


def test_nothing_taken_finds_nothing():
    assert chance_from_pocket(made()[1], []) == 0


def test_weights_make_up_the_whole_and_are_never_negative():
    weights = made()[1].weights
    assert int(weights.astype(np.int64).sum()) == WEIGHTS
    assert weights.min() >= 0


def test_the_table_reads_back_from_its_bytes_and_keeps_its_hash():
    table = made()[1]
    again = read_pocket(table.to_bytes())
    assert again.items == table.items
    assert again.sha256 == table.sha256
    assert (again.centimetres == table.centimetres).all()


def test_the_same_problem_makes_the_same_bytes():
    drawn, problem = pocket_problem(sites=20, rows=500)
    tables = [pocket_table(prepare(problem), [3, 1], stop_maker_of(drawn), FloorSpace(drawn)) for _ in range(2)]
    assert tables[0].to_bytes() == tables[1].to_bytes()


def test_the_table_of_a_usual_plan_is_about_200_kilobytes():
    assert 100_000 < len(made()[1].to_bytes()) < 260_000


def test_planned_items_come_first_and_alternates_are_others():
    table = made()[1]
    assert [item.planned for item in table.items] == [True] * PLANNED + [False] * 80
    assert len({item.site for item in table.items}) == len(table.items)


def test_the_best_alternate_is_the_one_that_replaces_a_planned_site_best():
    # three sites in eight rows: item 1 sees the same rows as item 0 and stands in for it, item 2 sees nothing
    problem = pocket_problem(sites=3, rows=8)[1]
    cells = np.array([[9.0] * 8, [8.0] * 8, [0.0] * 8], dtype=np.float32)
    finds = prepare(replace(problem, cells=cells))
    assert alternates(finds, [0]) == [1, 2]


def test_one_site_is_not_taken_in_two_ways():
    table = made()[1]
    doubled = replace(table, items=(table.items[-1], *table.items[1:]))
    with pytest.raises(SwabwrightError, match="in two"):
        chance_from_pocket(doubled, [0, len(table.items) - 1])


@pytest.mark.parametrize("damage", [lambda b: b[:-1], lambda b: b"X" + b[1:], lambda b: b + b"\0"])
def test_damaged_bytes_are_refused(damage):
    with pytest.raises(SwabwrightError, match="pocket table"):
        read_pocket(damage(b64decode(VECTORS["table"])))


def test_the_shared_table_has_its_hash():
    assert read_pocket(b64decode(VECTORS["table"])).sha256 == VECTORS["sha256"]


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: str(case["chosen"]))
def test_every_reader_gets_the_shared_figures(case):
    assert chance_from_pocket(read_pocket(b64decode(VECTORS["table"])), case["chosen"]) == case["chance"]


@pytest.mark.parametrize("case", VECTORS["cases"][:12], ids=lambda case: str(case["chosen"]))
def test_thirty_lines_of_plain_whole_numbers_get_the_shared_figures_too(case):
    content = b64decode(VECTORS["table"])
    length = int.from_bytes(content[8:12], "little")
    head, at = json.loads(content[12 : 12 + length]), 12 + length
    rows, items = head["rows"], len(head["items"])
    weights = [int.from_bytes(content[at + 4 * r : at + 4 * r + 4], "little") for r in range(rows)]
    exponents, at = content[at + 4 * rows :], at + 4 * rows + items * rows
    silent = 0
    for r in range(rows):
        summed = sum(exponents[n * rows + r] for n in case["chosen"])
        entry = content[at + 4 * summed : at + 4 * summed + 4] if summed < head["silences"] else b""
        silent += weights[r] * int.from_bytes(entry, "little")
    assert (head["weights"] * head["scale"] - silent) // head["weights"] == case["chance"]
