"""The page about custody and cold chain: its example prints what it says, its figures are those worked out."""

import re
from math import exp, log

import pytest
from builders.console import examples_of, printed
from builders.house import ROOT

from swabwright.plant.registry import load_figures
from swabwright.record.logger_layout import FIELDS
from swabwright.record.read_as import ReadAs

PAGE = (ROOT / "docs/reference/cold-chain.md").read_text("utf-8")
HASH = re.compile(r"[0-9a-f]{64}")


def test_the_worked_example_prints_what_the_page_says(tmp_path, monkeypatch):
    (tmp_path / "case").mkdir()
    (tmp_path / "case/investigation.json").write_text("{}")
    (tmp_path / "logger.csv").write_text(re.search(r"```csv\n(.*?)```", PAGE, re.DOTALL)[1], "utf-8")
    monkeypatch.chdir(tmp_path)
    for command, says in examples_of("reference/cold-chain.md"):
        assert HASH.sub("…", printed(command)) == says, command


def test_the_worked_mean_is_what_its_steps_give():
    ratio = 83.144 / 8.314462618e-3
    mean = (23 * exp(-ratio / 277.15) + exp(-ratio / 298.15)) / 24
    assert ratio / -log(mean) - 273.15 == pytest.approx(7.08, abs=0.005)
    for said in ("2.1385e-16", "2.7152e-15", f"{mean:.4e}", f"{-log(mean):.3f}", "7.08 °C"):
        assert said in PAGE


def test_every_figure_of_the_page_is_in_the_catalogue():
    named = re.findall(r"`((?:cold_chain|rule)\.[a-z_]+)`", PAGE)
    assert named
    assert all(name in load_figures() for name in named)


def test_the_page_names_every_field_of_how_a_file_was_read():
    assert {name for name in ReadAs.model_fields if f"`{name}`" not in PAGE} == set()


def test_every_guess_of_a_file_has_its_option_on_the_page():
    options = {name.replace("_", "-") for name in ReadAs.model_fields} - {"left-out"} | {"leave-out"}
    assert {f"{field}-column" for field in FIELDS} < options
    assert {name for name in options if f"`--{name}" not in PAGE} == set()
