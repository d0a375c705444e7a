"""How the code speaks: short functions, every public name explained, every test able to fail."""

import ast

from builders.house import ROOT, modules

MOST_BODY_LINES = 50
FUNCTIONS = (ast.FunctionDef, ast.AsyncFunctionDef)
CHECKS = ("assert", "raises", "warns", "check", "fails")


def parsed(paths):
    return [(path, ast.parse((ROOT / path).read_text("utf-8"))) for path in paths]


def body_lines(function):
    first = function.body[1] if ast.get_docstring(function) and len(function.body) > 1 else function.body[0]
    return function.end_lineno - first.lineno + 1


def public(body):
    return [node for node in body if isinstance(node, (*FUNCTIONS, ast.ClassDef)) and not node.name.startswith("_")]


def is_only_promised(node):
    """True of a protocol's member, `...`: the protocol's own docstring explains it."""
    return ast.unparse(node.body[0]) == "..."


def unexplained(path, body):
    for node in public(body):
        if not ast.get_docstring(node) and not is_only_promised(node):
            yield f"{path}:{node.lineno} {node.name}"
        if isinstance(node, ast.ClassDef):
            yield from unexplained(path, node.body)


def can_fail(test):
    words = [getattr(node, "id", getattr(node, "attr", "")) for node in ast.walk(test)]
    return any(isinstance(node, ast.Assert) for node in ast.walk(test)) or any(
        word.startswith(CHECKS) for word in words
    )


def test_no_function_is_longer_than_50_lines():
    trees = parsed(modules())
    functions = [(path, node) for path, tree in trees for node in ast.walk(tree) if isinstance(node, FUNCTIONS)]
    assert [f"{path} {node.name}" for path, node in functions if body_lines(node) > MOST_BODY_LINES] == []


def test_every_public_name_is_explained():
    assert [fault for path, tree in parsed(modules()) for fault in unexplained(path, tree.body)] == []


def test_every_test_can_fail():
    trees = parsed(path.relative_to(ROOT) for path in sorted((ROOT / "tests").rglob("test_*.py")))
    tests = [(path, node) for path, tree in trees for node in ast.walk(tree) if isinstance(node, FUNCTIONS)]
    mute = [f"{path} {node.name}" for path, node in tests if node.name.startswith("test_") and not can_fail(node)]
    assert mute == []
