"""Every character that is printed exists in a bundled typeface; emoji are named, anything else missing is refused."""

import unicodedata
from collections.abc import Mapping
from typing import Any, TypeVar

from swabwright.errors import SwabwrightError
from swabwright.reports.fonts import known_characters

Value = TypeVar("Value")
INVISIBLE = {0x200D, 0xFE0E, 0xFE0F}
"""Joiners and variation selectors that only shape emoji."""
LINE_ENDS = {0x09, 0x0A, 0x0D}
SYMBOLS = {"So", "Sk"}


def readable(data: Mapping[str, Any]) -> dict[str, Any]:
    """The data with every emoji replaced by its name; raises SwabwrightError for a character no typeface has."""
    return {key: _value(value) for key, value in data.items()}


def _value(value: Any) -> Any:
    if isinstance(value, str):
        return plain_text(value)
    if isinstance(value, Mapping):
        return readable(value)
    if isinstance(value, list | tuple):
        return [_value(item) for item in value]
    return value


def plain_text(text: str) -> str:
    """A text that the bundled typefaces can print."""
    # typefaces hold letters with their accents, not every accent apart
    composed = unicodedata.normalize("NFC", text)
    return "".join(_character(character, text) for character in composed)


def _character(character: str, text: str) -> str:
    code = ord(character)
    if code in INVISIBLE:
        return ""
    if code in LINE_ENDS:
        return " "
    if code in known_characters():
        return character
    # a picture has a name that says the same; a letter of another script has none
    if unicodedata.category(character) in SYMBOLS:
        return f"({unicodedata.name(character, 'unnamed sign').lower()})"
    name = unicodedata.name(character, "a character without a name")
    raise SwabwrightError(
        f"no bundled typeface has '{character}' (U+{code:04X}, {name.lower()}) in '{text[:60]}'; "
        "write it in Latin, Greek or Cyrillic letters, the plant's own spelling in brackets in the record"
    )
