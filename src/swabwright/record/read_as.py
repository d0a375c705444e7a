"""How a logger's file is to be read: every guess that can be overruled, kept to read the file again years later."""

from typing import Annotated, Literal

from pydantic import Field

from swabwright.plant.model import Part, Text

Column = Annotated[str, Field(pattern=r"^[A-Z]{1,3}$")]
RowNumber = Annotated[int, Field(ge=1, le=10_000_000)]
Unit = Literal["C", "F"]
DateOrder = Literal["day-month", "month-day", "year-month-day"]


class ReadAs(Part):
    """Where times and temperatures stand in a logger's file, and in what; a field left out is guessed."""

    sheet: Text | None = None
    heading_row: Annotated[int, Field(ge=0, le=10_000_000)] | None = None
    """The row above the first reading, as a spreadsheet counts; 0 when the readings begin in row 1."""
    date_column: Column | None = None
    """Only where date and time of day stand in two columns."""
    time_column: Column | None = None
    temperature_column: Column | None = None
    unit: Unit | None = None
    date_order: DateOrder | None = None
    time_zone: Text | None = None
    """A name such as Europe/Oslo, or an offset such as +01:00; left out when every time carries its offset."""
    left_out: tuple[RowNumber, ...] = ()
    """Rows that somebody decided not to read."""
