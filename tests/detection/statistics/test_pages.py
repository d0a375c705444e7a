"""The reference pages of sample sizes and growth: every example prints what the page says."""

import re

import pytest
from builders.console import examples_of, printed
from builders.house import ROOT

from swabwright.cli.sample_size import sample_size

EXAMPLES = [pair for page in ("reference/sample-size.md", "reference/growth.md") for pair in examples_of(page)]
PAGE = (ROOT / "docs" / "reference" / "sample-size.md").read_text("utf-8")


@pytest.mark.parametrize(("command", "says"), EXAMPLES, ids=[command[11:70] for command, _ in EXAMPLES])
def test_an_example_prints_what_the_page_says(command, says):
    assert printed(command) == says


def test_there_is_an_example_of_every_command():
    shown = {command.split()[2] for command, _ in EXAMPLES if command.startswith("swabwright sample-size")}
    assert shown == set(sample_size.commands)


def test_every_section_gives_source_and_worked_example():
    sections = re.split(r"^## ", PAGE, flags=re.MULTILINE)[1:]
    lacking = [one.splitlines()[0] for one in sections if "ource" not in one or "Worked: " not in one]
    assert lacking == []
