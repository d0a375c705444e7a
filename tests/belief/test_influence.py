"""Which unconfirmed figures move the chance of finding."""

import numpy as np
import pytest
from builders.known import tiny_known

from swabwright.belief.believe import believe
from swabwright.belief.influence import (
    by_multipliers,
    figure_of_multiplier,
    figures_to_try,
    first_histories,
    influence,
    weighted_slopes,
)
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.choices import build_items

KNOWN = tiny_known()
ITEMS = tuple(item for item in build_items(KNOWN.setting, KNOWN.bank) if item.device == "SP")[:4]
BELIEF = believe(KNOWN, 2500)


def test_influence_is_sorted_and_never_negative() -> None:
    found = influence(BELIEF, ITEMS)
    points = [value for _, value in found]
    assert points == sorted(points, reverse=True)
    assert min(points) >= 0
    assert points[0] > 0.5


def test_only_unconfirmed_figures_are_listed() -> None:
    assert not [name for name, _ in influence(BELIEF, ITEMS) if KNOWN.figures[name].confirmed]


def test_reach_of_the_sampled_types_is_tried_and_of_others_is_not() -> None:
    names = figures_to_try(KNOWN, ITEMS[:1])
    assert "site_type.belt_product_side.reach_as_is" in names
    assert "site_type.cart_wheel.reach_as_is" not in names


def test_a_multiplier_that_moves_the_chance_is_found_by_regression() -> None:
    draw = np.random.default_rng(0)
    logs = draw.normal(size=(300, 2))
    history = np.repeat(np.arange(300), 5).astype(np.int32)
    rows = HypothesisRows(history, np.zeros((1500, 3), np.int32), np.full(1500, 1 / 1500), np.zeros(1500, np.int16))
    values = 0.5 + 0.05 * logs[history, 1] + 0.02 * draw.normal(size=1500)
    slopes = weighted_slopes(values, rows, logs)
    assert slopes[1] == pytest.approx(0.05, abs=0.005)
    assert abs(slopes[0]) < 0.003


def test_noise_between_histories_is_shrunk_away() -> None:
    draw = np.random.default_rng(4)
    rows = HypothesisRows(
        np.arange(40, dtype=np.int32), np.zeros((40, 3), np.int32), np.full(40, 1 / 40), np.zeros(40, np.int16)
    )
    slopes = weighted_slopes(draw.uniform(size=40), rows, draw.normal(size=(40, 6)))
    assert (slopes == 0).mean() >= 0.4


def test_multipliers_without_a_figure_are_left_out() -> None:
    odd = tiny_known(multipliers={"something.else": np.ones(100, np.float32)})
    assert by_multipliers(believe(odd, 1500), ITEMS) == {}


def test_the_first_histories_are_a_bank_of_their_own() -> None:
    few = first_histories(KNOWN.bank, 10)
    assert few.histories == 10
    assert (few.column(3, 0, 2).loads == KNOWN.bank.column(3, 0, 2).loads).all()


@pytest.mark.parametrize(
    ("multiplier", "figure"),
    [
        ("rate.splash", "mechanism.splash.rate_per_8h"),
        ("fraction.line", "mechanism.line.fraction"),
        ("shedding", "history.shedding_ln_sd"),
        ("die_off", "history.die_off_ln_sd"),
        ("something.else", None),
    ],
)
def test_a_stored_multiplier_is_known_by_its_figure(multiplier: str, figure: str | None) -> None:
    assert figure_of_multiplier(multiplier, KNOWN.figures) == figure


def test_a_multiplier_of_all_sites_is_weighed_over_its_own_spread() -> None:
    draw = np.random.default_rng(8)
    shedding = np.exp(draw.normal(size=100)).astype(np.float32)
    points = by_multipliers(believe(tiny_known(multipliers={"shedding": shedding}), 1500), ITEMS)
    assert set(points) == {"history.shedding_ln_sd"}
    assert 0 <= points["history.shedding_ln_sd"] < 100
