"""Writes the reference pages that follow from the catalogue: `python docs/make_reference.py`."""

import sys
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from swabwright.case.clearance import Clearance
from swabwright.case.findings import Findings
from swabwright.case.investigation import Investigation
from swabwright.case.next_visit import NextVisit
from swabwright.case.plan import Plan
from swabwright.cli.manual_page import commands_told
from swabwright.plant.catalogue import SiteType
from swabwright.plant.document import Plant
from swabwright.plant.figures import Figure
from swabwright.plant.registry import load_catalogue
from swabwright.plant.schema import document_schema, schema_text
from swabwright.plant.sites import Stop

REFERENCE = Path(__file__).parent / "reference"
SCHEMAS: Mapping[str, type[BaseModel]] = {
    "plant": Plant,
    "investigation": Investigation,
    "plan": Plan,
    "findings": Findings,
    "next-visit": NextVisit,
    "clearance": Clearance,
}
"""Published schemas by document name."""

BOUNDS = {"minimum": "from", "exclusiveMinimum": "above", "maximum": "to"}
WRITTEN = "This page is written by `docs/make_reference.py` from the data files; do not edit it here."
COMMANDS = "from the commands themselves; do not edit it here.\n\n"
"""Where the written words of the page of commands end."""
CATALOGUE = load_catalogue()


def pages() -> dict[str, str]:
    """Every generated file by its path below docs/reference, with its text."""
    return {
        "site-types.md": site_types(),
        "devices-and-media.md": devices() + surfaces() + media(),
        "rulebook.md": rulebook(),
        "figures.md": figures(),
        "commands.md": commands(),
        **{f"{name}-document.md": document(name, model) for name, model in SCHEMAS.items()},
        **{f"schemas/{name}.schema.json": schema_text(model) for name, model in SCHEMAS.items()},
    }


def site_types() -> str:
    """The page of site types, grouped by what they are part of."""
    kinds = CATALOGUE.site_types.values()
    parts = [
        f"# Site types\n\n{WRITTEN}\n\n{len(CATALOGUE.site_types)} kinds of site of a wet, ready-to-eat plant. "
        "Every figure is an editable default; an asterisk marks those that nobody has confirmed.\n"
    ]
    parts.append(_sources())
    for holder in sorted({kind.holder for kind in kinds}):
        parts += [f"## Part of: {holder}\n", *(_site_type(kind) for kind in kinds if kind.holder == holder)]
    return "\n".join(parts)


def _sources() -> str:
    sources: dict[str, set[str]] = {}
    for name, figure in CATALOGUE.figures.under("site_type").items():
        sources.setdefault(name.split(".")[1], set()).add(figure.source)
    rows = [(name.replace("_", " "), "; ".join(sorted(told))) for name, told in sources.items()]
    return f"## Where the figures come from\n\n{_table(('figure', 'source'), rows)}\n"


def _site_type(kind: SiteType) -> str:
    rows = [(name.replace("_", " "), *_told(figure)) for name, figure in _own(kind).items()]
    facts = [
        f"`{kind.id}`, zone {_row(map(str, kind.zones))}, food contact: {kind.food_contact}, {kind.wetness}, "
        f"{CATALOGUE.surfaces[kind.surface].name.lower()}, order of work {kind.rank}.",
        f"{kind.why} Source: {kind.source}.",
        f"Also called: {_row(kind.also_called)}." if kind.also_called else "",
        f"Devices, the best first: {_row((CATALOGUE.devices[code].name.lower() for code in kind.devices), '; ')}.",
        f"As it stands: {_stop(kind.stop_as_is)}. {_opened(kind)}",
    ]
    return "\n\n".join([f"### {kind.name}", *filter(None, facts), _table(("figure", "value", "unit"), rows)]) + "\n"


def _own(kind: SiteType) -> dict[str, Figure]:
    return CATALOGUE.figures.under(f"site_type.{kind.id}")


def _opened(kind: SiteType) -> str:
    return f"Opened up by plant staff: {_stop(kind.stop)}." if kind.opens else "There is nothing to open."


def _stop(stop: Stop) -> str:
    words = [
        ("the line stands", stop.needs_line_stop),
        ("locked out and tagged", stop.needs_isolation),
        ("a mechanic of the plant", stop.mechanic),
        (f"{stop.minutes_down:g} minutes down", stop.minutes_down > 0),
        ("cleaned again before restart", stop.reclean_before_restart),
    ]
    return ", ".join(word for word, holds in words if holds) or "no stop"


def devices() -> str:
    """The part of the page on devices, with the steps to tick off."""
    parts = [f"# Devices, surfaces and media\n\n{WRITTEN}\n\n## Devices\n"]
    for device in CATALOGUE.devices.values():
        rows = [(name.replace("_", " "), *_told(each)) for name, each in _under(f"device.{device.code}")]
        steps = "\n".join(f"{number}. {step}." for number, step in enumerate(device.steps, 1))
        heading = f"### {device.code}: {device.name}\n\nFor: {device.for_kind}. Source: {device.source}."
        parts.append(f"{heading}\n\n{steps}\n\n{_table(('figure', 'value', 'unit'), rows)}\n")
    return "\n".join(parts)


def surfaces() -> str:
    """The part of the page on surfaces."""
    rows = [
        (surface.name, *_told(CATALOGUE.figures[f"surface.{name}.relative_recovery"]), surface.source)
        for name, surface in CATALOGUE.surfaces.items()
    ]
    return f"\n## Surfaces\n\n{_table(('surface', 'value', 'unit', 'source'), rows)}\n"


