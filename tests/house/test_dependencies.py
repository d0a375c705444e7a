"""What the code imports is asked for by name, not only because something else happens to bring it."""

import ast
import re
import sys
from importlib.metadata import packages_distributions

from builders.house import ROOT, modules

COMES_WITH = {"pydantic-core": "pydantic"}


def plain(name):
    return re.sub(r"[-_.]+", "-", name).lower()


def imported_names():
    for path in modules():
        for node in ast.walk(ast.parse((ROOT / path).read_text("utf-8"))):
            if isinstance(node, ast.Import):
                yield from (alias.name.split(".")[0] for alias in node.names)
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                yield node.module.split(".")[0]


def required():
    lines = (ROOT / "requirements.in").read_text("utf-8")
    return {plain(name) for name in re.findall(r"^[A-Za-z0-9._-]+", lines, re.MULTILINE)}


def test_every_imported_library_is_required_by_name():
    brought_by = packages_distributions()
    others = set(imported_names()) - sys.stdlib_module_names - {"swabwright"}
    packages = {name: plain(brought_by.get(name, [name])[0]) for name in others}
    missing = {name for name, package in packages.items() if COMES_WITH.get(package, package) not in required()}
    assert missing == set()
