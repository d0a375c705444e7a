"""Values that entries share: times, sample numbers, hashes, files; quantities are whole numbers."""

from datetime import date, datetime
from typing import Annotated

from pydantic import AfterValidator, Field, StringConstraints

from swabwright.case.numbers import read_number
from swabwright.errors import SwabwrightError
from swabwright.plant import forms
from swabwright.plant.model import NOT_BLANK, Part, Text

LARGEST = 2**53 - 1
"""Every language reads whole numbers up to here alike (RFC 8785, section 3.2.2.3)."""


def _real_time(text: str) -> str:
    datetime.fromisoformat(text)
    return text


def _real_day(text: str) -> str:
    try:
        day = date.fromisoformat(text)
    except ValueError as error:
        raise ValueError(f"'{text}' is no day of the calendar; write it as 2026-03-05") from error
    if day.isoformat() != text:
        raise ValueError(f"write the day as {day.isoformat()}")
    return text


def _own_number(text: str) -> str:
    try:
        spelled = read_number(text)
    except SwabwrightError as error:
        raise ValueError(str(error)) from error
    if spelled != text:
        raise ValueError(f"write the sample number as {spelled}")
    return text


# Times stay text, so that the bytes that were hashed come back as they were written.
Moment = Annotated[str, StringConstraints(pattern=forms.MOMENT), AfterValidator(_real_time)]
"""RFC 3339 with offset, whole seconds: `2026-03-05T09:30:00+01:00`."""

Day = Annotated[str, AfterValidator(_real_day)]
"""A day of the calendar: `2026-03-05`."""

SampleNumber = Annotated[str, AfterValidator(_own_number)]
Digest = Annotated[str, StringConstraints(pattern=forms.HASH)]
"""SHA-256 in hexadecimal."""

EntryId = Annotated[str, StringConstraints(pattern=forms.RANDOM_IDENTITY)]
"""128 random bits, made by the phone or computer that made the entry."""

Words = Annotated[str, StringConstraints(min_length=1, max_length=4000, pattern=NOT_BLANK)]
Count = Annotated[int, Field(ge=0, le=LARGEST)]
TenthsOfDegree = Annotated[int, Field(ge=-2732, le=10_000)]
"""Temperature in tenths of a degree Celsius."""

NO_HASH = "0" * 64
"""Stands before the first entry of a chain."""


class FileRef(Part):
    """A file of the case by its bytes: it lies in files/ under its hash."""

    sha256: Digest
    ending: Annotated[str, StringConstraints(pattern=forms.FILE_ENDING)]
    size_bytes: Count

    @property
    def name(self) -> str:
        """Its name in files/: the hash and the ending."""
        return f"{self.sha256}.{self.ending}"


class IsolateRef(Part):
    """An isolate by its own name and the sample that it was picked from."""

    isolate: Text
    sample: SampleNumber


Isolates = Annotated[tuple[IsolateRef, ...], Field(min_length=1)]


class Body(Part):
    """What one entry says, by its kind."""

    def files(self) -> tuple[FileRef, ...]:
        """Every file that this body names."""
        values = [value for _, value in self]
        flat = [one for value in values for one in (value if isinstance(value, tuple) else (value,))]
        return tuple(one for one in flat if isinstance(one, FileRef))
