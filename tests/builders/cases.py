"""The example as a case that a test may spoil, with few histories so that planning it is quick."""

import json
import shutil
from pathlib import Path

EXAMPLE = Path(__file__).parents[2] / "examples/juniper-lane"
FEW = """
[[override]]
figure = "planning.histories"
value = 100
who = "a test"
why = "quick"

[[override]]
figure = "planning.most_histories"
value = 100
who = "a test"
why = "quick"

[[override]]
figure = "planning.rows"
value = 3000
who = "a test"
why = "quick"
"""


def quick_case(folder):
    """A copy of the example in `folder` that plans in seconds."""
    case = Path(shutil.copytree(EXAMPLE, folder / "case"))
    overrides = case / "overrides.toml"
    overrides.write_text(overrides.read_text(encoding="utf-8") + FEW, encoding="utf-8")
    return case


def change(case, document, edit):
    """Apply `edit` to a JSON document of a case as plain data."""
    file = case / document
    content = json.loads(file.read_text(encoding="utf-8"))
    edit(content)
    file.write_text(json.dumps(content), encoding="utf-8")


def limits(case, **values):
    """Set limits of the case's only visit."""
    change(case, "investigation.json", lambda document: document["visits"][0]["limits"].update(values))
