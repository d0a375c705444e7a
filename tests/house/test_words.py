"""No sentence that a person reads calls a result, a site, a plant or a product what sampling cannot show."""

import ast
import re

import pytest
from builders.house import ROOT, modules, texts

PHRASES = (
    *("negatives?", "cleared", "all[- ]clear", "caused", "did not cause", "safe", "proven", "skipped"),
    "(?:is|are|was|were|now) clean",
)
# A source may be quoted: "false-negative rate" is how the literature names a figure.
BANNED = re.compile(rf"(?<!false-)(?<!false )\b(?:{'|'.join(PHRASES)})\b(?! to dirty)", re.IGNORECASE)
PAGES = {".typ", ".md", ".csv", ".toml", ".json"}
RULES_THEMSELVES = {"CONTRIBUTING.md", "README.md", "src/swabwright/reports/banned_phrases.toml"} | {
    "src/swabwright/plant/data/results.toml",  # words of laboratories, to be understood, never to be printed
}


def spoken(tree):
    """Text in code that may reach a person: strings of several words, less the docstrings."""
    docstrings = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    strings = (node for node in ast.walk(tree) if isinstance(node, ast.Constant) and isinstance(node.value, str))
    return [(node.lineno, node.value) for node in strings if id(node) not in docstrings and " " in node.value]


def test_no_sentence_in_the_code_says_more_than_sampling_can_show():
    sentences = [(path, *said) for path in modules() for said in spoken(ast.parse((ROOT / path).read_text("utf-8")))]
    assert [(str(path), line, text) for path, line, text in sentences if BANNED.search(text)] == []


def test_no_page_template_or_example_says_more_than_sampling_can_show():
    pages = [pair for pair in texts() if pair[0].suffix in PAGES and str(pair[0]) not in RULES_THEMSELVES]
    assert [(str(path), found.group()) for path, text in pages if (found := BANNED.search(text))] == []


@pytest.mark.parametrize("said", ["All 38 were negative", "the line is cleared", "Slicer B is safe", "site skipped"])
def test_the_search_would_find_such_a_sentence(said):
    assert BANNED.search(said)


@pytest.mark.parametrize("said", ["clean to dirty", "not detected", "since the last full clean", "the draft was saved"])
def test_the_search_leaves_the_words_of_the_trade(said):
    assert not BANNED.search(said)
