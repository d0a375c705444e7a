"""The paper of clearance rounds: pips, letters, curve and tables agree with the document; nothing is released."""

import re
from functools import cache

import numpy as np
import pytest
from builders.pages import first_drawing, one_bit, pages, text_of, words_of
from builders.rounds import ACTIONS, AT, case, clearance, sampled

from swabwright.case.words import out_of_100
from swabwright.reports.action_letters import letter_of, letter_svg
from swabwright.reports.banned import banned_phrases
from swabwright.reports.clearance_papers import clearance_papers
from swabwright.reports.clearance_scene import pips_of
from swabwright.reports.fonts import text_width
from swabwright.reports.gone_curve import gone_svg, steps_of
from swabwright.reports.pips import pips_svg

pytestmark = pytest.mark.slow


@cache
def papers(paper="a4"):
    return clearance_papers(clearance(), case(), sampled(), paper)


def words():
    return words_of(papers()["clearance.pdf"])


def test_the_same_document_gives_the_same_bytes():
    assert clearance_papers(clearance(), case(), sampled()) == papers()


def test_every_site_of_the_rounds_has_its_row_of_pips():
    svg = first_drawing(papers()["clearance.svg"])
    assert svg.count('class="pips"') == len(AT)


def test_pips_stand_oldest_first_with_the_round_to_come_last():
    fills = pips_of(clearance(), sampled(), "S026")
    assert fills == ["detected", "not-detected", "not-detected", None]
    assert pips_of(clearance(), sampled(), "S010")[-1] == "not-yet-known"


def test_a_round_that_did_not_sample_a_site_is_a_small_dot():
    svg, size = pips_svg(["detected", None])
    assert svg.count("<circle") == 1
    assert size[0] == pytest.approx(4.2)


@pytest.mark.parametrize(("fill", "ink"), [("detected", "#000"), ("not-detected", "#fff"), ("presumptive", "#fff")])
def test_only_detected_pips_are_solid(fill, ink):
    assert re.search(r'z" fill="(#\w+)"', pips_svg([fill])[0]).group(1) == ink


def test_letters_tell_seen_said_and_promised_apart_without_colour():
    seen, said, promised = (letter_svg("A", known)[0] for known in ("seen", "said", "promised"))
    assert 'fill="#000" stroke' in seen
    assert 'fill="#fff" stroke' in said
    assert "stroke-dasharray" in promised
    assert "stroke-dasharray" not in seen + said


def test_letters_go_on_after_z():
    assert [letter_of(at) for at in (0, 25, 26, 52)] == ["A", "Z", "A2", "A3"]


def test_every_action_stands_with_its_letter_and_its_words():
    assert [text for *_, text in ACTIONS if text not in words()] == []


def test_an_action_of_a_whole_room_is_lettered_once_in_it():
    action = clearance().actions[0].model_copy(update={"rooms": ("slicing",), "sites": AT})
    one = clearance(actions=(action,), next_round=None, rounds=(), ahead=())
    drawn = first_drawing(clearance_papers(one, case(), ())["clearance.svg"])
    assert len(re.findall(r'<rect [^>]*fill="#000" stroke', drawn)) == 1


def test_the_curve_has_a_step_for_every_round_and_for_what_may_come():
    steps = steps_of(clearance())
    assert [step.is_ahead for step in steps] == [False, False, False, False, True]
    assert steps[2].words == ("after round 2", "1 April", "20 results", "nothing detected")


def test_words_under_a_narrow_stretch_break_and_never_run_into_the_next():
    many = clearance(ahead=tuple(clearance().ahead[0].model_copy(update={"rounds": n}) for n in range(1, 7)))
    texts = re.findall(
        r'<text x="([\d.]+)" [^>]*font-size="2.5"[^>]*text-anchor="middle"[^>]*>([^<]+)<', gone_svg(many)
    )
    assert max(text_width(text, 2.5, 600) for _, text in texts) <= (159.0 / len(steps_of(many)))


def test_many_actions_are_named_by_the_first_and_the_last():
    many = tuple(clearance().actions[1].model_copy(update={"action": f"a-{n}"}) for n in range(12))
    assert ">A to L<" in gone_svg(clearance(actions=many))


def test_every_figure_of_the_curve_stands_in_the_document():
    held = [step.gone for step in steps_of(clearance())]
    allowed = {out_of_100(one.value) for gone in held for one in (gone.all_actions, gone.seen_only)} | {
        "0",
        "50",
        "100",
    }
    printed = set(re.findall(r">(\d+)</text>", gone_svg(clearance())))
    assert printed <= allowed


def test_rounds_are_told_with_and_without_unseen_actions():
    assert "89 (80 to 94)" in words()
    assert "84 (72 to 92)" in words()


def test_the_rulebook_stands_beside_and_nothing_is_released():
    first = " ".join(text_of(papers()["clearance.pdf"])[0].split())
    assert "The rulebook asks for 3 rounds" in first
    assert "This releases no product, and it is no decision to close" in first


def test_what_may_be_left_and_what_to_ask_for_is_named():
    assert "If it is not gone, where it is" in words()
    assert "Let one round be unannounced" in words()


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_draft_stands_on_every_page(paper):
    assert all("DRAFT" in text for text in text_of(papers(paper)["clearance.pdf"]))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_first_page_holds_drawing_curve_and_rounds(paper):
    texts = text_of(papers(paper)["clearance.pdf"])
    assert all(word in texts[0] for word in ("Rounds", "The chance that it is gone", "now", "promised"))
    assert "rests on" in texts[1]


def test_no_page_says_a_banned_phrase():
    assert banned_phrases(words()) == []


def test_a_one_bit_copy_still_shows_the_page():
    ink = np.asarray(one_bit(pages(papers()["clearance.pdf"])[0], 200)) == 0
    assert 0.02 < ink.mean() < 0.25


def test_nothing_done_yet_is_a_paper_too():
    bare = clearance(actions=(), rounds=(), ahead=(), next_round=None, if_not_gone=())
    assert "The record holds no action" in words_of(clearance_papers(bare, case(), ())["clearance.pdf"])
