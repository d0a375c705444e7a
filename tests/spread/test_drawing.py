"""How finely a plant is drawn does not change what the model says of the rest of it."""

import numpy as np
import pytest
from builders.plants import site, tiny_plant, tiny_sites, twenty_site_plant
from builders.spreads import all_loads, bank_from, setting_of

HISTORIES = 2000
DRAIN = site(3, "drain_channel", (11.0, 1.0), drain="drain-1", area_cm2=4000.0)
"""Site 3 of the tiny plant, its area said."""


def split(whole, along=0.15):
    """Two pieces of a site, a third and two thirds of its area, side by side."""
    for n, part in enumerate((1 / 3, 2 / 3)):
        x, y = whole.position
        yield whole.model_copy(
            update={
                "key": f"{n + 100:032x}",
                "code": f"{whole.code}{'ab'[n]}",
                "area_cm2": whole.area_cm2 * part,
                "position": (x + along * (n - 2 / 3), y),
                "split_from": whole.key,
            }
        )


def with_drain(*pieces):
    others = tuple(s for s in twenty_site_plant().sites if s.code != "S003")
    return twenty_site_plant().model_copy(update={"sites": others + pieces})


def spread_of(plant, histories=HISTORIES):
    """Loads by name: mean over histories of what each source puts on each row."""
    bank = bank_from(setting_of(plant), histories, workers=2)
    return bank, all_loads(bank)


@pytest.fixture(scope="module")
def whole_and_split():
    return spread_of(with_drain(DRAIN)), spread_of(with_drain(*split(DRAIN)))


def rows_of(bank, names):
    return [bank.row_names.index(name) for name in names]


@pytest.mark.slow
def test_splitting_a_site_moves_what_it_puts_on_others_by_less_than_five_in_a_hundred(whole_and_split):
    (whole, before), (halves, after) = whole_and_split
    others = [name for name in whole.row_names if name != DRAIN.key]
    given = before[rows_of(whole, [DRAIN.key])[0], rows_of(whole, others)]
    for piece in (f"{100:032x}", f"{101:032x}"):
        now = after[rows_of(halves, [piece])[0], rows_of(halves, others)]
        assert abs(now.sum() / given.sum() - 1) < 0.05
        large = given > 0.01 * given.max()
        np.testing.assert_allclose(now[large], given[large], rtol=0.05)


@pytest.mark.slow
def test_splitting_a_site_moves_what_all_others_put_on_each_other_by_less_than_five_in_a_hundred(whole_and_split):
    (whole, before), (halves, after) = whole_and_split
    others = [name for name in whole.row_names if name != DRAIN.key]
    was = before[np.ix_(rows_of(whole, others), rows_of(whole, others))].sum(axis=0)
    now = after[np.ix_(rows_of(halves, others), rows_of(halves, others))].sum(axis=0)
    np.testing.assert_allclose(now, was, rtol=0.05)


@pytest.mark.slow
def test_the_pieces_of_a_site_together_receive_what_the_site_received(whole_and_split):
    (whole, before), (halves, after) = whole_and_split
    others = [name for name in whole.row_names if name != DRAIN.key]
    was = before[rows_of(whole, others), rows_of(whole, [DRAIN.key])[0]].sum()
    now = after[np.ix_(rows_of(halves, others), rows_of(halves, [f"{100:032x}", f"{101:032x}"]))].sum()
    assert abs(now / was - 1) < 0.05


@pytest.mark.slow
def test_drawing_one_more_site_moves_the_load_of_others_by_less_than_five_in_a_hundred():
    more = site(21, "cracked_floor", (13.0, 2.5), area_cm2=900.0)
    few, before = spread_of(tiny_plant())
    many, after = spread_of(tiny_plant(sites=(*tiny_sites(), more)))
    names = [name for name in few.row_names if not name.startswith("room:")]
    was = before[np.ix_(rows_of(few, names), rows_of(few, names))].sum(axis=0)
    now = after[np.ix_(rows_of(many, names), rows_of(many, names))].sum(axis=0)
    np.testing.assert_allclose(now, was, rtol=0.05)


def test_the_pieces_of_a_site_share_its_multipliers_events_and_cleaning():
    bank = bank_from(setting_of(with_drain(*split(DRAIN))))
    a, b = rows_of(bank, [f"{100:032x}", f"{101:032x}"])
    np.testing.assert_array_equal(bank.niche[:, :, a], bank.niche[:, :, b])
    np.testing.assert_array_equal(bank.founded_before[:, :, a], bank.founded_before[:, :, b])
