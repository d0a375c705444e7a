"""A number with its unit in one cell."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.tables.quantities import read_quantity


@pytest.mark.parametrize(
    ("cell", "kind", "value"),
    [
        ("36 h", "hours", 36),
        ("12 in", "length_m", 0.3048),
        ("1,5 m", "length_m", 1.5),
        ("250 cm2", "area_cm2", 250),
        ("250cm²", "area_cm2", 250),
        ("10 x 10 cm", "area_cm2", 100),
        ("10 cm x 20 cm", "area_cm2", 200),
        ("0,5 x 0,2 m", "area_cm2", 1000),
        ("12 x 12 in", "area_cm2", 929.0304),
        ("about 200 ppm", "ppm", 200),
        ("ca. 4 °C", "temperature_c", 4),
        ("39.2 F", "temperature_c", 4),
        ("450 kg per hour", "kg_per_hour", 450),
        ('6"', "length_m", 0.1524),
    ],
)
def test_the_unit_in_the_cell_is_used(cell, kind, value):
    assert read_quantity(cell, kind, None).value == pytest.approx(value)


def test_the_header_gives_the_unit_when_the_cell_has_none():
    assert read_quantity(2.0, "area_cm2", "m2").value == pytest.approx(20_000)
    assert read_quantity("2", "area_cm2", "m2").value == pytest.approx(20_000)


def test_the_unit_in_the_cell_beats_the_one_in_the_header():
    assert read_quantity("2 cm2", "area_cm2", "m2").value == pytest.approx(2)


def test_sides_without_a_unit_take_the_side_of_the_headers_unit():
    assert read_quantity("2 x 3", "area_cm2", "in2").value == pytest.approx(6 * 6.4516)


def test_an_area_without_any_unit_is_taken_in_square_centimetres_with_a_doubt():
    reading = read_quantity(400.0, "area_cm2", None)
    assert reading.value == 400
    assert reading.doubt == "no unit written; read as cm²"


def test_a_temperature_without_unit_carries_no_doubt():
    assert read_quantity(4.0, "temperature_c", None).doubt is None


def test_a_height_of_nought_carries_no_doubt():
    assert read_quantity(0.0, "length_m", None).doubt is None


@pytest.mark.parametrize("cell", ["large", "2-3 m", "100 kg", "x", "4 cm2 each side"])
def test_a_cell_that_is_no_such_quantity_is_refused_in_its_own_words(cell):
    with pytest.raises(ValueError, match="is no"):
        read_quantity(cell, "area_cm2", None)


@given(st.floats(min_value=0.01, max_value=1e5), st.sampled_from(["cm2", "m2", "in2", "ft2"]))
def test_the_unit_may_stand_in_the_cell_or_in_the_header(value, unit):
    written = f"{value:.2f} {unit}"
    in_header = read_quantity(round(value, 2), "area_cm2", unit).value
    assert read_quantity(written, "area_cm2", None).value == pytest.approx(in_header, rel=1e-9)
