"""The chance that it is gone in several readings, and its range."""

import numpy as np
import pytest
from builders.aftermaths import RATES, begun, round_at, single_rows, three_banks

from swabwright.belief.prior import make_prior
from swabwright.inference.clearance_fates import Treated
from swabwright.inference.clearance_readings import read_several

PAST, LATER = (0, 1, 2), (0, 1, 3)


def treated(chance):
    return [Treated(source, 0, chance) for source in range(9)]


@pytest.fixture(scope="module")
def banks():
    return three_banks()


def several(banks, past, acted=None):
    known = banks[0]
    prior = make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)
    return read_several(begun(banks, treated(0.6)), past, RATES, prior, acted=acted or {})


def test_a_range_holds_its_value_and_every_other_reading(banks):
    acted = {f"actions {end}": begun(banks, treated(p)) for end, p in (("low", 0.3), ("high", 0.85))}
    read = several(banks, round_at(banks, 0, PAST, found=(0,)), acted).after(round_at(banks, 2, LATER), RATES)
    values = [one.chance_gone for _, one in read.others]
    assert read.chance.low <= min(values) < read.chance.value < max(values) <= read.chance.high
    assert len(values) == 6


def test_before_any_round_only_actions_move_the_chance(banks):
    read = several(banks, round_at(banks, 0, PAST, found=(0,)))
    assert [one.chance_gone for _, one in read.others] == pytest.approx([0.6] * 4)


def test_a_higher_recovery_takes_more_from_not_detected(banks):
    read = several(banks, ()).after(round_at(banks, 3, LATER), RATES)
    others = dict(read.others)
    assert others["recovery high"].chance_gone > read.plain.chance_gone > others["recovery low"].chance_gone


def test_the_basis_names_the_readings_and_who_set_the_prior(banks):
    said = several(banks, ()).chance.basis
    assert "recovery low" in said
    assert "prior by the catalogue" in said


def test_a_reading_with_another_prior_moves_weight_between_sources(banks):
    rows = single_rows(banks[0], (0, 1, 2))
    plain = several(banks, ())
    even = dict(plain.others)["30 in 100 of the prior even"]
    of_source = [np.bincount(rows.sources[one.states.of, 0], one.states.rows.weight) for one in (plain.plain, even)]
    assert not np.allclose(*of_source)


def acted_alike(banks):
    acted = {f"actions {end}": begun(banks, treated(p)) for end, p in (("low", 0.3), ("high", 0.85))}
    return several(banks, round_at(banks, 0, PAST, found=(0,)), acted)


def test_readings_that_share_their_cells_say_what_each_says_alone(banks):
    read, later = acted_alike(banks), round_at(banks, 2, LATER)
    alone = {words: one.after(later, RATES).chance_gone for words, one in read.others}
    assert {words: one.chance_gone for words, one in read.after(later, RATES).others} == pytest.approx(alone)


def test_only_readings_of_another_recovery_have_cells_of_their_own(banks):
    read = acted_alike(banks)
    unlike = [words for words, one in read.others if not one.recovers_like(read.plain)]
    assert unlike == ["recovery low", "recovery high"]
