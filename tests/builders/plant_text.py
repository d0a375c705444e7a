"""The tiny plant as JSON text, with one thing in it changed."""

import json
from collections.abc import Callable
from typing import Any

from builders.plants import tiny_plant


def tiny_document() -> dict[str, Any]:
    """The tiny plant as plain values, to be changed at will."""
    return json.loads(tiny_plant().model_dump_json())


def tiny_text(change: Callable[[dict[str, Any]], Any] = lambda document: None) -> str:
    """The tiny plant as text after `change` has been at its plain values."""
    document = tiny_document()
    change(document)
    return json.dumps(document, indent=1)
