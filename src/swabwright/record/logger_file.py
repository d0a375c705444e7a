"""A temperature logger's file, CSV or spreadsheet: its readings, how it was read, and what was guessed."""

from dataclasses import dataclass
from pathlib import Path

from swabwright.errors import DocumentRefused, Fault
from swabwright.plant.figures import Figures
from swabwright.record.logger_cells import Rows, temperatures, unit_of_cells
from swabwright.record.logger_clock import Times, read_times
from swabwright.record.logger_layout import Layout, find_layout
from swabwright.record.read_as import ReadAs, Unit
from swabwright.record.readings import Readings
from swabwright.tables.grid import column_letter
from swabwright.tables.workbook import TEXT_SUFFIXES, read_sheets


@dataclass(frozen=True)
class LoggerFile:
    """What a logger's file says, and how it was understood."""

    readings: Readings
    read_as: ReadAs
    """Whole: the same file read by it gives the same readings, without a guess."""
    said: tuple[str, ...]
    """Every guess and decision as a sentence."""


def read_logger(path: Path, asked: ReadAs, figures: Figures) -> LoggerFile:
    """The readings of a logger's file; what `asked` leaves out is guessed and said.

    Errors: DocumentRefused with the row or the option, and what to do; nothing is repaired.
    """
    layout = find_layout(read_sheets(path), asked, figures, path.name)
    cells = [(number, row[layout.columns["temperature"]]) for number, row in layout.rows()]
    if not cells:
        layout.refuse([Fault(f"sheet '{layout.grid.name}'", "holds no readings below its heading")])
    layout.refuse(_torn_decimals(layout))
    unit, said_unit = _unit(cells, layout)
    degrees, faults = temperatures(cells, unit, figures)
    layout.refuse(faults)
    times = read_times(layout)
    if times.newest_first:
        degrees.reverse()
    # A text file has one sheet only, called as the file happens to be called.
    sheet = None if path.suffix.lower() in TEXT_SUFFIXES else layout.grid.name
    return LoggerFile(
        Readings(times.seconds, tuple(degrees)),
        _whole(layout, unit, times).model_copy(update={"sheet": sheet}),
        (*_where(layout, sheet), said_unit, *times.said),
    )


def _torn_decimals(layout: Layout) -> list[Fault]:
    """The first row whose decimal comma was taken for the mark between two columns: digits under no heading."""
    beside = layout.columns["temperature"] + 1
    if beside >= layout.grid.width or not layout.heading_row or layout.grid.cells[layout.heading_row - 1][beside]:
        return []
    beside_it = [(number, row[beside]) for number, row in layout.rows()]
    found = [number for number, cell in beside_it if isinstance(cell, str) and cell.isdigit()]
    said = "has digits beside the temperature, under no heading; is the decimal mark a comma? Export it with semicolons"
    return [Fault(f"row {found[0]}", said)] if found else []


def _unit(cells: Rows, layout: Layout) -> tuple[Unit, str]:
    in_cells, faults = unit_of_cells(cells)
    layout.refuse(faults)
    said, declared = layout.asked.unit, layout.declared_unit
    if in_cells and (said or declared) not in (None, in_cells):
        where = "--unit" if said else "the heading"
        layout.refuse(
            [
                Fault(
                    "unit",
                    f"the readings carry {in_cells}, but {where} says {said or declared}; one file holds one unit",
                )
            ]
        )
    if said:
        return said, f"Unit: {said}, as said."
    found = in_cells or declared
    if found is None:
        raise DocumentRefused(
            layout.name, [Fault("--unit", "the file names no unit; say it with --unit C or --unit F")]
        )
    return found, f"Unit: {found}, from {'the readings' if in_cells else 'heading or lines above'} (--unit overrules)."


def _whole(layout: Layout, unit: Unit, times: Times) -> ReadAs:
    columns = {f"{field}_column": column_letter(place) for field, place in layout.columns.items()}
    return ReadAs(
        heading_row=layout.heading_row,
        unit=unit,
        date_order=times.order,
        time_zone=times.zone,
        left_out=layout.asked.left_out,
        **columns,
    )


def _where(layout: Layout, sheet: str | None) -> list[str]:
    heading = f"row {layout.heading_row}" if layout.heading_row else "none"
    of = "" if sheet is None else f" of sheet '{sheet}'"
    left_out = ", ".join(f"row {row}" for row in layout.asked.left_out)
    return [
        f"Heading: {heading}{of} ({_by(layout.asked.heading_row, 'heading-row')}).",
        *(
            f"{field.capitalize()}: column {column_letter(place)} '{layout.headings[field]}'"
            f" ({_by(getattr(layout.asked, f'{field}_column'), f'{field}-column')})."
            for field, place in layout.columns.items()
        ),
        *(
            f"Not read: column {column} looks like a temperature too; if it is of this container, enter the file again "
            "with --temperature-column."
            for column in layout.not_read
        ),
        *([f"Left out as said: {left_out}."] if left_out else []),
    ]


def _by(asked: object, option: str) -> str:
    return f"--{option} overrules" if asked is None else "as said"
