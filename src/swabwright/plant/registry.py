"""The registry: every data file of the catalogue read once and merged."""

import tomllib
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Any

from swabwright.errors import SwabwrightError
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.device_table import read_devices, read_media, read_surfaces
from swabwright.plant.figure_table import read_figures
from swabwright.plant.figures import Figure, Figures
from swabwright.plant.site_type_table import read_site_types


@cache
def load_figures() -> Figures:
    """Every figure of every data file, as one registry; a name given twice is refused."""
    return load_catalogue().figures


@cache
def load_catalogue() -> Catalogue:
    """The catalogue that comes with the program: site types, devices, surfaces, media, figures."""
    data = data_files()
    site_types, of_site_types = read_site_types(data["site_types.toml"])
    devices, of_devices = read_devices(data["devices.toml"])
    surfaces, of_surfaces = read_surfaces(data["surfaces.toml"])
    media, chemistries, of_media = read_media(data["media.toml"])
    plain = [read_figures(table["figures"], name) for name, table in data.items() if "figures" in table]
    figures = Figures(merged([of_site_types, of_devices, of_surfaces, of_media, *plain]))
    return Catalogue(site_types, devices, surfaces, figures, media, chemistries)


@cache
def data_files() -> dict[str, dict[str, Any]]:
    """The parsed data files by file name, in the order of their names."""
    return {name: parsed(name, text) for name, text in sorted(_texts())}


def parsed(name: str, text: str) -> dict[str, Any]:
    """The tables of one data file; a fault in its form is told with the file's name, line and column."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise SwabwrightError(f"{name}: {error}; mend the data file there") from error


def merged(parts: list[dict[str, Figure]]) -> dict[str, Figure]:
    """All figures of several files in one mapping; a name that stands in two of them is refused."""
    figures: dict[str, Figure] = {}
    for part in parts:
        # Two owners of one number would silently overwrite each other; the later file would win by its name.
        twice = figures.keys() & part.keys()
        if twice:
            raise SwabwrightError(f"figure '{min(twice)}' stands twice in the data files; keep one")
        figures |= part
    return figures


def _texts() -> Iterator[tuple[str, str]]:
    for entry in (files("swabwright.plant") / "data").iterdir():
        if entry.name.endswith(".toml"):
            yield entry.name, entry.read_text(encoding="utf-8")
