"""Stops: what stands still, who opens it; no site type asks for less than its danger."""

import json

import pytest
from builders.plants import site
from pydantic import ValidationError

from swabwright.plant.effective import effective_site
from swabwright.plant.registry import load_catalogue
from swabwright.plant.sites import Stop

CATALOGUE = load_catalogue()
TYPES = CATALOGUE.site_types

# Isolation, mechanic and cleaning again, as it stands and opened up, for sites a person could be hurt at.
GOLDEN = [
    ("slicer_blade", (True, False, True), (True, True, True)),
    ("cutter_head", (True, False, True), (True, True, True)),
    ("hollow_roller", (True, False, True), (True, True, True)),
    ("drive_chain", (True, False, False), (True, True, True)),
    ("evaporator", (False, False, True), (True, True, True)),
    ("control_panel", (False, False, False), (True, True, False)),
    ("electrical_cabinet", (False, False, False), (True, True, False)),
    ("drain_channel", (False, False, False), (False, False, True)),
    ("door_handle", (False, False, False), (False, False, False)),
]


def told(stop: Stop) -> tuple[bool, bool, bool]:
    return (stop.needs_isolation, stop.mechanic, stop.reclean_before_restart)


@pytest.mark.parametrize(("kind", "as_is", "opened"), GOLDEN)
def test_the_stop_of_a_dangerous_site_stands(kind, as_is, opened) -> None:
    assert told(TYPES[kind].stop_as_is) == as_is
    assert told(TYPES[kind].stop) == opened


@pytest.mark.parametrize("kind", [kind for kind in sorted(TYPES) if TYPES[kind].opens])
def test_opening_asks_for_at_least_what_a_plain_sample_asks_for(kind) -> None:
    opened, as_is = TYPES[kind].stop, TYPES[kind].stop_as_is
    assert all(more >= less for more, less in zip(told(opened), told(as_is), strict=True))
    assert opened.minutes_down >= as_is.minutes_down


@pytest.mark.parametrize("kind", [kind for kind in sorted(TYPES) if not TYPES[kind].opens])
def test_nothing_to_open_asks_for_no_mechanic(kind) -> None:
    assert not TYPES[kind].stop.mechanic


@pytest.mark.parametrize("kind", sorted(TYPES))
def test_who_is_isolated_also_stands(kind) -> None:
    for stop in (TYPES[kind].stop, TYPES[kind].stop_as_is):
        assert stop.needs_line_stop or not stop.needs_isolation


@pytest.mark.parametrize("kind", [kind.id for kind in TYPES.values() if kind.opens == 3])
def test_height_and_electricity_are_for_plant_staff(kind) -> None:
    assert TYPES[kind].stop.mechanic


@pytest.mark.parametrize("kind", [kind.id for kind in TYPES.values() if kind.holder == "overhead"])
def test_product_is_away_while_something_above_it_is_sampled(kind) -> None:
    assert TYPES[kind].stop_as_is.needs_line_stop
    assert TYPES[kind].stop_as_is.reclean_before_restart


@pytest.mark.parametrize("field", sorted(Stop.model_fields))
def test_a_stop_says_everything_or_is_refused(field) -> None:
    stop = TYPES["slicer_blade"].stop.model_dump()
    del stop[field]
    with pytest.raises(ValidationError, match=field):
        Stop.model_validate_json(json.dumps(stop))


@pytest.mark.parametrize("minutes", [-1.0, 481.0])
def test_minutes_down_lie_within_a_working_day(minutes) -> None:
    with pytest.raises(ValidationError, match="minutes_down"):
        Stop.model_validate({**TYPES["slicer_blade"].stop.model_dump(), "minutes_down": minutes})


def test_a_site_may_say_both_stops_itself() -> None:
    nothing = TYPES["door_handle"].stop
    settled = effective_site(site(1, "slicer_blade", (12.0, 4.0), stop=nothing, stop_as_is=nothing), CATALOGUE)
    assert settled.stop_in("as_is") == settled.stop_in("opened") == nothing
