"""The square-root and the cardinal model of growth by temperature."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.detection.predictive.models import Cardinal, SquareRoot
from swabwright.detection.predictive.organisms import organisms_with_models
from swabwright.plant.figures import Figures, Override
from swabwright.plant.registry import load_figures
from swabwright.work.grow import grow

FIGURES = load_figures()


@st.composite
def cardinals(draw):
    minimum = draw(st.floats(-5.0, 10.0))
    optimum = minimum + draw(st.floats(20.0, 40.0))
    # Nearer to the maximum than to the minimum, as every organism's is and as the curve asks for.
    maximum = optimum + draw(st.floats(0.1, 0.9)) * (optimum - minimum)
    return Cardinal(draw(st.floats(0.1, 50.0)), minimum, optimum, maximum)


@given(st.floats(0.01, 0.5), st.floats(-5.0, 10.0), st.floats(0.0, 25.0))
def test_the_square_root_of_the_rate_is_a_straight_line(slope, minimum, above):
    model = SquareRoot(slope, minimum, 37.0)
    assert float(model.rate(np.array([minimum + above]))[0]) ** 0.5 == pytest.approx(slope * above, abs=1e-12)


@given(st.floats(-40.0, -0.3))
def test_nothing_grows_at_or_below_the_minimum(temperature):
    assert SquareRoot(0.071, -0.3, 37.0).rate(np.array([temperature])).tolist() == [0.0]


@given(st.floats(37.0, 80.0))
def test_the_square_root_rate_is_held_beyond_the_warmest(temperature):
    model = SquareRoot(0.071, -0.3, 37.0)
    assert model.rate(np.array([temperature])).tolist() == model.rate(np.array([37.0])).tolist()


@given(cardinals())
def test_the_cardinal_rate_rises_to_its_optimum_and_falls_from_it(model):
    up = model.rate(np.linspace(model.minimum_c, model.optimum_c, 60))
    down = model.rate(np.linspace(model.optimum_c, model.maximum_c, 60))
    hair = 1e-9 * model.rate_at_optimum
    assert np.all(np.diff(up) >= -hair)
    assert np.all(np.diff(down) <= hair)


@given(cardinals())
def test_the_cardinal_rate_is_its_height_at_the_optimum_and_nothing_at_both_ends(model):
    ends = model.rate(np.array([model.minimum_c, model.optimum_c, model.maximum_c]))
    assert ends.tolist() == pytest.approx([0.0, model.rate_at_optimum, 0.0], abs=1e-9)


@given(cardinals(), st.floats(0.1, 10.0))
def test_the_cardinal_rate_is_in_proportion_to_its_height(model, factor):
    taller = Cardinal(factor * model.rate_at_optimum, model.minimum_c, model.optimum_c, model.maximum_c)
    temperatures = np.linspace(model.minimum_c - 5, model.maximum_c + 5, 40)
    assert taller.rate(temperatures) == pytest.approx(factor * model.rate(temperatures))


def test_near_its_minimum_the_cardinal_rate_is_a_square_too():
    model = Cardinal(10.0, 4.0, 37.0, 46.0)
    one, two = model.rate(np.array([4.01, 4.02]))
    assert two / one == pytest.approx(4.0, rel=0.01)


def test_the_organisms_of_the_catalogue_are_three():
    assert organisms_with_models(FIGURES) == ("cronobacter", "listeria_monocytogenes", "salmonella")


@pytest.mark.parametrize("name", [name for name in FIGURES if name.startswith("organism.") and "cardinal" in name])
def test_a_figure_of_the_cardinal_model_lies_in_its_range_and_has_a_source(name):
    figure = FIGURES[name]
    assert figure.low <= figure.value <= figure.high
    assert figure.source


def test_an_overridden_figure_is_the_one_that_counts():
    doubled = Override("organism.salmonella.growth_sqrt_slope", 0.34, "A. Lead", "own data")
    figures = Figures(dict(FIGURES)).changed((doubled,))
    before, after = (
        grow([(0, 10), (24, 10)], "salmonella", of, model="square-root").value for of in (FIGURES, figures)
    )
    assert after == pytest.approx(4 * before)
