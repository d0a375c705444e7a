"""The house's layout: packages that say what they are for, modules that stay small, benchmarks that keep apart."""

import ast
import re
from pathlib import Path

import pytest
from builders.house import ROOT, SOURCE, modules

MOST_LINES = 500
PACKAGES = ("compute", "tables", "plant", "case", "spread", "detection", "belief", "planning", "reports", "work", "cli")
WORLD_MAY_IMPORT = re.compile(r"swabwright\.(plant|case|errors)(\.|$)")


def tree(path: Path) -> ast.Module:
    return ast.parse((ROOT / path).read_text("utf-8"))


def imported(path: Path) -> set[str]:
    names = set()
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names |= {f"{node.module}.{alias.name}" for alias in node.names}
        elif isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
    return names


@pytest.mark.parametrize("package", PACKAGES)
def test_every_package_stands_and_says_what_belongs_there(package):
    assert len(ast.get_docstring(tree(SOURCE / package / "__init__.py")) or "") > 20


def test_every_module_opens_with_its_purpose():
    assert [str(path) for path in modules() if not ast.get_docstring(tree(path))] == []


def test_no_module_is_longer_than_500_lines():
    assert [str(path) for path in modules() if len((ROOT / path).read_text("utf-8").splitlines()) > MOST_LINES] == []


def test_nothing_is_imported_inside_a_function():
    functions = (ast.FunctionDef, ast.AsyncFunctionDef)
    inner = {
        f"{path}:{node.lineno}"
        for path in modules()
        for function in ast.walk(tree(path))
        if isinstance(function, functions)
        for node in ast.walk(function)
        if isinstance(node, ast.Import | ast.ImportFrom)
    }
    assert inner == set()


def test_the_simulated_worlds_know_only_plant_and_case():
    worlds = [path.relative_to(ROOT) for path in (ROOT / "benchmarks" / "world").rglob("*.py")]
    ours = {(str(path), name) for path in worlds for name in imported(path) if name.startswith("swabwright")}
    assert {pair for pair in ours if not WORLD_MAY_IMPORT.match(pair[1])} == set()


def test_one_place_names_the_version():
    version = re.search(r'^__version__ = "(.+)"$', (SOURCE / "__init__.py").read_text("utf-8"), re.MULTILINE).group(1)
    assert f"## {version}" in (ROOT / "CHANGELOG.md").read_text("utf-8")
