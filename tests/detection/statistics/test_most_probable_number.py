"""Most probable number: the printed tables, and the laws of greatest likelihood."""

from itertools import product
from math import exp, inf, log

import pytest
from builders.golden import golden
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy.stats import binom

from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.most_probable_number import most_probable_number
from swabwright.detection.statistics.poisson_fit import Level

TABLE = golden("statistics", "most_probable_number")
LIMITS = golden("statistics", "most_probable_number_limits")
AMOUNTS = (0.1, 0.01, 0.001)


def tubes_of(grew, tubes=3, amounts=AMOUNTS):
    return [Level(amount, tubes, positive) for amount, positive in zip(amounts, grew, strict=True)]


def mixed(most=10):
    counts = st.lists(st.integers(0, most), min_size=3, max_size=3)
    return counts.filter(lambda grew: 0 < sum(grew) < 3 * most).map(lambda grew: tubes_of(grew, most))


def log_likelihood(tubes, number):
    return sum(binom.logpmf(one.positives, one.portions, 1 - exp(-one.amount * number)) for one in tubes)


@pytest.mark.parametrize("row", TABLE["rows"], ids=lambda row: "-".join(map(str, row["grew"])))
def test_three_tubes_give_the_number_printed(row):
    value = most_probable_number(tubes_of(row["grew"]), 0.95).value
    assert float(f"{value:.2g}") == row["per_g"]


def test_ten_tubes_give_number_limits_and_deviation_printed():
    found = most_probable_number(tubes_of(LIMITS["grew"], LIMITS["tubes"]), 0.95)
    assert found.value == pytest.approx(LIMITS["value"], abs=0.001)
    assert (found.interval.low, found.interval.high) == pytest.approx((LIMITS["low"], LIMITS["high"]), abs=0.01)
    assert found.log10_sd == pytest.approx(LIMITS["log10_sd"], abs=0.0001)


@given(mixed(), st.floats(1.001, 3.0))
def test_no_other_number_explains_the_tubes_better(tubes, factor):
    value = most_probable_number(tubes, 0.95).value
    best = log_likelihood(tubes, value)
    assert max(log_likelihood(tubes, value * factor), log_likelihood(tubes, value / factor)) <= best + 1e-9


@given(mixed(), st.floats(0.001, 1000.0))
def test_amounts_in_another_unit_change_only_the_unit(tubes, factor):
    other = [Level(one.amount * factor, one.portions, one.positives) for one in tubes]
    found, scaled = most_probable_number(tubes, 0.95), most_probable_number(other, 0.95)
    assert scaled.value * factor == pytest.approx(found.value)
    assert scaled.interval.high * factor == pytest.approx(found.interval.high)


@given(st.integers(1, 19), st.floats(0.001, 100.0))
def test_one_dilution_has_a_closed_form(grew, amount):
    value = most_probable_number([Level(amount, 20, grew)], 0.95).value
    assert value == pytest.approx(-log(1 - grew / 20) / amount)


@given(mixed(), st.integers(0, 2))
def test_one_more_tube_that_grew_means_more_organisms(tubes, place):
    one = tubes[place]
    assume(one.positives < one.portions)
    more = [*tubes[:place], Level(one.amount, one.portions, one.positives + 1), *tubes[place + 1 :]]
    assert most_probable_number(more, 0.95).value > most_probable_number(tubes, 0.95).value


def test_no_growth_leaves_a_one_sided_upper_limit():
    found = most_probable_number(tubes_of((0, 0, 0)), 0.95)
    missed = exp(-found.interval.high * 3 * sum(AMOUNTS))
    assert (found.value, found.interval.low, found.log10_sd) == (0.0, 0.0, None)
    assert missed == pytest.approx(0.05)
    assert found.sentence.startswith("No tube grew: fewer than 8.996 per g (exact, one-sided")


def test_growth_everywhere_leaves_a_one_sided_lower_limit():
    found = most_probable_number(tubes_of((3, 3, 3)), 0.95)
    assert (found.value, found.interval.high) == (inf, inf)
    assert exp(log_likelihood(tubes_of((3, 3, 3)), found.interval.low)) == pytest.approx(0.05)


def test_the_rarest_tubes_grew_everywhere_but_where_most_was_put():
    kinds = product(range(4), repeat=3)
    rarities = {grew: most_probable_number(tubes_of(grew), 0.95).rarity for grew in kinds}
    assert min(rarities, key=rarities.get) == (0, 3, 3)
    assert all(0 < one <= 1 for one in rarities.values())
    assert rarities[2, 0, 0] == 1.0


@pytest.mark.parametrize(
    ("call", "names"),
    [
        (lambda: most_probable_number([], 0.95), "levels: give at least one"),
        (lambda: most_probable_number(tubes_of((1, 0, 0)), 95), "level: 95"),
        (lambda: most_probable_number([Level(1, 3, 1), Level(1, 3, 0)], 0.95), "one amount stands twice"),
        (lambda: Level(0, 3, 1), "amount: 0 is not a finite number above 0"),
        (lambda: Level(0.1, 0, 0), "portions: 0"),
        (lambda: Level(0.1, 3, 4), "positives: 4 is more than the 3 of portions"),
    ],
)
def test_a_wrong_argument_is_named(call, names):
    with pytest.raises(ArgumentRefused, match=names):
        call()
