"""Scales: one judgement ('how hard is it to clean, 1 to 5') that gives the figures of many site types."""

from collections.abc import Mapping
from typing import Any

from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.figure_table import make_figure
from swabwright.plant.figures import Figure

SHARED = ("unit", "source", "confirmed", "central")


def scaled_figures(prefix: str, entry: Mapping[str, Any], scales: Mapping[str, Any]) -> dict[str, Figure]:
    """The figures `prefix.<scale>` of one entry, each from the step that the entry names on that scale.

    A scale reads the entry's key `by`; the key holds the name of a step, or a number of its own,
    or a table with value and source that overrules the scale for this entry.
    """
    made = (_figure(f"{prefix}.{name}", entry.get(scale["by"]), scale) for name, scale in scales.items())
    return {figure.name: figure for figure in made}


def _figure(name: str, given: object, scale: Mapping[str, Any]) -> Figure:
    shared = {key: scale[key] for key in SHARED if key in scale}
    return make_figure(name, {**shared, **_step(name, given, scale)})


def _step(name: str, given: object, scale: Mapping[str, Any]) -> Mapping[str, Any]:
    if given is None:
        raise SwabwrightError(f"{name}: the entry lacks '{scale['by']}'; write a step, or a number")
    # An entry that knows better than its scale brings value and source itself.
    if isinstance(given, Mapping):
        return given
    steps: Mapping[str, Any] = scale.get("steps", {})
    if not steps and isinstance(given, int | float):
        return {"value": given}
    if str(given) not in steps:
        raise SwabwrightError(f"{name}: no step '{given}' on its scale{did_you_mean(str(given), list(steps))}")
    step = steps[str(given)]
    return step if isinstance(step, Mapping) else {"value": step}
