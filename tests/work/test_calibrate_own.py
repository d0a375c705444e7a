"""Truths of the engine's own model: drawn as the prior says, shown as the detection model says."""

from dataclasses import replace

import numpy as np
import pytest
from builders.items import item
from builders.known import earlier_result, investigation, product_test, tiny_known

from swabwright.belief.evidence import implicated_facts
from swabwright.belief.outcome import cells_of
from swabwright.belief.prior import make_prior
from swabwright.detection.draws import capacity_draws
from swabwright.detection.factor import SiteResults, site_factor
from swabwright.detection.model import detection_model
from swabwright.inference.posterior import at_most_two
from swabwright.work import calibrate_own
from swabwright.work.calibrate_own import OwnTruths, as_observed, draw_results, draw_truths

COUNT = 4000


@pytest.fixture(scope="module")
def known():
    return tiny_known(investigation=investigation(implicated=()))


@pytest.fixture(scope="module")
def prior(known):
    return make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)


@pytest.fixture(scope="module")
def truths(known, prior):
    return draw_truths(known, prior, COUNT, np.random.default_rng(1))


def sample(known, place, **changed):
    return item(place, site_key=known.bank.row_names[place], **changed)


def with_clean_batches(truths):
    changed = {"batch.contaminated": replace(truths.known.figures["batch.contaminated"], value=0.0)}
    return OwnTruths(truths.known.under(type(truths.known.figures)({**truths.known.figures, **changed})), truths.rows)


def test_niches_are_drawn_as_often_as_the_prior_says(truths, prior):
    one, two = at_most_two(prior)
    first = truths.rows.sources[:, 0]
    paired = truths.rows.sources[:, 1] >= 0
    assert paired.mean() == pytest.approx(two, abs=4 * np.sqrt(one * two / COUNT))
    met = np.bincount(first[~paired], minlength=len(prior.weight)) / (~paired).sum()
    assert np.abs(met - prior.weight).max() < 4 * np.sqrt(0.25 / COUNT)


def test_no_truth_has_both_niches_at_one_place(truths):
    assert all(len(set(truths.niches(row))) == len(truths.niches(row)) for row in range(COUNT))


def test_facts_pick_the_truths_that_explain_them(truths, prior):
    suspected = tiny_known()
    told = draw_truths(suspected, prior, COUNT, np.random.default_rng(2)).rows
    capacity = capacity_draws(suspected.bank, suspected.setting.plant, suspected.setting.catalogue)
    chance = [implicated_facts(suspected, rows, capacity)[0].factor for rows in (told, truths.rows)]
    # picked in proportion to the factor, its mean becomes its mean square over its mean
    assert chance[0].mean() == pytest.approx((chance[1] ** 2).mean() / chance[1].mean(), rel=0.03)


def test_truths_hardly_repeat_each_other_where_few_hypotheses_explain_the_facts(prior, monkeypatch):
    monkeypatch.setattr(calibrate_own, "CANDIDATES", 300)
    found = investigation(product_tests=(product_test("detected"),))
    rows = draw_truths(tiny_known(investigation=found, histories=4000), prior, 200, np.random.default_rng(3)).rows
    apart = np.unique(np.column_stack([rows.history, np.sort(rows.sources, axis=1)]), axis=0)
    assert len(apart) > 150


def test_two_samples_of_one_site_show_what_the_site_factor_says(truths):
    clean = with_clean_batches(truths)
    items = (sample(clean.known, 0), sample(clean.known, 0, mode="opened"))
    found = draw_results(clean, items, np.random.default_rng(4))
    model, cells = detection_model(clean.known.figures), cells_of(clean.known, clean.rows, items)
    for wanted in ((True, True), (True, False), (False, False)):
        factor = site_factor(SiteResults(cells, np.array(wanted), np.full(2, model.false_positive)), model)
        seen = (found == np.array(wanted)[:, None]).all(axis=0)
        assert seen.mean() == pytest.approx(factor.mean(), abs=4 * np.sqrt(0.25 / COUNT))


def test_a_contaminated_batch_shows_more_everywhere(truths):
    changed = {"batch.contaminated": replace(truths.known.figures["batch.contaminated"], value=1.0)}
    figures = type(truths.known.figures)({**truths.known.figures, **changed})
    dirty = OwnTruths(truths.known.under(figures), truths.rows)
    items = tuple(sample(truths.known, place) for place in range(3))
    shown = [draw_results(one, items, np.random.default_rng(5)).mean() for one in (dirty, with_clean_batches(truths))]
    assert shown[0] - shown[1] > 0.05


def test_results_become_observations_of_one_batch(known):
    items = (sample(known, 0), sample(known, 1))
    read = as_observed(items, np.array([True, False]), "visit-1").results
    assert [(one.item, one.detected, one.batch) for one in read] == [
        (items[0], True, "visit-1"),
        (items[1], False, "visit-1"),
    ]


def test_earlier_results_would_move_the_truths(prior):
    known = tiny_known(investigation=investigation(implicated=(), earlier_results=(earlier_result(result="detected"),)))
    moved = draw_truths(known, prior, COUNT, np.random.default_rng(6)).rows.sources[:, 0]
    assert (moved == known.bank.row_names.index(known.setting.plant.sites[2].key)).mean() > 2 * prior.weight[2]
