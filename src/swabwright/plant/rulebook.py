"""The rulebook's figures and the overrides of one case, read strictly."""

import tomllib
from collections.abc import Iterator, Mapping
from importlib.resources import files
from typing import Any

from swabwright.errors import DocumentRefused, Fault, did_you_mean
from swabwright.plant.figure_table import is_number, read_figures
from swabwright.plant.figures import Figures, Override
from swabwright.plant.registry import data_files

OVERRIDE_FIELDS = ("figure", "value", "who", "why")
TABLES = ("rulebook", "figures")


def rulebook_text() -> str:
    """The rulebook that comes with the program, as a case's own copy."""
    return (files("swabwright.plant") / "data" / "rulebook.toml").read_text(encoding="utf-8")


def read_rulebook(text: str, name: str = "rulebook.toml") -> Figures:
    """The figures `rule.*` of one authority's rulebook; refused with every unknown name and every fault."""
    document = _parsed(text, name)
    faults = [
        Fault(table, f"a rulebook has no table '{table}'{did_you_mean(table, TABLES)}")
        for table in document
        if table not in TABLES
    ]
    # Only shipped rules are known: a misspelt one would otherwise be read and never used.
    known = tuple(data_files()["rulebook.toml"]["figures"])
    faults += [
        Fault(f'figures."{figure}"', f"no rule '{figure}'{did_you_mean(figure, known)}")
        for figure in document.get("figures", {})
        if figure not in known
    ]
    if faults:
        raise DocumentRefused(name, faults)
    return Figures(read_figures(document.get("figures", {}), name))


def read_overrides(text: str, figures: Figures, name: str = "overrides.toml") -> tuple[Override, ...]:
    """The changed figures of one case, each with who set it and why; refused with every fault.

    The text holds one table `[[override]]` a figure, with `figure`, `value`, `who` and `why`.
    """
    document = _parsed(text, name)
    entries = document.get("override", [])
    faults = [
        Fault(key, f"no such table{did_you_mean(key, ['override'])}; write [[override]]")
        for key in document
        if key != "override"
    ]
    if not isinstance(entries, list):
        raise DocumentRefused(
            name, [*faults, Fault("override", "must be a list; write [[override]] with two brackets")]
        )
    faults += [fault for place, entry in enumerate(entries) for fault in _faults(f"override[{place}]", entry, figures)]
    faults += _repeated(entries)
    if faults:
        raise DocumentRefused(name, faults)
    return tuple(
        Override(entry["figure"], float(entry["value"]), entry["who"].strip(), entry["why"].strip())
        for entry in entries
    )


def _parsed(text: str, name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text.removeprefix("\ufeff"))
    except tomllib.TOMLDecodeError as error:
        raise DocumentRefused(name, [Fault("", f"not TOML: {str(error).lower()}; mend the text there")]) from error


def _faults(path: str, entry: Mapping[str, Any], figures: Figures) -> Iterator[Fault]:
    for field in entry:
        if field not in OVERRIDE_FIELDS:
            yield Fault(f"{path}.{field}", f"no such field{did_you_mean(field, OVERRIDE_FIELDS)}")
    for field in ("figure", "who", "why"):
        if not isinstance(entry.get(field), str) or not entry[field].strip():
            yield Fault(f"{path}.{field}", "is missing; a changed figure says which, who changed it and why")
    if not is_number(entry.get("value")):
        yield Fault(f"{path}.value", f"must be a number, not {entry.get('value')!r}")
    figure = entry.get("figure")
    if isinstance(figure, str) and figure and figure not in figures:
        yield Fault(f"{path}.figure", f"no figure '{figure}'{did_you_mean(figure, list(figures))}")


# Two entries for one figure would leave it to their order which one holds, and two people would each be right.
def _repeated(entries: list[Mapping[str, Any]]) -> Iterator[Fault]:
    seen: dict[object, int] = {}
    for place, entry in enumerate(entries):
        figure = entry.get("figure")
        if figure in seen:
            yield Fault(
                f"override[{place}].figure", f"'{figure}' is already override[{seen[figure]}]; keep one of them"
            )
        seen.setdefault(figure, place)
