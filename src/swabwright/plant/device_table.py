"""Devices, surfaces and media as they stand in the data files, with their figures."""

from collections.abc import Mapping
from typing import Any

from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.catalogue import Chemistry, Device, Medium, Surface
from swabwright.plant.figures import Figure
from swabwright.plant.scales import scaled_figures


def read_devices(data: Mapping[str, Any]) -> tuple[dict[str, Device], dict[str, Figure]]:
    """All devices by code, and their figures `device.<code>.<name>`."""
    devices = {
        code: Device(
            code=code,
            name=entry["name"],
            shape=entry["shape"],
            for_kind=entry["for_kind"],
            steps=tuple(data["common_steps"]["before"]) + tuple(entry["steps"]) + tuple(data["common_steps"]["after"]),
            source=entry["source"],
        )
        for code, entry in data["devices"].items()
    }
    return devices, _figures("device", data["devices"], data["device_scales"])


def read_surfaces(data: Mapping[str, Any]) -> tuple[dict[str, Surface], dict[str, Figure]]:
    """All materials by id, and their figures `surface.<id>.relative_recovery`."""
    surfaces = {
        name: Surface(name, entry["name"], entry["relative_recovery"]["source"])
        for name, entry in data["surfaces"].items()
    }
    return surfaces, _figures("surface", data["surfaces"], data["surface_scales"])


def read_media(data: Mapping[str, Any]) -> tuple[dict[str, Medium], dict[str, Chemistry], dict[str, Figure]]:
    """Media and chemistries by id, and the figures `medium.<medium>.<chemistry>`: viability kept."""
    media = {name: Medium(name, entry["name"], entry["source"]) for name, entry in data["media"].items()}
    chemistries = {
        name: Chemistry(name, entry["name"], entry.get("note", "")) for name, entry in data["chemistries"].items()
    }
    figures: dict[str, Figure] = {}
    for medium, cells in data["keeps"].items():
        # A cell for a chemistry that nobody can name would never be read.
        _check_cells(medium, cells, chemistries)
        scales = {name: data["grade_scale"] | {"by": name} for name in chemistries}
        figures |= scaled_figures(f"medium.{medium}", {name: _cell(cell, data) for name, cell in cells.items()}, scales)
    return media, chemistries, figures


def _cell(cell: Mapping[str, Any], data: Mapping[str, Any]) -> dict[str, Any]:
    grades: Mapping[str, Any] = data["grades"]
    if cell["grade"] not in grades:
        raise SwabwrightError(f"no grade '{cell['grade']}' of a medium{did_you_mean(cell['grade'], list(grades))}")
    return {**grades[cell["grade"]], "source": cell["source"], "confirmed": cell["confirmed"]}


def _check_cells(medium: str, cells: Mapping[str, Any], chemistries: Mapping[str, Chemistry]) -> None:
    for name in cells:
        if name not in chemistries:
            raise SwabwrightError(f"medium '{medium}': no chemistry '{name}'{did_you_mean(name, list(chemistries))}")


def _figures(kind: str, entries: Mapping[str, Any], scales: Mapping[str, Any]) -> dict[str, Figure]:
    figures: dict[str, Figure] = {}
    for name, entry in entries.items():
        figures |= scaled_figures(f"{kind}.{name}", entry, scales)
    return figures
