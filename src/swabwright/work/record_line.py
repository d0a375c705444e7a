"""An entry as one line that a person reads: when, who, on what, the kind, and each field in words with its unit."""

from collections.abc import Mapping
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel

from swabwright.record.entry import Entry
from swabwright.record.values import FileRef

UNITS = {"_mm2": ("cm²", 100), "_mg": ("g", 1000), "_tenths_c": ("°C", 10), "_ppm": ("% of the sample", 10_000)}
"""Whole numbers of the record by the ending of their field: the unit in which they are said, and how many make one."""

ENTRIES = ("entry", "amends")
HASHES = ("report", "plan")
SHOWN_OF_HASH = 12


def entry_line(entry: Entry, numbers: Mapping[str, int], gone: str | None = None) -> str:
    """The line of an entry; `numbers` has entries by their ids, `gone` is why it was superseded."""
    statement = entry.statement
    head = statement.body.kind.replace("_", " ")
    reason = getattr(statement.body, "reason", None)
    # 'not taken, because: ...' stands before the fields, as everybody looks for it first.
    head = head if reason is None else f"{head}, because: {reason}"
    words = "; ".join(_fields(statement.body, numbers)) if reason else ", ".join(_fields(statement.body, numbers))
    tail = f"  [superseded, because: {gone}]" if gone else ""
    said = f"{head}{'; ' if reason else ': '}{words}"
    return f"{entry.number:>5}  {statement.at}  {statement.by} on {statement.device}: {said}{tail}"


def _fields(part: BaseModel, numbers: Mapping[str, int]) -> list[str]:
    fields = type(part).model_fields
    return [
        _field(name, value, fields[name].annotation, numbers)
        for name, value in part
        if name not in ("kind", "reason") and value != fields[name].default
    ]


def _field(name: str, value: Any, annotation: Any, numbers: Mapping[str, int]) -> str:
    ending = next((one for one in UNITS if name.endswith(one)), None)
    if ending is not None:
        unit, makes_one = UNITS[ending]
        return f"{_words(name.removesuffix(ending))} {value / makes_one:g} {unit}"
    if name in ENTRIES:
        number = numbers.get(value)
        before = "" if name == "entry" else f"{_words(name)} "
        return f"{before}entry {number}" if number else f"{before}an entry that is not here ({value})"
    return f"{_words(name)} {_value(name, value, annotation, numbers)}"


def _value(name: str, value: Any, annotation: Any, numbers: Mapping[str, int]) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ", ".join(_value(name, one, annotation, numbers) for one in value)
    if isinstance(value, FileRef):
        return value.name[:SHOWN_OF_HASH]
    if isinstance(value, BaseModel):
        return f"({', '.join(_fields(value, numbers))})"
    if name in HASHES:
        return str(value)[:SHOWN_OF_HASH]
    return _words(str(value)) if _is_choice(annotation) else str(value)


def _is_choice(annotation: Any) -> bool:
    return get_origin(annotation) is Literal or any(map(_is_choice, get_args(annotation)))


def _words(name: str) -> str:
    return name.replace("_", " ")
