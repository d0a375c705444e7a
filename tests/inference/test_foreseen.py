"""What a laboratory would say of a further sample, and whether it came in."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from builders.items import item
from builders.known import tiny_known
from builders.results import observed, results_at

from swabwright.belief.believe import Belief, incoming_sources
from swabwright.belief.influence import influence
from swabwright.belief.known import Known
from swabwright.belief.outcome import cells_of
from swabwright.belief.prior import make_prior
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.factor import SiteResults, site_factor
from swabwright.detection.model import detection_model
from swabwright.detection.observed import MaterialTest, Observations
from swabwright.inference.came_in import moved_by
from swabwright.inference.foreseen import foreseen_chances
from swabwright.inference.labels import merged
from swabwright.inference.particles import particles
from swabwright.inference.posterior import posterior
from swabwright.inference.reading import read
from swabwright.plant.figures import Figures


@pytest.fixture(scope="module")
def known() -> Known:
    return tiny_known(histories=60)


def rows_after(known: Known, found=(0,), silent=(1, 2)) -> HypothesisRows:
    prior = make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)
    reading = read(known, Observations(results_at(known, found, silent)))
    return merged(particles(reading, prior, posterior(reading, prior), 800))


def new_item(known: Known, place: int):
    return item(place, site_key=known.bank.row_names[place])


def with_past(known: Known, times: int, place: int = 0) -> Known:
    return replace(
        known, since=tuple(observed(known, place, sample=f"s{n}", false_positive=0.001) for n in range(times))
    )


def test_it_is_the_ratio_of_the_sites_chance_with_and_without_the_sample(known: Known) -> None:
    rows, items, model = rows_after(known), (new_item(known, 0),), detection_model(known.figures)
    cells = cells_of(known, rows, items)
    past = SiteResults(cells, np.array([True]), np.array([0.001]))
    both = SiteResults(np.concatenate([cells, cells]), np.array([True, False]), np.array([0.001, model.false_positive]))
    since = replace(known, since=(observed(known, 0, detected=True, false_positive=0.001),))
    wanted = 1 - site_factor(both, model) / site_factor(past, model)
    assert foreseen_chances(since, rows, items)[0] == pytest.approx(wanted, abs=1e-6)


def test_a_sample_without_a_cell_is_detected_by_mistake_only(known: Known) -> None:
    rows, model = rows_after(known), detection_model(known.figures)
    nothing = replace(new_item(known, 3), recovery=0.0)
    chance = foreseen_chances(known, rows, (nothing,))[0]
    wanted = model.unexplained * model.background(1, 0) + (1 - model.unexplained) * model.false_positive
    assert chance == pytest.approx(wanted, rel=1e-4)


def test_a_site_sampled_many_times_in_vain_says_ever_less(known: Known) -> None:
    rows, items = rows_after(known), (new_item(known, 4),)
    spread = [float(np.std(foreseen_chances(with_past(known, times, 4), rows, items))) for times in (0, 2, 8)]
    assert spread[0] > spread[1] > spread[2]


def test_results_of_visits_count_beside_those_of_the_investigation(known: Known) -> None:
    rows, items = rows_after(known), (new_item(known, 0),)
    before, after = (foreseen_chances(one, rows, items) for one in (known, with_past(known, 3)))
    assert (after < before)[before > 0.05].all()


def test_other_figures_of_recovery_move_samples_taken_before(known: Known) -> None:
    since = with_past(known, 1)
    one = known.figures["recovery.wet"]
    doubled = Figures({**known.figures, "recovery.wet": replace(one, value=one.value * 2)})
    assert since.under(doubled).since[0].item.recovery == pytest.approx(2 * since.since[0].item.recovery)


def belief_of(known: Known) -> Belief:
    prior = make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)
    rows = rows_after(known, found=(), silent=())
    return Belief(known, prior, rows, rows)


def test_material_that_shows_it_speaks_for_coming_in_and_silence_against(known: Known) -> None:
    belief = belief_of(known)
    test = MaterialTest("pack", "incoming", "line-a", date(2026, 3, 3), 0.125, 5, detected=True)
    moved, weight = moved_by(belief, test), belief.rows.weight
    before = float(weight @ moved.came_in)
    detected, silent = (float(moved.given(weight, found=found) @ moved.came_in) for found in (True, False))
    assert silent < before < detected


def test_before_and_after_of_a_material_test_agree_on_average(known: Known) -> None:
    belief = belief_of(known)
    test = MaterialTest("pack", "product", "line-a", date(2026, 3, 3), 0.125, 5, detected=True)
    moved, weight = moved_by(belief, test), belief.rows.weight
    chance = float(weight @ moved.detected)
    both = [float(moved.given(weight, found=found) @ moved.came_in) for found in (True, False)]
    assert chance * both[0] + (1 - chance) * both[1] == pytest.approx(float(weight @ moved.came_in))
    assert incoming_sources(known).sum() > 0


def test_figures_that_move_a_later_plan_are_weighed_on_hypotheses_that_explain_the_results(known: Known) -> None:
    since = with_past(known, 2)
    belief = replace(belief_of(known), known=since)
    moved = dict(influence(belief, (new_item(known, 1), new_item(known, 4))))
    assert moved["recovery.wet"] > 0
    assert all(np.isfinite(points) for points in moved.values())
