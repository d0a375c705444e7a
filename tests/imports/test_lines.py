"""Lines: their way, machines, product, output and hours."""

from datetime import time

import pytest
from builders.drawings import two_rooms
from builders.imports import aside, imported, plant_of, said

LINES = ["Line", "Product", "Machines in order", "Output (kg/h)", "Raw material may carry"]


def _drawing():
    sheet = two_rooms().outline("EQUIPMENT", [(5.0, 2.0), (7.0, 2.0), (7.0, 3.0), (5.0, 3.0)])
    return sheet.text("EQUIPMENT", (5.3, 2.4), "Packer", 0.15)


def _plant(tmp_path, *rows, drawn=None, **sheets):
    return plant_of(imported(tmp_path, drawn or _drawing(), {"Lines": [LINES, *rows], **sheets}))


def test_a_line_runs_straight_through_its_machines_in_order(tmp_path):
    plant = _plant(tmp_path, ["Line 1", "Ham", "Slicer A > Packer", 450, "no"])
    (line,) = plant.lines
    assert line.path == ((3.0, 2.5), (6.0, 2.5))
    assert (line.product, line.kg_per_hour, line.raw_material_may_carry) == ("Ham", 450, False)
    assert "straight from machine to machine" in plant.unconfirmed["lines[line-1].path"]


@pytest.mark.parametrize("order", ["Slicer A > Packer", "Slicer A -> Packer", "Slicer A; Packer", "Slicer A, packer"])
def test_the_order_of_machines_is_read_in_every_manner_of_writing(tmp_path, order):
    assert _plant(tmp_path, ["Line 1", "Ham", order, 450, "no"]).lines[0].path == ((3.0, 2.5), (6.0, 2.5))


def test_machines_belong_to_the_line_that_names_them(tmp_path):
    plant = _plant(tmp_path, ["Line 1", "Ham", "Packer", 450, "no"])
    assert {machine.id: machine.line for machine in plant.equipment} == {"slicer-a": None, "packer": "line-1"}


def test_sites_of_a_machine_belong_to_its_line(tmp_path):
    plant = _plant(tmp_path, ["Line 1", "Ham", "Slicer A > Packer", 450, "no"])
    assert next(site for site in plant.sites if site.code == "S002").line == "line-1"


def test_a_line_of_one_machine_runs_along_it(tmp_path):
    path = _plant(tmp_path, ["Line 1", "Ham", "Packer", 450, "no"]).lines[0].path
    assert sorted(path) == [(5.0, 2.5), (7.0, 2.5)]


def test_a_drawn_product_way_with_the_lines_name_beside_it_is_taken(tmp_path):
    drawing = _drawing().line("PRODUCT FLOW", [(1, 2.5), (7.5, 2.5)]).text("PRODUCT FLOW", (1.2, 2.6), "Line 1", 0.1)
    plant = _plant(tmp_path, ["Line 1", "Ham", "", 450, "no"], drawn=drawing)
    assert plant.lines[0].path == ((1.0, 2.5), (7.5, 2.5))
    assert "lines[line-1].path" not in plant.unconfirmed
    assert {machine.line for machine in plant.equipment} == {"line-1"}


def test_a_line_with_one_machine_a_row_runs_through_them_in_order(tmp_path):
    rows = [["Line 1", "Ham", "Packer", 450, "no"], ["Line 1", "", "Slicer A", "", ""]]
    outcome = imported(tmp_path, _drawing(), {"Lines": [LINES, *rows]})
    assert [line.path for line in plant_of(outcome).lines] == [((6.0, 2.5), (3.0, 2.5))]
    assert any("line 'Line 1' stands in rows 2, 3" in each for each in outcome.guesses)


def test_two_drawn_ways_of_one_name_are_two_lines(tmp_path):
    drawing = _drawing()
    for y in (2.5, 5.0):
        drawing.line("PRODUCT FLOW", [(1, y), (7.5, y)]).text("PRODUCT FLOW", (1.2, y + 0.1), "Ham", 0.1)
    assert [line.id for line in plant_of(imported(tmp_path, drawing)).lines] == ["ham", "ham-2"]


def test_a_drawn_product_way_that_no_line_is_named_for_is_put_aside(tmp_path):
    drawing = _drawing().line("PRODUCT FLOW", [(1, 2.5), (7.5, 2.5)]).line("PRODUCT FLOW", [(1, 5), (7.5, 5)])
    outcome = imported(tmp_path, drawing, {"Lines": [LINES, ["Line 1", "Ham", "Packer", 450, "no"]]})
    assert aside(outcome).count("no line of the sheet is named so") == 2


