"""Growth over typed readings: what no logger could have read is refused by its place."""

import pytest

from swabwright.errors import SwabwrightError
from swabwright.plant.registry import load_figures
from swabwright.work.grow import grow

FIGURES = load_figures()


def grown(*readings):
    return grow(readings, "listeria_monocytogenes", FIGURES, model="square-root")


@pytest.mark.parametrize("degrees", [1200.0, -300.0])
def test_a_temperature_that_no_logger_reads_is_refused_with_its_place(degrees):
    with pytest.raises(SwabwrightError, match=rf"temperatures: readings\[1\]: {degrees:g} C lies outside"):
        grown((0.0, 4.0), (6.0, degrees))


def test_the_edges_of_what_a_logger_reads_are_taken():
    edges = [FIGURES.number(f"cold_chain.{name}_reading_c") for name in ("coldest", "warmest")]
    assert grown((0.0, edges[0]), (1.0, edges[1])).hours == 1.0


def test_a_reading_that_is_no_number_is_still_named_as_such():
    with pytest.raises(SwabwrightError, match=r"readings\[1\]: 6 h, nan C is not a reading"):
        grown((0.0, 4.0), (6.0, float("nan")))
