"""Parts of a document: immutable, strictly typed, nothing unknown in them."""

import json
from datetime import time

import pytest
from builders.plants import WASH, room, site, tiny_plant
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter, ValidationError

from swabwright.plant.model import Identifier, Point, SiteCode, SiteKey, Text
from swabwright.plant.rooms import Room
from swabwright.plant.sites import new_site_key
from swabwright.plant.times import Period


def accepts(kind, value) -> bool:
    try:
        TypeAdapter(kind).validate_python(value)
    except ValidationError:
        return False
    return True


def test_a_new_key_is_a_key_and_none_comes_twice() -> None:
    keys = [new_site_key() for _ in range(200)]
    assert len(set(keys)) == 200
    assert all(accepts(SiteKey, key) for key in keys)


@pytest.mark.parametrize("name", ["slicing", "line-a", "drain_1", "9", "a" * 64])
def test_a_short_lower_case_name_is_an_identifier(name) -> None:
    assert accepts(Identifier, name)


@pytest.mark.parametrize("name", ["", "Slicing", "-a", "line a", "a" * 65, "ä", "a\n"])
def test_any_other_name_is_none(name) -> None:
    assert not accepts(Identifier, name)


@pytest.mark.parametrize(("code", "good"), [
    ("S014", True), ("3/2-b", True), ("A.1", True), ("", False), ("S 14", False), ("-1", False), ("S" * 33, False),
])  # fmt: skip
def test_a_site_code_can_stand_on_a_label(code, good) -> None:
    assert accepts(SiteCode, code) == good


@pytest.mark.parametrize("key", ["", "0" * 31, "0" * 33, "G" + "0" * 31, "A" * 32])
def test_a_key_of_another_form_is_refused(key) -> None:
    assert not accepts(SiteKey, key)


@given(st.text(alphabet=" \t\n\u00a0"))
def test_a_text_of_blanks_only_says_nothing(text) -> None:
    assert not accepts(Text, text)


@pytest.mark.parametrize("point", [(0.0, float("nan")), (0.0, float("inf")), (20_000.0, 0.0), (1.0,), (1.0, 2.0, 3.0)])
def test_a_point_lies_on_the_drawing(point) -> None:
    assert not accepts(Point, point)


def test_a_part_cannot_be_changed() -> None:
    with pytest.raises(ValidationError, match="frozen"):
        room("wash").name = "Other"  # type: ignore[misc]


def test_an_unknown_field_is_refused() -> None:
    with pytest.raises(ValidationError, match="colour"):
        room("wash", colour="red")


@pytest.mark.parametrize(("field", "value"), [("hygiene_class", "1"), ("hygiene_class", 0), ("exposed_product", 1),
                                              ("temperature_c", 81.0), ("outline", WASH[:2])])  # fmt: skip
def test_a_value_of_the_wrong_kind_or_size_is_refused(field, value) -> None:
    with pytest.raises(ValidationError, match=field):
        room("wash", **{field: value})


def test_a_room_is_the_same_after_writing_and_reading() -> None:
    wash = room("wash")
    assert Room.model_validate_json(wash.model_dump_json()) == wash


@given(st.times(), st.times())
def test_hours_are_the_same_after_writing_and_reading(starts_at: time, ends_at: time) -> None:
    period = Period(days=("mon",), starts_at=starts_at, ends_at=ends_at)
    assert Period.model_validate_json(period.model_dump_json()) == period


@given(st.floats(-1000, 1000), st.floats(-1000, 1000), st.integers(1, 4))
def test_a_site_is_the_same_after_writing_and_reading(x, y, zone) -> None:
    one = site(1, "drain_channel", (x, y), zone=zone)
    assert type(one).model_validate_json(one.model_dump_json()) == one


def test_a_whole_number_may_stand_for_metres() -> None:
    document = json.loads(tiny_plant().model_dump_json()) | {"base": [1, 1]}
    assert type(tiny_plant()).model_validate_json(json.dumps(document)).base == (1.0, 1.0)
