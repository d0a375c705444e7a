"""Templates and data to PDF: one compiler a process, bundled typefaces only, the same bytes every time."""

import json
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

import typst

from swabwright.errors import SwabwrightError
from swabwright.reports.fonts import font_folder

STANDARDS: list[Any] = ["a-2a", "ua-1"]
"""Archival and accessible PDF: tagged, with text alternatives, typefaces inside."""


def pdf(template: str, data: Mapping[str, Any], pictures: Mapping[str, str], stamp: int = 0) -> bytes:
    """The PDF of a template with its data and SVG pictures by file name; `stamp` is its date in seconds since 1970.

    Raises SwabwrightError for whatever the typesetter faults or warns of; nothing is cut silently.
    """
    folder = files("swabwright.reports").joinpath("templates")
    parts = {entry.name: entry.read_bytes() for entry in folder.iterdir() if entry.name.endswith(".typ")}
    parts |= {name: text.encode() for name, text in pictures.items()}
    parts |= {"main.typ": parts[template], "data.json": json.dumps(data, ensure_ascii=False, sort_keys=True).encode()}
    try:
        made, warnings = _compiler().compile_with_warnings(
            input=parts, format="pdf", pdf_standards=STANDARDS, timestamp=stamp
        )
    except typst.TypstError as error:
        raise SwabwrightError(f"the papers cannot be set: {error.message} {' '.join(error.hints)}".strip()) from error
    # a warning is a missing typeface or text pushed out: on these papers both are faults
    if warnings:
        raise SwabwrightError(f"the papers cannot be set: {'; '.join(str(warning) for warning in warnings)}")
    return bytes(made)


@cache
def _compiler() -> Any:
    folder = font_folder()
    if not any(folder.glob("*.ttf")):
        raise SwabwrightError("the typefaces are missing; run ./start once with a network, it fetches them")
    return typst.Compiler(ignore_system_fonts=True, font_paths=[folder])
