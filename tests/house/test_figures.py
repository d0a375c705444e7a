"""Every figure in a data file says where it comes from and whether somebody confirmed it."""

import tomllib

import pytest
from builders.house import ROOT, SOURCE

FILES = sorted((SOURCE / "plant" / "data").rglob("*.toml"))


def figures_without(field, path):
    figures = tomllib.loads(path.read_text("utf-8")).get("figures", {})
    return [name for name, figure in figures.items() if figure.get(field) in (None, "")]


def test_there_are_figures_to_look_at():
    assert any("figures" in tomllib.loads(path.read_text("utf-8")) for path in FILES)


@pytest.mark.parametrize("field", ["value", "unit", "source", "confirmed"])
@pytest.mark.parametrize("path", FILES, ids=lambda path: str(path.relative_to(ROOT)))
def test_every_figure_is_whole(path, field):
    assert figures_without(field, path) == []
