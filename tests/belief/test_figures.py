"""Figures of detection and belief: each has a range that holds its value, a source, and words for the reader."""

from pathlib import Path

import numpy as np
import pytest

import swabwright.belief.estimate as estimate
import swabwright.belief.presence as presence
from swabwright.detection.model import detection_model
from swabwright.errors import SwabwrightError
from swabwright.plant.figures import Figures, Override
from swabwright.plant.registry import load_figures

FIGURES = load_figures()
GROUPS = ("recovery.", "reach.", "capacity.", "viability.", "detection.", "background.", "prior.", "evidence.")
OURS = [name for name in FIGURES if name.startswith((*GROUPS, "product_test.", "presence."))]
PAGE = Path(__file__).parents[2] / "docs" / "explanation" / "what-not-detected-means.md"


@pytest.mark.parametrize("name", OURS)
def test_a_figure_lies_in_its_range_and_has_a_source(name: str) -> None:
    figure = FIGURES[name]
    assert figure.source
    assert (figure.low if figure.low is not None else figure.value) <= figure.value
    assert (figure.high if figure.high is not None else figure.value) >= figure.value


def test_mean_background_rate_is_three_in_a_hundred() -> None:
    assert detection_model(FIGURES).background(1, 0) == pytest.approx(0.03)


def test_chances_of_one_two_and_three_niches_sum_to_one() -> None:
    assert sum(FIGURES.number(f"prior.niches_{word}") for word in ("one", "two", "three")) == pytest.approx(1)


def test_recovery_of_dry_steel_explains_what_was_missed_after_an_hour_of_drying() -> None:
    # 100 CFU on 250 cm2 missed by 4 to 11 in 100 samples: expected cells of -ln 0.11 to -ln 0.04, 2.2 to 3.2 in 100.
    assert -np.log(0.11) / 100 <= FIGURES.number("recovery.dry") <= -np.log(0.04) / 100


@pytest.mark.parametrize(("name", "value"), [("detection.unexplained", 1.0), ("detection.sigma", -1.0)])
def test_a_figure_that_cannot_be_is_refused(name: str, value: float) -> None:
    changed = Figures(dict(FIGURES)).changed((Override(name, value, "x", "x"),))
    with pytest.raises(SwabwrightError, match="detection"):
        detection_model(changed)


@pytest.mark.parametrize("says", [estimate.chance, estimate.chance_of_finding, estimate.chance_of_hitting])
def test_a_chance_leaves_the_engine_only_with_range_and_basis(says: object) -> None:
    assert says.__annotations__["return"].__name__ == "Chance"  # type: ignore[attr-defined]
    assert set(estimate.Chance.model_fields) == {"value", "low", "high", "basis"}


def test_presence_holds_two_chances_and_no_bare_number() -> None:
    fields = presence.not_detected_means.__annotations__["return"].model_fields
    assert {field.annotation for field in fields.values()} == {estimate.Chance}


def test_the_page_on_not_detected_quotes_the_figures_in_use() -> None:
    page = PAGE.read_text(encoding="utf-8")
    assert f"({FIGURES.number('detection.unexplained') * 100:.0f} in 100 by default)" in page
    assert f"dispersion of {FIGURES.number('product_test.dispersion'):g} (0.05 to 1; assumed)" in page


@pytest.mark.parametrize("word", ["negative", " clean.", " safe", "cleared", "caused"])
def test_the_page_on_not_detected_keeps_to_the_words_of_the_trade(word: str) -> None:
    assert word not in PAGE.read_text(encoding="utf-8").lower()
