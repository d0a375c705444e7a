"""Figures: a mapping that names what is missing, and never changes."""

import pytest

from swabwright.errors import SwabwrightError
from swabwright.plant.figures import Figure, Figures, Override

SPLASH = Figure("mechanism.splash.fraction", 0.04, "share", "assumed", confirmed=False)
FIGURES = Figures({SPLASH.name: SPLASH})


def test_a_missing_figure_is_named_with_the_nearest_one() -> None:
    with pytest.raises(SwabwrightError, match=r"^no figure 'mechanism.splsh.fraction' in the catalogue; did you mean"):
        FIGURES.number("mechanism.splsh.fraction")


def test_in_and_get_work_as_on_any_mapping() -> None:
    assert SPLASH.name in FIGURES
    assert "mechanism.drip.fraction" not in FIGURES
    assert FIGURES.get("mechanism.drip.fraction") is None


def test_figures_under_a_prefix_lose_it() -> None:
    assert FIGURES.under("mechanism") == {"splash.fraction": SPLASH}


def test_an_override_leaves_the_first_registry_as_it_was() -> None:
    changed = FIGURES.changed((Override(SPLASH.name, 0.1, "H. Okafor", "measured here"),))
    assert (changed.number(SPLASH.name), FIGURES.number(SPLASH.name)) == (0.1, 0.04)
    assert changed[SPLASH.name].confirmed
