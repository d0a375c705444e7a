"""Golden values with their provenance, from tests/golden."""

import tomllib
from pathlib import Path

GOLDEN = Path(__file__).parents[1] / "golden"


def golden(document, table):
    """One table of a golden document; it must say where its values come from and how closely they are met."""
    found = tomllib.loads((GOLDEN / f"{document}.toml").read_text("utf-8"))[table]
    assert found["source"], table
    assert found["tolerance"], table
    return found
