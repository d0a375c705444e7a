"""What can be sampled on a visit, and how the bank is read for it."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from builders.known import investigation, tiny_known, visit
from builders.plants import line_a, tiny_plant

from swabwright.belief.known import Known
from swabwright.detection.choices import Setting, build_items, item_at
from swabwright.detection.items import Item
from swabwright.detection.occasions import occasion_index
from swabwright.plant.document import Plant
from swabwright.plant.times import AgreedStop

KNOWN = tiny_known()
ITEMS = build_items(KNOWN.setting, KNOWN.bank)


def at_four() -> datetime:
    """Four in the morning of the visit's day."""
    return datetime(2026, 3, 5, 4, tzinfo=UTC)


def items_of(site: str, items: tuple[Item, ...] = ITEMS) -> list[tuple[str, str]]:
    """Device and mode of a site's items."""
    return [(item.device, item.mode) for item in items if item.site_code == site]


def with_visit(plant: Plant | None = None, **changes: object) -> tuple[Item, ...]:
    """The items of a changed visit."""
    one = investigation(visits=(visit(**changes),))
    known: Known = tiny_known(plant=plant, investigation=one)
    return build_items(known.setting, known.bank)


def test_every_surface_device_of_a_site_is_an_item() -> None:
    devices = {device for device, mode in items_of("S003") if mode == "as_is"}
    expected = KNOWN.setting.catalogue.site_types["drain_channel"].devices
    assert devices == {code for code in expected if KNOWN.setting.catalogue.devices[code].for_kind == "surface"}


def test_a_machine_opens_only_where_the_line_stands_long_enough() -> None:
    stop = AgreedStop(
        starts_at=datetime(2026, 3, 5, 10, tzinfo=UTC), ends_at=datetime(2026, 3, 5, 12, tzinfo=UTC), agreed_by="x"
    )
    stopped = tiny_plant(lines=(line_a(agreed_stops=(stop,)),))
    assert not [mode for _, mode in items_of("S001") if mode == "opened"]
    assert [mode for _, mode in items_of("S001", with_visit(stopped)) if mode == "opened"]


def test_nothing_is_opened_when_the_plant_will_not_open() -> None:
    assert {item.mode for item in with_visit(may_open=False, starts_at=at_four())} == {"as_is"}
    assert "opened" in {item.mode for item in with_visit(starts_at=at_four())}


def test_opening_takes_its_minutes_and_reaches_more() -> None:
    items = with_visit(starts_at=at_four())
    opened = next(item for item in items if item.mode == "opened")
    as_is = next(item for item in items if (item.site_code, item.device) == (opened.site_code, opened.device))
    assert opened.minutes == as_is.minutes + opened.opening_minutes > as_is.minutes
    assert opened.reach >= as_is.reach


def test_area_is_the_niche_and_its_surroundings_at_most_what_a_device_takes() -> None:
    for item in ITEMS:
        figures = KNOWN.figures
        assert item.area_cm2 <= figures.number(f"device.{item.device}.max_area_cm2")
        assert 0 < item.area_fraction <= 1


def test_a_routine_visit_takes_the_rulebooks_square() -> None:
    items = with_visit(purpose="routine")
    square = KNOWN.figures.number("rule.routine_area_cm2")
    assert {item.area_cm2 for item in items if item.device == "SP" and item.area_fraction < 1} == {square}


def test_a_named_spot_is_hit_for_certain_else_by_area() -> None:
    plant = tiny_plant()
    named = plant.sites[2].model_copy(update={"spot": "joint of the channel"})
    items = with_visit(plant.model_copy(update={"sites": (*plant.sites[:2], named, *plant.sites[3:])}))
    assert all(item.hit_chance == 1 for item in items if item.site_code == "S003")
    assert all(item.hit_chance == item.area_fraction for item in items if item.site_code == "S004")


@pytest.mark.parametrize(("people", "factor"), [(1, 1.5), (2, 1.0), (3, 0.85), (4, 0.85)])
def test_minutes_follow_the_size_of_the_team(people: int, factor: float) -> None:
    usual, changed = (
        next(i for i in items if i.mode == "as_is") for items in (ITEMS, with_visit(people_per_team=people))
    )
    assert changed.minutes == pytest.approx(usual.minutes * factor)


def test_items_sit_on_the_row_of_their_site() -> None:
    assert all(KNOWN.bank.row_names[item.row] == item.site_key for item in ITEMS)


def test_an_item_is_read_at_the_phase_in_which_it_is_taken() -> None:
    long = visit(starts_at=at_four(), ends_at=datetime(2026, 3, 5, 15, tzinfo=UTC))
    known = tiny_known(investigation=investigation(visits=(long,)))
    early = item_at(known.setting, build_items(known.setting, known.bank)[0], at_four(), known.bank)
    assert known.bank.occasions[early.occasion].phase == "before_start"


def test_a_phase_that_was_not_read_takes_the_nearest() -> None:
    assert occasion_index(KNOWN.bank.occasions, visit(), "last_hour") == 0


def test_a_bank_without_the_visit_is_refused() -> None:
    bank = replace(KNOWN.bank, occasions=KNOWN.bank.occasions[1:])
    with pytest.raises(ValueError, match="no occasion of visit 'visit-1'"):
        build_items(Setting(KNOWN.setting.plant, KNOWN.setting.catalogue, visit()), bank)
