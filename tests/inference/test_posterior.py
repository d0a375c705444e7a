"""The posterior against an enumeration that shares no line with it."""

from dataclasses import replace

import numpy as np
import pytest
from builders.known import earlier_result, investigation, product_test, tiny_known
from builders.results import dense_rows, observed, results_at

from swabwright.belief.evidence import implicated_facts, product_facts
from swabwright.belief.known import Known
from swabwright.belief.prior import Prior, make_prior
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.cells import expected_cells
from swabwright.detection.draws import capacity_draws, item_draws
from swabwright.detection.model import DetectionModel, beta_moment, detection_model
from swabwright.detection.observed import Blanks, Counted, Observations, Observed
from swabwright.inference.posterior import Posterior, posterior
from swabwright.inference.reading import read

EVERY_HISTORY = 10_000
MIX = ((0, 2), (1, 3, 4))


@pytest.fixture(scope="module")
def known() -> Known:
    tests = (product_test(), product_test("detected"))
    return tiny_known(
        investigation=investigation(product_tests=tests, earlier_results=(earlier_result(),)), histories=40
    )


def prior_of(known: Known) -> Prior:
    return make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)


def answer(known: Known, observations: Observations) -> Posterior:
    return posterior(read(known, observations), prior_of(known), histories_a_pair=EVERY_HISTORY)


def site_chance(cells: np.ndarray, found: np.ndarray, rates: np.ndarray, model: DetectionModel) -> np.ndarray:
    """One site's results in every row, by a fine grid over z."""
    z = np.linspace(-8, 8, 1601)
    weight = np.exp(-0.5 * z**2) / np.exp(-0.5 * z**2).sum()
    miss = (1 - rates)[:, None, None] * np.exp(-cells[:, :, None] * np.exp(model.sigma * z))
    each = np.where(found[:, None, None], 1 - miss, miss)
    unexplained = beta_moment(int(found.sum()), int((~found).sum()), model.background_a, model.background_b)
    return model.unexplained * unexplained + (1 - model.unexplained) * each.prod(axis=0) @ weight


def enumerated(known: Known, results: tuple[Observed, ...]) -> tuple[np.ndarray, float]:
    """Marginal chance of each source, and the chance of two niches, with clean batches."""
    history, sources = dense_rows(len(known.bank.source_names), known.bank.histories)
    rows = HypothesisRows(history, sources, np.full(len(history), 1 / len(history)), known.bank.copy[history])
    items = tuple(one.item for one in results)
    catalogue, plant = known.setting.catalogue, known.setting.plant
    cells = expected_cells(known.bank, rows, items, item_draws(known.bank, plant, catalogue, items)).astype(float)
    prior, model = prior_of(known), detection_model(known.figures)
    one, two = prior.niches[0], prior.niches[1]
    pair = sources[:, 1] >= 0
    own = prior.weight[sources[:, 0]]
    weight = np.where(pair, 2 * two * own * prior.weight[sources[:, 1]] / prior.pair_sum, one * own)
    capacity = capacity_draws(known.bank, plant, catalogue)
    for fact in (*implicated_facts(known, rows, capacity), *product_facts(known, rows, capacity)):
        weight = weight * fact.factor
    found = np.array([one.detected for one in results])
    rates = np.full(len(results), model.false_positive)
    for key in {one.item.shared_key for one in results}:
        at = np.array([one.item.shared_key == key for one in results])
        weight = weight * site_chance(cells[at], found[at], rates[at], model)
    weight = weight / weight.sum()
    marginal = np.array([weight[(sources == place).any(axis=1)].sum() for place in range(len(prior.weight))])
    return marginal, float(weight[pair].sum())


@pytest.mark.parametrize(("found", "silent"), [((), (0, 1, 2, 3)), ((0,), ()), MIX])
def test_it_agrees_with_plain_enumeration_of_one_niche_and_two(
    known: Known, found: tuple[int, ...], silent: tuple[int, ...]
) -> None:
    results = results_at(known, found, silent)
    clean = read(known, Observations(results))
    made = posterior(replace(clean, states=clean.states[:1]), prior_of(known), histories_a_pair=EVERY_HISTORY)
    earlier = clean.results[len(results) :]
    marginal, two = enumerated(known, (*results, *earlier))
    assert made.marginal == pytest.approx(marginal, abs=2e-4)
    assert made.two_niches == pytest.approx(two, abs=2e-4)