def media() -> str:
    """The part of the page on media against residues; a medium is as good as its weakest cell."""
    names = list(CATALOGUE.media)
    rows = [
        (
            chemistry.name,
            *(_told(CATALOGUE.figures[f"medium.{name}.{key}"])[0] for name in names),
            chemistry.note,
        )
        for key, chemistry in CATALOGUE.chemistries.items()
    ]
    heads = ("residue", *(CATALOGUE.media[name].name for name in names), "note")
    return f"\n## Media: share of viability kept with a residue\n\n{_table(heads, rows)}\n"


def rulebook() -> str:
    """The page of the default rulebook."""
    rows = [(name, *_told(figure), _range(figure), figure.source) for name, figure in _under("rule")]
    intro = "One authority's copy lies in each case as `rulebook.toml`; `overrides.toml` changes a figure for one case."
    return f"# Rulebook\n\n{WRITTEN}\n\n{intro}\n\n{_table(('rule', 'value', 'unit', 'range', 'source'), rows)}\n"


def figures() -> str:
    """The page of all other figures, by their dotted names."""
    shown = ("site_type.", "device.", "surface.", "medium.", "rule.")
    rest = sorted(name for name in CATALOGUE.figures if not name.startswith(shown))
    rows = [
        (f"`{name}`", *_told(each), _range(each), each.source) for name in rest for each in [CATALOGUE.figures[name]]
    ]
    return f"# Figures of the engine\n\n{WRITTEN}\n\n{_table(('figure', 'value', 'unit', 'range', 'source'), rows)}\n"


def commands() -> str:
    """The page of commands: its own words, then every command with its options."""
    page, mark, _ = (REFERENCE / "commands.md").read_text("utf-8").partition(COMMANDS)
    return f"{page}{mark}{commands_told()}"


def document(name: str, model: type[BaseModel]) -> str:
    """The page of one document: every part with its fields, what may stand there, and what it means."""
    schema = document_schema(model)
    intro = (
        f"`{name}.json` holds one object. A field marked * must be written; an unknown field is refused. "
        f"Metres on the plant's own drawing; times of the week are the plant's wall clock; dates with a time have an "
        f"offset from UTC. For machines: [`schemas/{name}.schema.json`](schemas/{name}.schema.json)."
    )
    parts = {model.__name__: schema, **schema.get("$defs", {})}
    tables = [f"## {part}\n\n{text.get('description', '')}\n\n{_fields(text)}\n" for part, text in parts.items()]
    return "\n".join([f"# The {name} document\n\n{WRITTEN}\n\n{intro}\n", *tables])


def _fields(part: Mapping[str, Any]) -> str:
    needed = part.get("required", ())
    rows = [
        (f"`{name}`{'*' if name in needed else ''}", _kind(field), field.get("description", "").replace("\n", " "))
        for name, field in part["properties"].items()
    ]
    return _table(("field", "what stands there", "meaning"), rows)


def _kind(field: Mapping[str, Any]) -> str:
    if "$ref" in field:
        part = field["$ref"].rsplit("/", 1)[-1]
        return f"{part} (below)"
    if "anyOf" in field:
        return " or ".join(_kind(choice) for choice in field["anyOf"])
    if "const" in field or "enum" in field:
        return _row((f"`{value}`" for value in field.get("enum", [field.get("const")])), " or ")
    if field["type"] == "array":
        return _list(field)
    if field["type"] == "object":
        return "names with a text each"
    return _plain(field)


def _list(field: Mapping[str, Any]) -> str:
    if "prefixItems" in field:
        point = all(item["type"] == "number" for item in field["prefixItems"])
        return "point `[x, y]`" if point else f"pair of {_kind(field['prefixItems'][0])}"
    least = f", at least {field['minItems']}" if "minItems" in field else ""
    return f"list of {_kind(field['items'])}{least}"


def _plain(field: Mapping[str, Any]) -> str:
    words = {
        "string": "text",
        "number": "number",
        "integer": "whole number",
        "boolean": "true or false",
        "null": "nothing",
    }
    if "format" in field:
        return {"date-time": "date and time with offset", "date": "date", "time": "time of day"}[field["format"]]
    return words[field["type"]] + "".join(
        f", {word} {field[bound]:g}" for bound, word in BOUNDS.items() if bound in field
    )


def _under(prefix: str) -> Iterable[tuple[str, Figure]]:
    return CATALOGUE.figures.under(prefix).items()


def _told(figure: Figure) -> tuple[str, str]:
    return f"{figure.value:g}{'' if figure.confirmed else '*'}", figure.unit


def _range(figure: Figure) -> str:
    return "" if figure.low is None or figure.high is None else f"{figure.low:g} to {figure.high:g}"


def _row(names: Iterable[str], between: str = ", ") -> str:
    return between.join(names)


def _table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    lines = [heads, ["---"] * len(heads), *rows]
    return "\n".join(f"| {' | '.join(cell.replace('|', '/') for cell in line)} |" for line in lines)


def write(folder: Path = REFERENCE) -> list[Path]:
    """Write every generated file below `folder`; the paths written."""
    written = []
    for name, text in pages().items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        written.append(path)
    return written


if __name__ == "__main__":
    sys.stdout.writelines(f"{path}\n" for path in write())
