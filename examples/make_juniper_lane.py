"""Draws the invented smokehouse as a DXF and lists it as a spreadsheet, as a plant would hand them over.

Run from the project's root: .venv/bin/python examples/make_juniper_lane.py
The shapes stand in tables/drawing.json (metres), the lists in tables/*.csv; all of it is made up.
"""

import csv
import json
from pathlib import Path
from typing import Any

import ezdxf
import xlsxwriter
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment

HERE = Path(__file__).parent
OUT = HERE / "juniper-lane" / "drawing"
MILLIMETRES = 4
LAYERS = ("ROOMS", "DOORS", "DRAINS", "EQUIPMENT", "OVERHEAD", "AIR", "ROUTES", "SITE CODES")
TITLE = "Juniper Lane Smokehouse (invented)"


class Sheet:
    """A model space that draws metres in millimetres, with labels."""

    def __init__(self, drawing: Drawing) -> None:
        self._space = drawing.modelspace()

    def closed(self, layer: str, points: list[list[float]]) -> None:
        """A closed outline."""
        self._space.add_lwpolyline(_millimetres(points), close=True, dxfattribs={"layer": layer})

    def open(self, layer: str, points: list[list[float]]) -> None:
        """An open polyline."""
        self._space.add_lwpolyline(_millimetres(points), dxfattribs={"layer": layer})

    def box(self, layer: str, name: str, corner_and_size: list[float]) -> None:
        """A named rectangle from its lower left corner, width and depth."""
        x, y, width, depth = corner_and_size
        self.closed(layer, [[x, y], [x + width, y], [x + width, y + depth], [x, y + depth]])
        self.label(layer, name, [x + width / 2, y + depth / 2])

    def way(self, layer: str, name: str, points: list[list[float]]) -> None:
        """A named open polyline; the name stands at its start."""
        self.open(layer, points)
        self.label(layer, name, [points[0][0], points[0][1] + 0.15])

    def label(self, layer: str, text: str, at: list[float]) -> None:
        """A text centred at a point."""
        entity = self._space.add_text(text, height=220, dxfattribs={"layer": layer})
        entity.set_placement((1000 * at[0], 1000 * at[1]), align=TextEntityAlignment.MIDDLE_CENTER)


def _millimetres(points: list[list[float]]) -> list[tuple[float, float]]:
    return [(1000 * x, 1000 * y) for x, y in points]


def draw(shapes: dict[str, Any]) -> None:
    """Write the floor drawing."""
    drawing = ezdxf.new("R2010", units=MILLIMETRES)
    for layer in LAYERS:
        drawing.layers.add(layer)
    sheet = Sheet(drawing)
    for name, outline in shapes["rooms"].items():
        sheet.closed("ROOMS", outline)
        sheet.label("ROOMS", name, [outline[0][0] + 1.6, outline[0][1] + 0.5])
    for door in shapes["doors"]:
        _draw_door(sheet, door)
    for layer, kind in (("EQUIPMENT", "machines"), ("OVERHEAD", "overhead")):
        for name, shape in shapes[kind].items():
            sheet.box(layer, name, shape)
    for layer, kind in (("DRAINS", "drains"), ("ROUTES", "routes")):
        for name, points in shapes[kind].items():
            sheet.way(layer, name, points)
    for layer, kind in (("AIR", "air"), ("SITE CODES", "sites")):
        for name, at in shapes[kind].items():
            sheet.label(layer, name, at)
    drawing.saveas(OUT / "ground-floor.dxf")


def _draw_door(sheet: Sheet, door: dict[str, Any]) -> None:
    half = door["width_m"] / 2
    dx, dy = (half, 0.0) if door["along"] == "x" else (0.0, half)
    x, y = door["x"], door["y"]
    sheet.open("DOORS", [[x - dx, y - dy], [x + dx, y + dy]])
    sheet.label("DOORS", door["name"], [x + 0.1, y + 0.1])


def list_everything() -> None:
    """Write the spreadsheet: one sheet a table, each under a title as offices make them."""
    with xlsxwriter.Workbook(OUT / "site-list.xlsx", {"strings_to_formulas": False}) as book:
        title = book.add_format({"bold": True, "font_size": 14})
        head = book.add_format({"bold": True, "bottom": 1})
        for file in sorted((HERE / "tables").glob("*.csv"), key=lambda path: path.stem != "sites"):
            with file.open(encoding="utf-8", newline="") as source:
                headers, *rows = csv.reader(source)
            name = file.stem.replace("-", " ").capitalize()
            sheet = book.add_worksheet(name)
            sheet.merge_range(0, 0, 0, len(headers) - 1, f"{TITLE}: {name.lower()}", title)
            sheet.write_row(2, 0, headers, head)
            for place, row in enumerate(rows, start=3):
                sheet.write_row(place, 0, [_number_or_text(cell) for cell in row])
            if name == "Sites":
                sheet.write(len(rows) + 4, 0, "List kept by the quality office; invented.")


def _number_or_text(cell: str) -> float | str:
    try:
        return float(cell)
    except ValueError:
        return cell


if __name__ == "__main__":
    OUT.mkdir(parents=True, exist_ok=True)
    draw(json.loads((HERE / "tables" / "drawing.json").read_text(encoding="utf-8")))
    list_everything()
