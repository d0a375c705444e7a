"""Figures set differently for a trial: the named ones move, all others stay."""

import pytest
from validation.published import Change, load_published
from validation.variations import changed

from swabwright.plant.registry import load_figures

FIGURES = load_figures()


def moved(change):
    after = changed(FIGURES, change)
    return {name for name in FIGURES if after[name] != FIGURES[name]}


def test_a_star_stands_for_any_part_of_a_name():
    after = changed(FIGURES, Change(figures="mechanism.*.rate_per_8h", times=10.0))
    assert after.number("mechanism.foot.rate_per_8h") == pytest.approx(
        10 * FIGURES.number("mechanism.foot.rate_per_8h")
    )


def test_figures_that_are_not_named_stay():
    reached = moved(Change(figures="mechanism.*.rate_per_8h", times=10.0))
    assert reached
    assert all(name.startswith("mechanism.") and name.endswith(".rate_per_8h") for name in reached)


def test_a_figure_can_be_raised_or_set():
    name = "prior.niches_one"
    assert changed(FIGURES, Change(figures=name, plus=0.1)).number(name) == pytest.approx(FIGURES.number(name) + 0.1)
    assert changed(FIGURES, Change(figures=name, to=0.0)).number(name) == 0.0


def test_a_change_that_reaches_nothing_is_refused():
    with pytest.raises(ValueError, match="no figure is called mechanism\\.teleport"):
        changed(FIGURES, Change(figures="mechanism.teleport"))


@pytest.mark.parametrize("variation", load_published().variations, ids=lambda one: one.id)
def test_every_change_of_the_page_reaches_a_figure(variation):
    assert all(moved(change) for change in variation.changes)
