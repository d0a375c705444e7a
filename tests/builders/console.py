"""Console examples of the manual's pages: commands with what they print."""

import re
import shlex

from builders.house import ROOT
from click.testing import CliRunner

from swabwright.cli.main import swabwright
from swabwright.errors import SwabwrightError

BLOCK = re.compile(r"```console\n(.*?)```", re.DOTALL)


def printed(command):
    """What a command line prints, as a person sees it; an error's sentence when it is refused."""
    program, *arguments = shlex.split(command.replace("\\\n", " "))
    assert program == "swabwright", command
    result = CliRunner().invoke(swabwright, arguments)
    if isinstance(result.exception, SwabwrightError):
        return f"{result.exception}\n"
    assert result.exit_code == 0, result.output
    return result.output


def examples_of(page):
    """Pairs of command and printed text of every console block of a page below docs."""
    text = (ROOT / "docs" / page).read_text("utf-8")
    said = [one for block in BLOCK.findall(text) for one in re.split(r"^\$ ", block, flags=re.MULTILINE) if one]
    return [one.split("\n", 1) for one in said]


def example_in_help(help_text):
    """The command after 'Example:' in a command's help, its continued lines joined."""
    lines = help_text.split("Example: ")[1].splitlines()
    taken = [lines[0]]
    while taken[-1].rstrip().endswith("\\"):
        taken.append(lines[len(taken)])
    return " ".join(line.strip().removesuffix("\\") for line in taken)
