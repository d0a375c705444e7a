"""What moved the findings: results one by one, other priors, figures, blanks, presence, ways."""

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest
from builders.findings import findings_tiny, opened_tiny, read_strain, read_tiny, result, sample_at, told, usual_tiny
from builders.known import earlier_result, investigation
from builders.plants import tiny_plant

from swabwright.detection.observed import Blanks, MaterialTest, Observations
from swabwright.errors import NothingFits
from swabwright.inference.founding import marginal_founded
from swabwright.inference.leave_out import HISTORIES_A_PAIR, leave_each_out
from swabwright.inference.other_priors import other_priors
from swabwright.inference.posterior import posterior
from swabwright.inference.quantities import niche_within
from swabwright.inference.reading import read_results
from swabwright.work.findings_compose import compose_findings
from swabwright.work.findings_detections import detections
from swabwright.work.findings_presence import presence_of
from swabwright.work.findings_results import contaminated

FOUND, SILENT = (2, 3), (1, 5)


@pytest.fixture(scope="module")
def read():
    return read_tiny(FOUND, SILENT)


@pytest.fixture(scope="module")
def findings():
    return findings_tiny(FOUND, SILENT)


def test_leaving_a_result_out_is_reading_the_others_alone(read):
    one = read.one
    for without in leave_each_out(one.reading, one.prior, one.after, one.observations):
        others = tuple(each for each in one.observations.results if each.sample != without.sample)
        alone = read_results(one.known, others, one.reading.states, one.reading.facts)
        expected = posterior(alone, one.prior, histories_a_pair=HISTORIES_A_PAIR)
        assert without.without_it == pytest.approx(expected.marginal, abs=0.02)


def test_a_sample_without_a_cell_moves_nothing():
    def blind(results):
        return [*results, replace(results[0], sample="blind", item=blinded(results[0].item, 5), detected=False)]

    read = read_tiny((2,), (), change=blind)
    weights = {
        one.sample: one for one in leave_each_out(read.one.reading, read.one.prior, read.after, read.one.observations)
    }
    assert np.abs(weights["blind"].points).max() == pytest.approx(0, abs=1e-9)


def blinded(item, key):
    return replace(item, site_key=f"{key:032x}", draws_key=f"{key:032x}", recovery=0.0)


def test_every_result_that_was_read_has_its_weight(findings):
    assert {one.sample for one in findings.weights} == {one.sample for one in findings.results}


def test_tests_of_product_are_weighed_beside_surfaces():
    day = investigation().implicated[0].last_day
    test = MaterialTest("jar 1", "product", "line-a", day, 0.125, 5, detected=True)
    tested = findings_tiny((2,), (1,), materials=(test,))
    weights = {one.sample: one for one in tested.weights}
    assert weights["jar 1"].site_name == f"product of Line A of {day}"
    assert [one.kind for one in tested.results if one.sample == "jar 1"] == ["product"]


def test_earlier_results_are_read_and_said():
    opened = opened_tiny(earlier_results=(earlier_result(),))
    found = findings_tiny((2,), (1,), opened=opened)
    assert any(one.startswith("1 earlier result of the investigation read") for one in found.taken_on_trust)
    assert len(found.weights) == 2


def test_a_detection_raises_and_silence_lowers_some_place(findings):
    by_sample = {one.sample: one for one in findings.weights}
    assert by_sample["sample 3"].raised.points > 0
    assert by_sample["sample 1"].lowered.points < 0


def test_other_priors_differ_in_the_weights_of_drawn_sites_alone(read):
    prior, names = read.one.prior, read.one.known.bank.source_names
    drawn = np.array([":" not in name for name in names])
    for other in other_priors(read.one.known, prior):
        assert other.weight[~drawn] == pytest.approx(prior.weight[~drawn])
        assert (other.weight.sum(), other.niches.tolist()) == (pytest.approx(1), prior.niches.tolist())


def test_every_site_alike_means_every_site_alike(read):
    even, by_type = other_priors(read.one.known, read.one.prior)
    drawn = [at for at, name in enumerate(even.source_names) if ":" not in name]
    assert np.ptp(even.weight[drawn]) == pytest.approx(0)
    drains = [read.spots.at(code) for code in ("S003", "S004")]
    assert np.ptp(by_type.weight[drains]) == pytest.approx(0)


def test_findings_under_other_priors_tell_of_the_same_leading_place(findings):
    assert {one.leading.place for one in findings.other_priors} == {findings.places[0].place}
    assert [one.words for one in findings.other_priors] == ["every drawn site alike", "the site type alone"]


