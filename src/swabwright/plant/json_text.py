"""JSON text into plain values: a syntax fault is told by line and column, a field given twice is refused."""

import json
from typing import Any

from swabwright.errors import DocumentRefused, Fault


def parse_json(text: str, name: str) -> dict[str, Any]:
    """The object that the text holds; refused when it is no JSON, no object, or names a field twice."""
    twice: list[str] = []

    # The parser keeps the last of two equal names in silence; which one was meant cannot be known.
    def unique(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
        keys = [key for key, _ in pairs]
        twice.extend(sorted({key for key in keys if keys.count(key) > 1}))
        return dict(pairs)

    try:
        document = json.loads(text, object_pairs_hook=unique)
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise _refused(name, where, f"not JSON here: {error.msg.lower()}; mend the text at this place") from error
    except RecursionError as error:
        raise _refused(name, "", "nested far too deep to be a document of this kind") from error
    if twice:
        raise _refused(name, twice[0], "stands twice in one object; keep one of them")
    if not isinstance(document, dict):
        raise _refused(name, "", f"must be one object in braces, not {type(document).__name__}")
    return document


def _refused(name: str, path: str, problem: str) -> DocumentRefused:
    return DocumentRefused(name, [Fault(path, problem)])
