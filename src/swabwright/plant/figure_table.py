"""Figures as they stand in a data file: one table each, complete or refused."""

from collections.abc import Mapping
from typing import Any

from swabwright.errors import DocumentRefused, Fault, did_you_mean
from swabwright.plant.figures import Figure

FIELDS = ("value", "unit", "source", "confirmed", "central", "low", "high")
NEEDED = ("value", "unit", "source", "confirmed")
CENTRAL = ("median", "mean", "exact")


def read_figures(table: Mapping[str, Any], document: str) -> dict[str, Figure]:
    """The figures of one `[figures]` table by dotted name; every fault in them is refused at once."""
    faults = [fault for name, entry in table.items() for fault in _faults(f'figures."{name}"', entry)]
    if faults:
        raise DocumentRefused(document, faults)
    return {name: make_figure(name, entry) for name, entry in table.items()}


def make_figure(name: str, entry: Mapping[str, Any]) -> Figure:
    """One figure called `name` from its table, which has been checked."""
    return Figure(
        name=name,
        value=float(entry["value"]),
        unit=entry["unit"],
        source=entry["source"],
        confirmed=entry["confirmed"],
        central=entry.get("central", "exact"),
        low=_optional(entry.get("low")),
        high=_optional(entry.get("high")),
    )


def _optional(value: float | None) -> float | None:
    return None if value is None else float(value)


def _faults(path: str, entry: object) -> list[Fault]:
    if not isinstance(entry, Mapping):
        return [Fault(path, "must be a table with value, unit, source and confirmed")]
    faults = [
        Fault(f"{path}.{name}", f"a figure has no '{name}'{did_you_mean(name, FIELDS)}")
        for name in entry
        if name not in FIELDS
    ]
    faults += [Fault(path, f"lacks '{name}'; write it, every figure needs it") for name in NEEDED if name not in entry]
    return faults or _wrong_values(path, entry)


def _wrong_values(path: str, entry: Mapping[str, Any]) -> list[Fault]:
    faults = [
        Fault(f"{path}.{name}", f"must be a number, not {entry[name]!r}")
        for name in ("value", "low", "high")
        if name in entry and not is_number(entry[name])
    ]
    if not isinstance(entry["source"], str) or not entry["source"].strip():
        faults.append(Fault(f"{path}.source", "must say where the figure comes from, or 'assumed'"))
    if not isinstance(entry["unit"], str) or not entry["unit"].strip():
        faults.append(Fault(f"{path}.unit", "must name the unit, or 'share' or 'weight'"))
    if not isinstance(entry["confirmed"], bool):
        faults.append(Fault(f"{path}.confirmed", f"must be true or false, not {entry['confirmed']!r}"))
    if entry.get("central", "exact") not in CENTRAL:
        faults.append(Fault(f"{path}.central", f"must be one of {', '.join(CENTRAL)}"))
    return faults or _outside_range(path, entry)


def _outside_range(path: str, entry: Mapping[str, Any]) -> list[Fault]:
    low, high = entry.get("low", entry["value"]), entry.get("high", entry["value"])
    if low <= entry["value"] <= high:
        return []
    return [Fault(path, f"value {entry['value']:g} lies outside its own range {low:g} to {high:g}")]


def is_number(value: object) -> bool:
    """Whether `value` is a finite number and not a truth value."""
    # A truth value is a whole number to Python, and infinity a number; neither is a figure.
    return isinstance(value, int | float) and not isinstance(value, bool) and abs(value) < float("inf")
