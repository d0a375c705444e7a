"""The JSON Schema of a document, as published and as used to say which fields are known where."""

import json
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from typing import Any

from pydantic import BaseModel

DIALECT = "https://json-schema.org/draft/2020-12/schema"


def document_schema(model: type[BaseModel]) -> dict[str, Any]:
    """The JSON Schema (2020-12) of a document type, every part named once."""
    return {"$schema": DIALECT, **model.model_json_schema()}


def schema_text(model: type[BaseModel]) -> str:
    """The schema as the text that is published: two spaces, one final newline."""
    return json.dumps(document_schema(model), indent=2, ensure_ascii=False) + "\n"


@cache
def _schema(model: type[BaseModel]) -> dict[str, Any]:
    return model.model_json_schema()


def known_fields(model: type[BaseModel], path: Sequence[int | str]) -> tuple[str, ...]:
    """The names of the fields that may stand at this path of the document (`("sites", 14)`)."""
    schema = _schema(model)
    nodes = list(_resolved(schema, schema))
    # A field may be one of several kinds of part; the names of all of them are offered.
    for step in path:
        nodes = [found for node in nodes for child in _children(node, step) for found in _resolved(schema, child)]
    return tuple(name for node in nodes for name in node.get("properties", {}))


def _resolved(schema: Mapping[str, Any], node: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    """The node itself, or what it refers to, or each of its alternatives."""
    if "$ref" in node:
        yield from _resolved(schema, schema["$defs"][node["$ref"].rsplit("/", 1)[-1]])
    elif "anyOf" in node:
        for alternative in node["anyOf"]:
            yield from _resolved(schema, alternative)
    else:
        yield node


def _children(node: Mapping[str, Any], step: int | str) -> Iterator[Mapping[str, Any]]:
    if isinstance(step, str):
        properties: Mapping[str, Any] = node.get("properties", {})
        if step in properties:
            yield properties[step]
    elif step < len(node.get("prefixItems", ())):
        yield node["prefixItems"][step]
    elif isinstance(node.get("items"), Mapping):
        yield node["items"]