def test_it_agrees_where_a_site_has_detections_among_repeats(known: Known) -> None:
    again = (observed(known, 0, detected=True, sample="again"), observed(known, 0, sample="a third"))
    results = (*results_at(known, (0,), (1, 2)), *again)
    clean = read(known, Observations(results))
    made = posterior(replace(clean, states=clean.states[:1]), prior_of(known), histories_a_pair=EVERY_HISTORY)
    marginal, _ = enumerated(known, (*results, *clean.results[len(results) :]))
    assert made.marginal == pytest.approx(marginal, abs=2e-4)


def test_the_order_of_results_changes_nothing(known: Known) -> None:
    results = results_at(known, *MIX)
    one, other = (answer(known, Observations(some)) for some in (results, results[::-1]))
    assert np.array_equal(one.single, other.single)
    assert np.array_equal(one.pairs, other.pairs)


def test_a_result_that_meets_no_cell_anywhere_changes_nothing(known: Known) -> None:
    results = results_at(known, *MIX)
    nothing = observed(known, 5, item={"recovery": 0.0}, batch="another")
    one, other = (answer(known, Observations(some)) for some in (results, (*results, nothing)))
    assert other.marginal == pytest.approx(one.marginal, abs=1e-12)


def test_repeats_at_one_site_saturate(known: Known) -> None:
    def after(times: int) -> float:
        repeats = tuple(observed(known, 0, sample=f"repeat {n}") for n in range(times))
        return float(answer(known, Observations(repeats)).marginal[0])

    chances = [after(times) for times in (0, 1, 2, 12)]
    assert chances == sorted(chances, reverse=True)
    assert chances[2] - chances[3] < chances[0] - chances[1]


def test_shares_sum_to_one_and_marginals_count_niches(known: Known) -> None:
    made = answer(known, Observations(results_at(known, *MIX)))
    assert made.share.sum() == pytest.approx(1.0)
    assert made.marginal.sum() == pytest.approx(1.0 + made.two_niches)


def test_pairs_by_turns_keep_the_prior_of_two_niches() -> None:
    known = tiny_known(investigation=investigation(implicated=()), histories=100)
    reading = read(known, Observations(()))
    made = [posterior(reading, prior_of(known), histories_a_pair=n).two_niches for n in (EVERY_HISTORY, 10)]
    one, two = prior_of(known).niches[:2]
    assert made == pytest.approx([two / (one + two)] * 2)


def test_leaving_a_sample_out_is_reading_without_it(known: Known) -> None:
    results = results_at(known, *MIX)
    left = posterior(read(known, Observations(results)).without(frozenset({"sample 2"})), prior_of(known))
    states = read(known, Observations(results)).states
    kept = tuple(one for one in results if one.sample != "sample 2")
    never = posterior(replace(read(known, Observations(kept)), states=states), prior_of(known))
    assert left.marginal == pytest.approx(never.marginal, abs=1e-9)


def test_a_detected_blank_weakens_what_a_detection_moves(known: Known) -> None:
    results = results_at(known, (0,), (1, 2))
    plain, doubtful = (
        answer(known, Observations(results, blanks)) for blanks in ((), (Blanks("visit-1", detected=1, silent=0),))
    )
    before = answer(known, Observations(()))
    assert abs(doubtful.marginal[0] - before.marginal[0]) < abs(plain.marginal[0] - before.marginal[0])


def test_a_high_count_says_more_than_a_detection_alone(known: Known) -> None:
    plain = observed(known, 0, detected=True)
    many = replace(plain, count=Counted(colonies=200, plated_fraction=0.1))
    marginals = [answer(known, Observations((one,))).marginal[0] for one in (plain, many)]
    assert marginals[1] > marginals[0]
