"""What clearance sentences say: of which strain, with and without unseen actions, of rounds and of nothing done."""

import pytest
from builders.papers import chance
from builders.rounds import clearance

from swabwright.case.clearance import Gone
from swabwright.reports.banned import banned_phrases
from swabwright.work.clearance_said import sentences


def gone(every, seen, error):
    every, seen = (chance(value, value / 2, min(1.0, value * 1.2)) for value in (every, seen))
    return Gone(all_actions=every, seen_only=seen, difference_error=error)


def said(**more):
    return tuple(sentences(clearance(**more)))


def with_ahead(one):
    ahead = clearance().ahead[0].model_copy(update={"gone": one})
    return "".join(line for line in said(ahead=(ahead,)) if line.startswith("One more round"))


def without_actions():
    place = {"place": "line:line-0", "name": "incoming material of Line A", "share": chance(0.4, 0.2, 0.6)}
    return said(actions=(), rounds=(), ahead=(), next_round=None, if_not_gone=(place,))


def test_the_headline_names_its_strain_and_where_the_others_are():
    lines = said(other_strains=("B", "any strain"))
    assert lines[0].startswith("Strain A: it is probably gone, 89 in 100")
    assert "Read by itself, in a document of its own: strain B, any strain." in lines


def test_without_strains_no_strain_is_spoken_of():
    assert said(strain=None)[0].startswith("It is probably gone")
    assert said(strain=None, other_strains=("B",))[0].startswith("Any strain: it is probably gone")


def test_the_figure_of_what_was_seen_stands_beside_whenever_an_action_is_only_said():
    assert "seen done, the chance that it is gone is 84 in 100" in said(now=gone(0.89, 0.84, 0.01))[1]
    assert "the same, 89 in 100" in said(now=gone(0.89, 0.89, 0.0))[1]


def test_figures_closer_than_their_monte_carlo_error_are_called_the_same():
    assert "is the same, 88 in 100" in said(now=gone(0.89, 0.88, 0.01))[1]
    assert "(counting only what was seen done, the same)" in with_ahead(gone(0.63, 0.64, 0.01))


@pytest.mark.parametrize("line", [said(now=gone(0.6, 0.64, 0.001))[1], with_ahead(gone(0.6, 0.64, 0.001))])
def test_a_larger_figure_of_what_was_seen_is_explained(line):
    assert "64" in line
    assert "of a niche that was only reduced than of one left as it was" in line


def test_where_every_action_was_seen_one_figure_stands():
    actions = tuple(one for one in clearance().actions if one.known_by != "said")
    assert not any("Counting only" in line or "counting only" in line for line in said(actions=actions))


def test_where_none_was_seen_it_says_so():
    actions = tuple(one for one in clearance().actions if one.known_by == "said")
    assert said(actions=actions)[1].startswith("Nobody of ours has seen an action done")


def test_a_round_that_is_named_by_its_number_is_named_once():
    done = clearance().rounds[0]
    lines = said(rounds=(done.model_copy(update={"name": "Clearance round 1"}), done))
    assert any(line.startswith("Clearance round 1, 25 March: 20 results") for line in lines)
    assert any(line.startswith("Clearance round 2, Round 1, 25 March: 20 results") for line in lines)


def test_nothing_done_is_neither_a_chance_nor_a_range():
    lines = without_actions()
    assert lines[0].startswith("Strain A: nothing has been done that counts")
    assert not any("chance that it is gone" in line for line in lines)


def test_a_place_without_a_code_is_named_by_its_name_alone():
    assert (
        "If it was there, it is most likely at or in: incoming material of Line A, 40 in 100 (20 to 60)."
        in without_actions()
    )


def test_no_sentence_holds_a_banned_word():
    assert banned_phrases("\n".join((*said(now=gone(0.6, 0.64, 0.001)), *without_actions()))) == []
