"""No template, sentence or finished paper says what a finding may not say."""

import ast
from importlib.resources import files

import pytest
from builders.pages import words_of
from builders.papers import investigation, plan
from builders.smokehouse import smokehouse

from swabwright.reports.banned import banned_list, banned_phrases
from swabwright.reports.papers import labels_pdf, plan_pdf

REPORTS = files("swabwright.reports")
TEMPLATES = sorted(entry.name for entry in REPORTS.joinpath("templates").iterdir() if entry.name.endswith(".typ"))
MODULES = sorted(entry.name for entry in REPORTS.iterdir() if entry.name.endswith("_words.py"))


def strings_of(module):
    """Every string of a module but its docstrings' and names of keys."""
    tree = ast.parse(REPORTS.joinpath(module).read_text(encoding="utf-8"))
    return [node.value for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str)]


@pytest.mark.parametrize("name", TEMPLATES)
def test_no_template_says_a_banned_phrase(name):
    text = REPORTS.joinpath("templates", name).read_text(encoding="utf-8")
    assert banned_phrases(text) == []


@pytest.mark.parametrize("module", MODULES)
def test_no_sentence_of_the_papers_says_a_banned_phrase(module):
    assert [found for text in strings_of(module) for found in banned_phrases(text)] == []


def test_no_finished_paper_says_a_banned_phrase():
    plant = smokehouse()
    papers = plan_pdf(plan(plant), plant, investigation()), labels_pdf(plan(plant), plant, investigation())
    assert [found for paper in papers for found in banned_phrases(words_of(paper))] == []


@pytest.mark.parametrize(
    "text",
    ["the plant is clean", "all samples negative", "this room is safe", "it caused the outbreak", "skipped", "Cleared"],
)
def test_a_banned_phrase_is_noticed(text):
    assert len(banned_phrases(text)) == 1


@pytest.mark.parametrize(
    "text", ["work from clean to dirty", "not taken, because", "not detected", "saved on this phone", "a full clean"]
)
def test_an_allowed_use_is_no_fault(text):
    assert banned_phrases(text) == []


def test_every_banned_phrase_says_why():
    assert all(entry.why for entry in banned_list())
