"""Facts move where it may live, and a fact that nothing explains is named."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from builders.known import EARLIER, earlier_result, investigation, product_test, tiny_known

from swabwright.belief.draw import draw_rows
from swabwright.belief.evidence import all_facts, kg_made, weigh
from swabwright.belief.known import Known
from swabwright.belief.prior import make_prior
from swabwright.belief.rows import HypothesisRows
from swabwright.case.investigation import Implicated
from swabwright.detection.draws import capacity_draws
from swabwright.errors import NothingFits, SwabwrightError


def rows_of(known: Known, count: int = 3000) -> HypothesisRows:
    """Rows by the prior alone."""
    prior = make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)
    return draw_rows(known.bank, prior, count, seed=3)


def share_at(rows: HypothesisRows, source: int) -> float:
    """Weight of the rows with a niche at a source."""
    return float(rows.weight[(rows.sources == source).any(axis=1)].sum())


KNOWN = tiny_known()
ROWS = rows_of(KNOWN)
SILENT = tiny_known(investigation=investigation(earlier_results=(earlier_result("S003"),) * 3))
FOUND = tiny_known(investigation=investigation(earlier_results=(earlier_result("S003", "detected"),)))


def test_an_implicated_line_weighs_by_load_over_load_plus_half_point() -> None:
    capacity = capacity_draws(KNOWN.bank, KNOWN.setting.plant, KNOWN.setting.catalogue)
    history, source = int(ROWS.history[0]), int(ROWS.sources[0, 0])
    load = 10.0 ** capacity[history, source] * KNOWN.bank.product[history, 0, :, source].sum()
    # Three days of twelve: the half point of 1,000 CFU is 250.
    assert all_facts(KNOWN, ROWS)[0].factor[0] == pytest.approx(load / (load + 250), rel=1e-5)


def test_belief_averaged_over_what_a_sample_may_show_is_the_belief_before_it() -> None:
    # The rule of total probability: a sample can move belief either way, but not on average.
    silent = tiny_known(investigation=investigation(earlier_results=(earlier_result("S003"),)))
    before = weigh(ROWS, all_facts(KNOWN, ROWS))
    facts = [all_facts(known, ROWS)[1] for known in (silent, FOUND)]
    chances = [float(before.weight @ fact.factor) for fact in facts]
    after = [share_at(weigh(before, (fact,)), 2) for fact in facts]
    assert sum(chances) == pytest.approx(1, abs=1e-5)
    assert np.dot(chances, after) == pytest.approx(share_at(before, 2), abs=1e-5)


def test_several_implicated_spans_multiply() -> None:
    spans = tuple(
        Implicated(line="line-a", first_day=day, last_day=day, said_by="x")
        for day in (date(2026, 3, 2), date(2026, 3, 4))
    )
    twice = tiny_known(investigation=investigation(implicated=spans))
    first, second = all_facts(twice, ROWS)
    expected = ROWS.weight * first.factor * second.factor
    assert weigh(ROWS, (first, second)).weight == pytest.approx(expected / expected.sum())


def test_an_earlier_detection_draws_belief_to_its_site() -> None:
    before, after = weigh(ROWS, all_facts(KNOWN, ROWS)), weigh(ROWS, all_facts(FOUND, ROWS))
    assert share_at(after, 2) > share_at(before, 2)


def test_earlier_silence_draws_belief_away_from_its_site() -> None:
    before, after = weigh(ROWS, all_facts(KNOWN, ROWS)), weigh(ROWS, all_facts(SILENT, ROWS))
    assert share_at(after, 2) < share_at(before, 2)


def test_order_of_earlier_results_is_irrelevant() -> None:
    results = (earlier_result("S003"), earlier_result("S001", "detected"), earlier_result("S003", "detected"))
    one, other = (
        weigh(ROWS, all_facts(tiny_known(investigation=investigation(earlier_results=order)), ROWS)).weight
        for order in (results, results[::-1])
    )
    assert one == pytest.approx(other, rel=1e-9)


def test_clear_product_draws_belief_away_from_what_loads_it() -> None:
    tested = tiny_known(investigation=investigation(implicated=(), product_tests=(product_test(kg_tested=25.0),) * 2))
    fact = all_facts(tested, ROWS)[0]
    load = all_facts(KNOWN, ROWS)[0].factor
    assert fact.factor[load > 0.9].mean() < fact.factor[load < 0.1].mean()


def test_detected_product_that_nothing_reaches_is_named() -> None:
    tests = investigation(implicated=(), product_tests=(product_test("detected"),))
    known = tiny_known(investigation=tests, product=np.zeros_like(KNOWN.bank.product))
    with pytest.raises(NothingFits, match=r"product of line line-a of 2026-03-03: 1 of 1 tests detected"):
        weigh(ROWS, all_facts(known, ROWS))


def test_an_implicated_line_that_nothing_reaches_is_named() -> None:
    known = tiny_known(product=np.zeros_like(KNOWN.bank.product))
    with pytest.raises(NothingFits, match=r"line line-a is implicated.*said by outbreak team"):
        weigh(ROWS, all_facts(known, ROWS))


def test_facts_that_only_clash_together_are_named() -> None:
    one, other = all_facts(KNOWN, ROWS)[0], all_facts(FOUND, ROWS)[1]
    half = np.arange(len(ROWS)) % 2 == 0
    clash = (replace(one, factor=np.where(half, one.factor, 0)), replace(other, factor=np.where(half, 0, other.factor)))
    with pytest.raises(NothingFits, match="together with the others"):
        weigh(ROWS, clash)


def test_an_unknown_line_is_refused_with_its_path() -> None:
    wrong = investigation(product_tests=(product_test(line="line-b"),))
    with pytest.raises(SwabwrightError, match=r"product_tests\[0\]\.line: no line 'line-b'; did you mean 'line-a'"):
        all_facts(tiny_known(investigation=wrong), ROWS)


def test_a_test_of_a_day_without_a_run_is_refused() -> None:
    line = KNOWN.setting.plant.lines[0]
    with pytest.raises(SwabwrightError, match="does not run on 2026-03-07"):
        kg_made(line, date(2026, 3, 7), "Europe/London", "product_tests[0]")


def test_kg_made_is_hours_without_breaks_times_kg_an_hour() -> None:
    # 06:00 to 14:00 less half an hour, 200 kg an hour.
    assert kg_made(KNOWN.setting.plant.lines[0], date(2026, 3, 3), "Europe/London", "x") == pytest.approx(1500)


def test_an_unknown_device_of_an_earlier_sample_is_refused() -> None:
    wrong = investigation(earlier_results=(earlier_result(device="XX"),))
    with pytest.raises(SwabwrightError, match=r"earlier_results\[0\]\.device: no device 'XX'"):
        all_facts(tiny_known(investigation=wrong), ROWS)


def test_a_bank_not_read_when_an_earlier_sample_was_taken_is_refused() -> None:
    late = earlier_result(taken_at=EARLIER.replace(hour=12))
    with pytest.raises(ValueError, match="was not read at"):
        all_facts(tiny_known(investigation=investigation(earlier_results=(late,))), ROWS)
