"""A small plant of two rooms as a drawing and sheets, in any DXF version and unit, for tests of the import."""

import warnings
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import ezdxf
import xlsxwriter
from ezdxf.document import Drawing
from ezdxf.layouts import Modelspace

PER_METRE = {"mm": 1000.0, "cm": 100.0, "m": 1.0, "inch": 1 / 0.0254, "feet": 1 / 0.3048}
CODES = {"inch": 1, "feet": 2, "mm": 4, "cm": 5, "m": 6, None: 0}

Points = Sequence[tuple[float, float]]

SLICING = [(0.0, 0.0), (8.0, 0.0), (8.0, 6.0), (0.0, 6.0)]
CORRIDOR = [(8.2, 0.0), (11.0, 0.0), (11.0, 6.0), (8.2, 6.0)]


class Sheet:
    """A drawing being made, in metres; `save` writes it in its own unit and version."""

    def __init__(self, version: str = "R2010", unit: str = "mm", stated: bool = True) -> None:
        self.document: Drawing = ezdxf.new(version)
        self.space: Modelspace = self.document.modelspace()
        self.factor = PER_METRE[unit]
        if version != "R12":
            self.document.header["$INSUNITS"] = CODES[unit if stated else None]

    def outline(self, layer: str, points: Points, close: bool = True) -> "Sheet":
        self.space.add_polyline2d(self._scaled(points), close=close, dxfattribs={"layer": layer})
        return self

    def line(self, layer: str, points: Points) -> "Sheet":
        return self.outline(layer, points, close=False)

    def text(self, layer: str, at: tuple[float, float], words: str, height: float = 0.3) -> "Sheet":
        attributes = {"layer": layer, "height": height * self.factor}
        self.space.add_text(words, dxfattribs=attributes).set_placement(self._scaled([at])[0])
        return self

    def arc(self, layer: str, centre: tuple[float, float], radius: float, angles: tuple[float, float]) -> "Sheet":
        self.space.add_arc(self._scaled([centre])[0], radius * self.factor, *angles, dxfattribs={"layer": layer})
        return self

    def symbol(self, layer: str, at: tuple[float, float], **attributes: str) -> "Sheet":
        name = f"MARK_{layer}".replace(" ", "_")
        if name not in self.document.blocks:
            block = self.document.blocks.new(name)
            block.add_circle((0, 0), 0.1 * self.factor)
        mark = self.space.add_blockref(name, self._scaled([at])[0], dxfattribs={"layer": layer})
        for tag, value in attributes.items():
            mark.add_attrib(tag, value, self._scaled([at])[0])
        return self

    def save(self, path: Path) -> Path:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            self.document.saveas(path)
        return path

    def _scaled(self, points: Points) -> list[tuple[float, float]]:
        return [(x * self.factor, y * self.factor) for x, y in points]


def two_rooms(version: str = "R2010", unit: str = "mm", stated: bool = True) -> Sheet:
    """Slicing (8 x 6 m) and a corridor beside it, a door between them and one to the outside."""
    sheet = Sheet(version, unit, stated)
    sheet.outline("ROOMS", SLICING).outline("ROOMS", CORRIDOR)
    sheet.text("ROOM NAMES", (1.0, 5.0), "Slicing").text("ROOM NAMES", (9.0, 5.0), "Corridor")
    sheet.line("DOORS", [(8.1, 2.0), (8.1, 3.2)]).line("DOORS", [(11.1, 4.0), (11.1, 5.0)])
    sheet.outline("EQUIPMENT", [(2.0, 2.0), (4.0, 2.0), (4.0, 3.0), (2.0, 3.0)])
    sheet.text("EQUIPMENT", (2.5, 2.4), "Slicer A", 0.15)
    return sheet


SITES = [
    ["Code", "Description", "Type", "Room", "Zone", "Area (cm2)"],
    ["S001", "Drain by the slicer", "Floor drain", "Slicing", 3, 900],
    ["S002", "Blade of slicer A", "Slicer blade", "Slicing", 1, "0.12 m2"],
    ["S003", "Cove, north wall", "Floor-wall junction", "Corridor", "Z4", "10 x 30 cm"],
]


def write_xlsx(path: Path, sheets: Mapping[str, Sequence[Sequence[Any]]], merges: Sequence[str] = ()) -> Path:
    """A workbook of these sheets; `merges` are ranges of the first one ('A3:A5')."""
    with xlsxwriter.Workbook(str(path), {"in_memory": True}) as workbook:
        for name, rows in sheets.items():
            sheet = workbook.add_worksheet(name)
            for number, row in enumerate(rows):
                sheet.write_row(number, 0, row)
            for place in merges if name == next(iter(sheets)) else ():
                first = place.partition(":")[0]
                column, line = ord(first[0]) - ord("A"), int(first[1:]) - 1
                sheet.merge_range(place, rows[line][column])
    return path
