"""Rulebook and overrides: read strictly, every changed figure with who and why."""

import pytest

from swabwright.errors import DocumentRefused
from swabwright.plant.registry import load_figures
from swabwright.plant.rulebook import read_overrides, read_rulebook, rulebook_text

FIGURES = load_figures()
NOTICE = '[[override]]\nfigure = "rule.notice_hours"\nvalue = 48\nwho = "H. Okafor"\nwhy = "plant far away"\n'


def override_faults(text):
    with pytest.raises(DocumentRefused) as refused:
        read_overrides(text, FIGURES)
    return [str(fault) for fault in refused.value.faults]


def rulebook_fault(text):
    with pytest.raises(DocumentRefused) as refused:
        read_rulebook(text)
    return str(refused.value)


def test_the_rulebook_that_comes_along_holds_every_rule_of_the_registry() -> None:
    rules = read_rulebook(rulebook_text())
    assert set(rules) == {name for name in FIGURES if name.startswith("rule.")}
    assert all(rules[name] == FIGURES[name] for name in rules)


def test_an_agencys_own_hour_is_read() -> None:
    own = rulebook_text().replace(
        '[figures."rule.hours_after_line_start"]\nvalue = 3', '[figures."rule.hours_after_line_start"]\nvalue = 4'
    )
    assert read_rulebook(own).number("rule.hours_after_line_start") == 4


def test_a_misspelt_rule_is_refused_with_the_nearest_name() -> None:
    fault = rulebook_fault('[figures."rule.notice_hour"]\nvalue = 1')
    assert """figures."rule.notice_hour": no rule 'rule.notice_hour'; did you mean 'rule.notice_hours'?""" in fault


def test_a_rule_without_source_is_refused() -> None:
    fault = rulebook_fault('[figures."rule.notice_hours"]\nvalue = 1\nunit = "h"\nconfirmed = false')
    assert fault == """rulebook.toml: figures."rule.notice_hours": lacks 'source'; write it, every figure needs it"""


def test_broken_toml_is_told_by_line_and_column() -> None:
    assert "(at line 2, column 9); mend the text there" in rulebook_fault("[figures]\nvalue = \n")


def test_a_foreign_table_is_refused() -> None:
    assert "a rulebook has no table 'figure'; did you mean 'figures'?" in rulebook_fault("[figure]\n")


def test_an_override_changes_the_figure_and_says_who_and_why() -> None:
    changed = FIGURES.changed(read_overrides(NOTICE, FIGURES))["rule.notice_hours"]
    assert (changed.value, changed.changed_by) == (48.0, "H. Okafor")
    assert changed.source == "set by H. Okafor: plant far away"


def test_overrides_leave_every_other_figure_alone() -> None:
    changed = FIGURES.changed(read_overrides(NOTICE, FIGURES))
    assert {name for name in FIGURES if changed[name] != FIGURES[name]} == {"rule.notice_hours"}


def test_an_unknown_figure_is_refused_with_the_nearest_name() -> None:
    found = override_faults(NOTICE.replace("notice_hours", "notise_hours"))
    assert found == ["override[0].figure: no figure 'rule.notise_hours'; did you mean 'rule.notice_hours'?"]


@pytest.mark.parametrize("line", ['who = "H. Okafor"\n', 'why = "plant far away"\n', 'figure = "rule.notice_hours"\n'])
def test_an_override_must_say_which_figure_who_and_why(line) -> None:
    assert "is missing; a changed figure says which" in override_faults(NOTICE.replace(line, ""))[0]


@pytest.mark.parametrize("who", ['""', '"  "', "7"])
def test_an_empty_who_is_no_who(who) -> None:
    assert override_faults(NOTICE.replace('"H. Okafor"', who))[0].startswith("override[0].who: is missing")


@pytest.mark.parametrize("value", ['"48"', "true", "nan", "inf"])
def test_an_override_without_a_number_is_refused(value) -> None:
    assert override_faults(NOTICE.replace("48", value))[0].startswith("override[0].value: must be a number")


def test_a_figure_changed_twice_is_refused() -> None:
    assert override_faults(NOTICE + NOTICE) == [
        "override[1].figure: 'rule.notice_hours' is already override[0]; keep one of them"
    ]


def test_a_misspelt_field_and_table_are_refused() -> None:
    assert "override[0].reason: no such field" in override_faults(NOTICE + 'reason = "x"\n')[0]
    assert override_faults("[[overide]]\n")[0].startswith("overide: no such table; did you mean 'override'?")


def test_one_bracket_too_few_is_told() -> None:
    assert override_faults("[override]\nvalue = 1\n") == [
        "override: must be a list; write [[override]] with two brackets"
    ]


def test_an_empty_file_changes_nothing() -> None:
    assert read_overrides("", FIGURES) == ()
