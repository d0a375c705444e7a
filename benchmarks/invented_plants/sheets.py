"""An invented plant's spreadsheets, in one of several manners of headers and files."""

import csv
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import xlsxwriter
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import Table, TableCell, TableRow
from odf.text import P

from benchmarks.invented_plants.contents import Contents, Spot
from benchmarks.invented_plants.floor import Floor
from benchmarks.invented_plants.wording import HEADERS, Headers

Rows = list[list[Any]]
INCH2_CM2 = 6.4516


@dataclass(frozen=True)
class SheetManner:
    """How one plant keeps its lists."""

    headers: Headers
    suffix: str
    """xlsx, ods or csv for the site list."""
    merged_rooms: bool
    notes_below: bool
    with_rooms: bool
    with_lines: bool
    with_schedule: bool
    with_cleaning: bool
    with_hands: bool


def choose_sheets(rng: np.random.Generator) -> SheetManner:
    """A manner of keeping lists; each further sheet is there more often than not."""
    suffix = str(rng.choice(["xlsx", "xlsx", "ods", "csv"]))
    there = [bool(rng.random() < 0.7) for _ in range(5)]
    return SheetManner(
        HEADERS[int(rng.integers(len(HEADERS)))],
        suffix,
        bool(suffix == "xlsx" and rng.random() < 0.5),
        bool(rng.random() < 0.5),
        *there,
    )


def write_sheets(folder: Path, floor: Floor, contents: Contents, manner: SheetManner) -> None:
    """sites.<suffix> with the site list, and more.xlsx with the further sheets, when there is any."""
    rows, merges = _site_list(contents, manner)
    path = folder / f"sites.{manner.suffix}"
    if manner.suffix == "csv":
        _write_csv(path, rows)
    elif manner.suffix == "ods":
        _write_ods(path, {"Site list": rows})
    else:
        _write_xlsx(path, {"Site list": rows}, merges)
    further = _further(floor, contents, manner)
    if further:
        _write_xlsx(folder / "more.xlsx", further, [])


def _site_list(contents: Contents, manner: SheetManner) -> tuple[Rows, list[tuple[int, int, int]]]:
    """The rows, and the merged ranges as (first row, last row, column)."""
    headers = manner.headers
    fields = list(headers.names)
    rows: Rows = [["Environmental sites", "issued by quality"], []] if headers.title else []
    if headers.groups:
        rows.append([headers.groups.get(field, "") for field in fields])
    rows.append([headers.names[field] for field in fields])
    first = len(rows)
    sites = sorted(contents.sites, key=lambda site: site.room) if manner.merged_rooms else list(contents.sites)
    rows += [[_cell(site, field, headers) for field in fields] for site in sites]
    merges = _merges(sites, first, fields.index("room")) if manner.merged_rooms else []
    if manner.notes_below:
        rows += [[], ["Numbers as painted on the wall."], ["Ask the hygiene lead before opening a machine."]]
    return rows, merges


def _merges(sites: list[Spot], first: int, column: int) -> list[tuple[int, int, int]]:
    merges: list[tuple[int, int, int]] = []
    start = 0
    for number in range(1, len(sites) + 1):
        if number == len(sites) or sites[number].room != sites[start].room:
            if number - start > 1:
                merges.append((first + start, first + number - 1, column))
            start = number
    return merges


def _cell(site: Spot, field: str, headers: Headers) -> str | float:
    values: dict[str, str | float] = {
        "code": site.code,
        "name": site.name,
        "kind": site.words,
        "room": site.room,
        "zone": f"Zone {site.zone}" if headers.title else site.zone,
        "equipment": site.machine,
        "height": f"{site.height_m:.1f} m".replace(".", ","),
        "surface": site.material,
        "note": "",
        "area": _area(site, headers),
    }
    return values[field]


def _area(site: Spot, headers: Headers) -> str | float:
    if headers.names["area"] == "in2":
        return round(site.area_cm2 / INCH2_CM2, 2)
    return f"{site.area_cm2:.0f} cm2" if headers.names["area"] == "Surface area" else site.area_cm2


def _further(floor: Floor, contents: Contents, manner: SheetManner) -> dict[str, Rows]:
    touched = [site.code for site in contents.sites if site.machine][:4]
    sheets = {
        "Lines": (manner.with_lines, _lines(contents)),
        "Rooms": (manner.with_rooms, _rooms(floor)),
        "Shifts": (manner.with_schedule, SHIFTS),
        "Cleaning plan": (manner.with_cleaning, CLEANING),
        "Work stations": (manner.with_hands and len(touched) > 1, _stations(touched)),
    }
    return {name: rows for name, (there, rows) in sheets.items() if there}


SHIFTS: Rows = [
    ["Line", "What", "Days", "From", "To"],
    ["all", "Run", "Mon-Fri", "06:00", "15:00"],
    ["all", "Break", "Mon-Fri", "10:00", "10:30"],
]
CLEANING: Rows = [
    ["Cleaning", "Type", "Rooms", "Days", "From", "To", "Disinfectant", "Strength", "Rinsed"],
    ["Daily clean", "full", "all", "Mon-Fri", "16:00", "19:00", "Quat", "200 ppm", "yes"],
]


def _lines(contents: Contents) -> Rows:
    rows: Rows = [["Line", "Product", "Machines in order", "Output (kg/h)"]]
    return rows + [[name, "Sliced smoked fish", " > ".join(machines), 450] for name, machines in contents.lines]


def _rooms(floor: Floor) -> Rows:
    rows: Rows = [["Room", "Temperature (°C)", "Wet or dry"]]
    for room in floor.rooms:
        cold, wet = room.role in ("chill", "ready"), room.role in ("raw", "ready")
        rows.append([room.name, 6 if cold else 14, "wet" if wet else "damp"])
    return rows


def _stations(touched: list[str]) -> Rows:
    return [["Station", "Sites touched"], ["Feeding the first machine", ", ".join(touched)]]


def _write_xlsx(path: Path, sheets: dict[str, Rows], merges: list[tuple[int, int, int]]) -> None:
    with xlsxwriter.Workbook(str(path)) as workbook:
        for name, rows in sheets.items():
            sheet = workbook.add_worksheet(name)
            for number, row in enumerate(rows):
                sheet.write_row(number, 0, row)
            for first, last, column in merges:
                sheet.merge_range(first, column, last, column, rows[first][column])


def _write_csv(path: Path, rows: Rows) -> None:
    """As a western office program saves it: semicolons, the Windows code page."""
    with path.open("w", newline="", encoding="cp1252") as file:
        csv.writer(file, delimiter=";").writerows(rows)


def _write_ods(path: Path, sheets: dict[str, Rows]) -> None:
    document = OpenDocumentSpreadsheet()
    for name, rows in sheets.items():
        table = Table(name=name)
        for row in rows or [[]]:
            line = TableRow()
            for value in row or [""]:
                line.addElement(_ods_cell(value))
            table.addElement(line)
        document.spreadsheet.addElement(table)
    document.save(str(path))


def _ods_cell(value: str | float) -> TableCell:
    if isinstance(value, int | float):
        cell = TableCell(valuetype="float", value=value)
    else:
        cell = TableCell(valuetype="string")
    if value != "":
        cell.addElement(P(text=str(value)))
    return cell
