"""Makes the example: a DXF and a spreadsheet as a plant would hand them over, imported, then completed by telephone.

Run from the project's root: .venv/bin/python examples/make_juniper_lane.py
The shapes stand in tables/drawing.json (metres), the lists in tables/*.csv, what the plant said afterwards in
tables/confirmed.json; all of it is made up. Site keys of an earlier plant.json are kept.
"""

import csv
import json
from pathlib import Path
from typing import Any

import ezdxf
import xlsxwriter
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment

from swabwright.case.canonical import readable_json
from swabwright.plant.reading import read_plant
from swabwright.plant.registry import load_catalogue
from swabwright.work.import_plant import ImportRequest, import_files, refuse

HERE = Path(__file__).parent
OUT = HERE / "juniper-lane" / "drawing"
MILLIMETRES = 4
ROUTE_LAYERS = {"people": "PEOPLE", "trolley": "TROLLEYS", "waste": "WASTE", "forklift": "FORKLIFT"}
LAYERS = ("ROOMS", "DOORS", "DRAINS", "EQUIPMENT", "OVERHEAD", "AIR", "SITE CODES", *ROUTE_LAYERS.values())
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
        """A named open polyline; the name stands by its first stretch."""
        self.open(layer, points)
        (x, y), (next_x, next_y) = points[:2]
        self.label(layer, name, [(x + next_x) / 2, (y + next_y) / 2 + 0.1])

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
    for name, points in shapes["drains"].items():
        sheet.way("DRAINS", name, points)
    for name, kind in _route_kinds().items():
        sheet.way(ROUTE_LAYERS[kind], name, shapes["routes"][name])
    for layer, kind in (("AIR", "air"), ("SITE CODES", "sites")):
        for name, at in shapes[kind].items():
            sheet.label(layer, name, at)
    drawing.saveas(OUT / "ground-floor.dxf")


def _route_kinds() -> dict[str, str]:
    with (HERE / "tables" / "routes.csv").open(encoding="utf-8", newline="") as source:
        return {row["Route"]: row["Kind"] for row in csv.DictReader(source)}


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


def import_and_complete() -> None:
    """Import the two files, then write down what the plant said afterwards."""
    plant_file = OUT.parent / "plant.json"
    request = ImportRequest(
        sites=OUT / "site-list.xlsx",
        drawing=OUT / "ground-floor.dxf",
        mapping=OUT / "mapping.toml",
        keep_keys=plant_file if plant_file.exists() else None,
        out=plant_file,
    )
    refuse(import_files(request, load_catalogue()))
    confirmed = _read_json("confirmed.json")
    document = completed(json.loads(plant_file.read_text(encoding="utf-8")), confirmed)
    plant = read_plant(json.dumps(document), load_catalogue())
    plant_file.write_bytes(readable_json(plant))


def completed(document: dict[str, Any], confirmed: dict[str, Any]) -> dict[str, Any]:
    """The imported plant with every confirmed value in its place, and no longer listed as unconfirmed."""
    keys = {site["code"]: site["key"] for site in document["sites"]}
    for kind in ("doors", "overhead", "rooms", "sites", "lines"):
        for part in document[kind]:
            name = part["code"] if kind == "sites" else part["id"]
            for field, value in confirmed[kind].get(name, {}).items():
                part[field] = keys[value] if field == "split_from" else value
                document["unconfirmed"].pop(f"{kind}[{name}].{field}", None)
    return {**document, "air": confirmed["air"], "switched_off": confirmed["switched_off"]}


def _read_json(name: str) -> dict[str, Any]:
    document: dict[str, Any] = json.loads((HERE / "tables" / name).read_text(encoding="utf-8"))
    return document


if __name__ == "__main__":
    OUT.mkdir(parents=True, exist_ok=True)
    draw(_read_json("drawing.json"))
    list_everything()
    import_and_complete()
