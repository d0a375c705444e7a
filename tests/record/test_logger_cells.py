"""Temperatures in a logger's cells: units, marks and the logger's own faults."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.plant.registry import load_figures
from swabwright.record.logger_cells import temperatures, unit_of_cells

FIGURES = load_figures()


def degrees(*cells, unit="C"):
    return temperatures(list(enumerate(cells, 2)), unit, FIGURES)


@pytest.mark.parametrize("cell", [4.5, "4.5", "4,5", "+4.5", "4.5 °C", "4.5°C", "4.5 C", "4.5 Celsius", "4.5 deg C"])
def test_a_temperature_in_any_spelling_is_read(cell):
    assert degrees(cell) == ([4.5], [])


@pytest.mark.parametrize(("cell", "read"), [("4,125", 4.125), ("-0,125", -0.125), ("-12.5", -12.5)])
def test_three_decimals_are_no_thousands(cell, read):
    assert degrees(cell)[0] == [read]


@settings(deadline=None, derandomize=True)
@given(st.floats(-80, 95).map(lambda one: round(one, 2)))
def test_fahrenheit_comes_back_as_celsius(celsius):
    (found,), faults = degrees(f"{celsius * 9 / 5 + 32:.4f}", unit="F")
    assert found == pytest.approx(celsius, abs=1e-4)
    assert faults == []


@pytest.mark.parametrize("cell", [None, "", "---", "ERR", "NC", "4.5 K", "4.5.1 C", True, "four"])
def test_what_is_no_temperature_is_named_by_its_row(cell):
    found, (fault,) = degrees(4.0, cell)
    assert found == [4.0]
    assert fault.path == "row 3"


@pytest.mark.parametrize("cell", [-127.0, -99.9, 850.0, "999"])
def test_a_number_that_only_a_fault_gives_is_named(cell):
    assert "is a fault of the logger" in degrees(cell)[1][0].problem


@pytest.mark.parametrize(
    ("cells", "unit"),
    [(["4", 5.0], None), (["4 °C", "5"], "C"), (["39 F"], "F"), (["39 fahrenheit"], "F"), ([None], None)],
)
def test_the_unit_is_what_the_cells_say(cells, unit):
    assert unit_of_cells(list(enumerate(cells, 2))) == (unit, [])


def test_the_first_cell_in_another_unit_is_named_beside_the_first_of_all():
    _, (fault,) = unit_of_cells([(2, "4"), (3, "4 C"), (4, "39 F"), (5, "40 F")])
    assert (fault.path, "while row 3 is in C" in fault.problem) == ("row 4", True)