def test_a_line_with_neither_machines_nor_way_is_refused(tmp_path):
    outcome = imported(tmp_path, _drawing(), {"Lines": [LINES, ["Line 1", "Ham", "", 450, "no"]]})
    assert "line 'Line 1' has no way; name its machines in order" in said(outcome)


def test_a_machine_of_a_line_that_nobody_drew_is_put_aside(tmp_path):
    outcome = imported(tmp_path, _drawing(), {"Lines": [LINES, ["Line 1", "Ham", "Packer, Grinder", 450, "no"]]})
    assert "'Grinder': no machine of this name is drawn" in aside(outcome)


def test_without_a_sheet_drawn_product_ways_are_the_lines(tmp_path):
    drawing = _drawing().line("PRODUCT FLOW", [(1, 2.5), (7.5, 2.5)]).text("PRODUCT FLOW", (1.2, 2.6), "Ham line", 0.1)
    plant = plant_of(imported(tmp_path, drawing))
    assert [line.name for line in plant.lines] == ["Ham line"]
    assert plant.unconfirmed["lines"] == "no sheet of lines; taken from the drawn product ways"


def test_without_sheet_and_ways_one_line_runs_through_all_machines_unconfirmed(tmp_path):
    plant = plant_of(imported(tmp_path, _drawing()))
    assert plant.lines[0].path == ((3.0, 2.5), (6.0, 2.5))
    assert {"lines", "lines[line-1].product", "lines[line-1].kg_per_hour", "lines[line-1].runs"} <= set(
        plant.unconfirmed
    )


def test_a_plant_without_machines_has_no_line_and_says_so(tmp_path):
    outcome = imported(tmp_path, drawing={"ignore": ["EQUIPMENT"]})
    assert plant_of(outcome).lines == ()
    assert outcome.assumptions["lines"].endswith("the plant has no line")


SHIFTS = ["Line", "What", "Days", "Date", "From", "To", "Agreed by"]
LINE_1 = ["Line 1", "Ham", "Slicer A > Packer", 450, "no"]


def _line(tmp_path, *rows):
    return _plant(tmp_path, LINE_1, Shifts=[SHIFTS, *rows]).lines[0]


def test_runs_and_breaks_are_read_from_the_schedule(tmp_path):
    line = _line(
        tmp_path, ["Line 1", "Run", "Mon-Thu", "", "05:30", "14:00", ""], ["all", "break", "Mon", "", 0.375, 0.4, ""]
    )
    assert (line.runs[0].days, line.runs[0].starts_at) == (("mon", "tue", "wed", "thu"), time(5, 30))
    assert (line.breaks[0].days, line.breaks[0].starts_at) == (("mon",), time(9, 0))


def test_an_agreed_stop_has_its_date_in_the_plants_own_time(tmp_path):
    sheets = {"Lines": [LINES, LINE_1]}
    sheets["Shifts"] = [SHIFTS, ["Line 1", "agreed stop", "", "2026-07-08", "10:00", "10:20", "Shift lead"]]
    outcome = imported(tmp_path, _drawing(), sheets, plant={"timezone": "Europe/Dublin"})
    (stop,) = plant_of(outcome).lines[0].agreed_stops
    assert stop.starts_at.isoformat() == "2026-07-08T10:00:00+01:00"
    assert stop.agreed_by == "Shift lead"


def test_a_line_without_hours_takes_the_usual_shift_unconfirmed(tmp_path):
    plant = _plant(tmp_path, LINE_1)
    assert plant.lines[0].runs[0].starts_at == time(6)
    assert "no schedule says it" in plant.unconfirmed["lines[line-1].runs"]


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (["Line 1", "Run", "Mon-Fri", "", "early", "14:00", ""], "has no start and end as times of day"),
        (["Line 1", "Carnival", "Mon-Fri", "", "06:00", "14:00", ""], "is no run, break or agreed stop"),
        (["Line 1", "Run", "often", "", "06:00", "14:00", ""], "'often' names no weekdays"),
        (["Line 1", "agreed stop", "Mon", "", "06:00", "06:20", ""], "an agreed stop needs its date"),
    ],
)
def test_hours_that_cannot_be_read_are_refused_with_their_row(tmp_path, row, words):
    outcome = imported(tmp_path, _drawing(), {"Lines": [LINES, LINE_1], "Shifts": [SHIFTS, row]})
    assert "sheet 'Shifts', row 2" in said(outcome)
    assert words in said(outcome)


def test_hours_of_a_line_nobody_listed_are_put_aside(tmp_path):
    row = ["Line 9", "Run", "Mon", "", "06:00", "14:00", ""]
    outcome = imported(tmp_path, _drawing(), {"Lines": [LINES, LINE_1], "Shifts": [SHIFTS, row]})
    assert "'Line 9': no line of this name" in aside(outcome)