def test_a_group_holds_a_niche_unless_all_niches_are_outside(read):
    after, inside = read.after, [0, 2, 3]
    outside = [at for at in range(len(read.spots.every)) if at not in inside]
    missed = after.single[:, outside].sum() + after.pairs[np.ix_(outside, outside)].sum()
    assert niche_within(inside)(after).value == pytest.approx(1 - missed / after.total)


def test_assumptions_stand_in_order_of_what_they_move(findings):
    points = [one.figure.influence for one in findings.assumptions]
    assert points == sorted(points, reverse=True)
    assert points[-1] > 0


def test_nothing_that_was_measured_stands_among_the_assumptions(read, findings):
    figures = read.one.known.figures
    assert not any(figures[one.figure.name].confirmed for one in findings.assumptions)


def long_ago():
    """A case whose first result is older than the days that are suspected, so that niches may be younger than it."""
    return opened_tiny(earlier_results=(earlier_result(taken_at=datetime(2026, 2, 26, 10, tzinfo=UTC)),))


def test_the_usual_share_of_old_niches_changes_nothing_and_another_does():
    after = read_tiny((2,), (1,), opened=long_ago()).after
    usual = after.known.figures.number("history.founded_before_share")
    assert marginal_founded(after, usual) == pytest.approx(after.marginal)
    assert np.abs(marginal_founded(after, 0.9) - after.marginal).max() > 1e-4


def test_the_age_of_niches_is_told_where_results_can_tell_it():
    told = findings_tiny((2,), (1,), opened=long_ago())
    assert "history.founded_before_share" in {one.figure.name for one in told.assumptions}


def test_a_detected_blank_puts_the_batch_in_doubt():
    quiet, loud = (read_tiny(FOUND, SILENT, blanks=(Blanks("visit-1", found, 2 - found),)) for found in (0, 1))
    assert contaminated(quiet.after, "visit-1") < contaminated(loud.after, "visit-1")


def test_silence_lowers_the_chance_that_it_lives_here():
    means = presence_of(read_tiny((), (1, 2, 3, 4)))
    assert means.after.low <= means.after.value <= means.after.high
    assert means.after.value < means.before.value == 0.7


def test_samples_without_a_cell_leave_presence_where_it_was():
    means = presence_of(
        read_tiny((), (3,), change=lambda results: [replace(results[0], item=blinded(results[0].item, 3))])
    )
    assert means.after.value == pytest.approx(means.before.value, abs=1e-12)


def test_a_detection_leaves_presence_aside(findings):
    assert findings.presence is None


def test_detections_that_no_hypothesis_reaches_are_refused_by_name():
    def blind(results):
        return [replace(one, item=replace(one.item, recovery=0.0)) for one in results]

    with pytest.raises(NothingFits, match=r"no hypothesis explains .* \(S003\), sample sample 3, more than 99 in 100"):
        detections(read_tiny((3,), (), change=blind))


def test_the_hardest_to_explain_stands_first_and_three_at_most():
    found = findings_tiny((1, 2, 3, 5), (4,))
    chances = [one.unexplained.value for one in found.hardest]
    assert len(chances) == 3
    assert chances == sorted(chances, reverse=True)


def test_ways_to_a_detection_add_to_one(findings):
    assert [sum(way.chance.value for way in to.ways) for to in findings.ways] == pytest.approx([1.0, 1.0])


def test_a_mechanism_that_is_switched_off_is_no_way():
    off = tiny_plant(switched_off=("mechanism:drain_flow", "mechanism:backflow"))
    usual, without = findings_tiny((3,)), findings_tiny((3,), opened=opened_tiny(off))
    assert "drain_flow" in {way.mechanism for way in usual.ways[0].ways}
    assert not {"drain_flow", "backflow"} & {way.mechanism for way in without.ways[0].ways}


def test_a_result_of_another_batch_name_changes_no_place():
    opened, bank = usual_tiny()
    one = result(sample_at(opened, bank, 3), detected=True)
    first, second = (read_strain(opened, bank, Observations((replace(one, batch=name),))) for name in ("a", "b"))
    assert first.after.marginal == pytest.approx(second.after.marginal)


def test_whoever_is_told_the_steps_can_stop_the_run(read):
    class Stopped(Exception):
        pass

    def stop(step):
        if step.startswith("Leaving out"):
            raise Stopped

    with pytest.raises(Stopped):
        compose_findings(replace(read, say=stop), told())
