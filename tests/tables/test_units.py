"""Units in cells and headers."""

import pytest

from swabwright.tables.units import FACTORS, split_header, tidy_unit, to_base


@pytest.mark.parametrize(
    ("written", "unit"),
    [
        ("CM²", "cm2"),
        ("cm^2", "cm2"),
        ("sq cm", "cm2"),
        ("sq. in", "in2"),
        ("square feet", "feet2"),
        ("kg per hour", "kg/hour"),
        ("KG / h", "kg/h"),
        ("°C", "c"),
        ("hrs.", "hrs"),
    ],
)
def test_one_unit_has_one_spelling(written, unit):
    assert tidy_unit(written) == unit


@pytest.mark.parametrize(
    ("value", "unit", "kind", "base"),
    [
        (12, "in", "length_m", 0.3048),
        (1, "ft", "length_m", 0.3048),
        (250, "cm", "length_m", 2.5),
        (1, "m2", "area_cm2", 10_000),
        (1, "in2", "area_cm2", 6.4516),
        (1, "ft2", "area_cm2", 929.0304),
        (90, "min", "hours", 1.5),
        (2, "d", "hours", 48),
        (1, "t/h", "kg_per_hour", 1000),
        (1, "lb/hr", "kg_per_hour", 0.45359237),
        (41, "f", "temperature_c", 5),
        (-40, "degf", "temperature_c", -40),
        (4, "c", "temperature_c", 4),
        (0.02, "%", "ppm", 200),
    ],
)
def test_quantities_are_turned_into_the_units_of_the_documents(value, unit, kind, base):
    """Inch, foot and pound by the yard and pound agreement of 1959; Fahrenheit by its definition."""
    assert to_base(value, unit, kind) == pytest.approx(base)


def test_a_unit_of_another_kind_is_refused_with_the_units_that_fit():
    with pytest.raises(ValueError, match="'kg' is no unit of area cm2; known: mm2, cm2"):
        to_base(1, "kg", "area_cm2")


@pytest.mark.parametrize(
    ("header", "words", "unit"),
    [
        ("Area (cm²)", "Area", "cm2"),
        ("Area [sq in]", "Area", "in2"),
        ("Area, cm2", "Area", "cm2"),
        ("Height m", "Height", "m"),
        ("Area (cm2) swabbed", "Area swabbed", "cm2"),
        ("Area", "Area", None),
        ("Area (approx.)", "Area (approx.)", None),
        ("m", "m", None),
        ("Room name", "Room name", None),
    ],
)
def test_a_header_is_parted_from_its_unit(header, words, unit):
    parts = split_header(header, ("area_cm2", "length_m"))
    assert (parts.words, parts.unit) == (words, unit)


def test_a_unit_of_a_quantity_the_table_does_not_hold_is_a_word():
    assert split_header("Line (kg)", ("area_cm2",)).unit is None


def test_every_unit_is_written_in_its_tidy_spelling():
    assert [unit for factors in FACTORS.values() for unit in factors if tidy_unit(unit) != unit] == []
