"""From a record with results, actions and rounds to the clearance document."""

import json

import pytest
from builders.actions_case import ROUND_SITES, act, actions_case, sampled_round
from builders.console import printed

from swabwright.case.clearance import Clearance
from swabwright.case.folder import read_case
from swabwright.errors import SwabwrightError
from swabwright.plant.reading import read_document
from swabwright.reports.banned import banned_phrases
from swabwright.work.clearance_case import clearance_of
from swabwright.work.clearance_read import Workplace

slow = pytest.mark.slow


def read(case, cache=None):
    (document,) = clearance_of(read_case(case), None, Workplace(cache, lambda _: None))
    return document


def test_without_a_result_it_is_refused(tmp_path):
    case = actions_case(tmp_path)
    (case / "record.jsonl").write_text("", encoding="utf-8")
    with pytest.raises(SwabwrightError, match="no sample of a visit has a result yet"):
        read(case)


@slow
def test_with_a_promise_alone_nothing_is_gone(tmp_path):
    case = actions_case(tmp_path)
    act(case, "promised")
    document = read(case)
    assert document.now.all_actions.value == 0.0
    assert document.next_round is None
    assert document.now.all_actions.basis.startswith("nothing was done that counts")
    assert not any("(line:" in said or "range 10 to 90" in said for said in document.sentences)
    assert document.sentences[0].startswith("Nothing has been done that counts")


@slow
def test_the_command_prints_sentences_and_writes_the_document(tmp_path, monkeypatch):
    monkeypatch.setenv("SWABWRIGHT_CACHE", str(tmp_path / "cache"))
    case = actions_case(tmp_path)
    act(case, "promised")
    said = printed(f"swabwright clearance {case} --out {tmp_path / 'out'}")
    document = read_document(Clearance, (tmp_path / "out/clearance.json").read_text("utf-8"), "clearance.json")
    assert "\n".join(document.sentences) in said


@pytest.fixture(scope="module")
def after(tmp_path_factory):
    """A room heated as seen, a second room as the plant says, one round with nothing detected."""
    case = actions_case(tmp_path_factory.mktemp("after"))
    act(case)
    act(case, "said_done", "surface_cleaning", name="wash-it", room="tray-wash")
    sampled_round(case, 1)
    return read(case)


@slow
def test_the_round_is_shown_with_the_chance_after_it(after):
    (done,) = after.rounds
    assert (done.visit, done.results, done.detected) == ("visit-2", len(ROUND_SITES), 0)
    assert done.gone == after.now
    assert done.gone.all_actions.value > after.before_rounds.all_actions.value > 0.0


@slow
def test_what_nobody_has_seen_makes_two_figures(after):
    assert [action.known_by for action in after.actions] == ["seen", "said"]
    assert after.now.seen_only.value < after.now.all_actions.value
    assert after.actions[0].removes == pytest.approx(0.6)
    assert after.actions[1].removes == pytest.approx(0.1)


@slow
def test_more_rounds_make_more_and_the_same_sites_make_less(after):
    chances = [after.now.all_actions.value, *(point.gone.all_actions.value for point in after.ahead)]
    assert chances == sorted(chances)
    assert after.ahead[0].same_sites_again.value == pytest.approx(after.ahead[0].gone.all_actions.value)


@slow
def test_six_rounds_at_the_same_sites_stay_below_three_planned_anew(after):
    assert after.ahead[5].same_sites_again.value < after.ahead[2].gone.all_actions.value


@slow
def test_the_next_round_is_the_next_visit_of_the_investigation(after):
    assert (after.next_round.visit, after.next_round.in_investigation) == ("visit-3", True)
    assert len(after.next_round.samples) == after.ahead[0].samples > 0
    assert 0 < after.next_round.chance_of_finding.value < 1


@slow
def test_it_names_where_it_is_if_it_is_not_gone(after):
    shares = [left.share.value for left in after.if_not_gone]
    assert len(shares) == 3
    assert shares == sorted(shares, reverse=True)
    assert any(after.if_not_gone[0].name in said for said in after.sentences)


@slow
def test_the_rulebook_stands_beside_the_chance(after):
    assert (after.required.rounds, after.required.rounds_done) == (3, 1)
    assert "3 rounds in a row with nothing detected" in after.required.words


@slow
def test_it_asks_for_what_no_sample_shows_and_releases_nothing(after):
    said = " ".join(after.sentences)
    for words in ("unannounced", "end of a production week", "sanitation log of the day before"):
        assert words in said
    assert "This releases no product" in said
    assert "Line B: held since lot JL-1" in said


@slow
def test_no_sentence_holds_a_banned_word(after):
    assert banned_phrases("\n".join((*after.sentences, *after.asks, after.required.words))) == []


@slow
def test_the_document_is_read_back_as_it_was_written(after):
    text = json.dumps(json.loads(after.model_dump_json()))
    assert read_document(Clearance, text, "clearance.json") == after
