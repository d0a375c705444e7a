"""The laboratory's matches of isolates of the plant with isolates of patients, as a table; patients by code only."""

import re
from collections.abc import Sequence

from swabwright.errors import DocumentRefused, Fault, SwabwrightError
from swabwright.inference.wording import LaboratoryMatch, Quote, graded

HEADING = ("isolate", "patients", "method", "distance", "wording")
"""Columns that every table has."""
QUOTES = ("consistent_words", "consistent_said_by", "outbreak_words", "outbreak_said_by")
"""Columns that may follow: the third and fourth step of the ladder, each with who said it."""

PATIENT_CODE = re.compile(r"[A-Z]{1,3}-?[0-9]{1,5}")
"""Too short for a name, too few digits for a date of birth."""


def patient_code(text: str) -> str:
    """The code of a patient's isolate; anything that could be a name or a date of birth is refused unrepeated."""
    if PATIENT_CODE.fullmatch(text) is None:
        raise SwabwrightError(
            "patients: write one to three capital letters and up to five digits for each, such as P-12; names, dates "
            "of birth and longer identifiers stay outside"
        )
    return text


def read_matches(rows: Sequence[Sequence[str]], document: str) -> dict[str, LaboratoryMatch]:
    """What the laboratory said of each isolate of the plant, by the isolate's name.

    Errors: DocumentRefused naming each row with its fault; a patient's code that is refused is not printed.
    """
    heading = [cell.strip() for cell in rows[0]] if rows else []
    if tuple(heading) not in (HEADING, HEADING + QUOTES):
        problem = f"must be {','.join(HEADING)}, and may go on with {','.join(QUOTES)}"
        raise DocumentRefused(document, [Fault("row 1", problem)])
    found: dict[str, LaboratoryMatch] = {}
    faults = []
    for at, row in enumerate(rows[1:], 2):
        try:
            _take(found, heading, row)
        except SwabwrightError as error:
            faults.append(Fault(f"row {at}", str(error)))
    if faults:
        raise DocumentRefused(document, faults)
    return found


def _take(found: dict[str, LaboratoryMatch], heading: Sequence[str], row: Sequence[str]) -> None:
    if len(row) != len(heading):
        raise SwabwrightError(f"has {len(row)} cells, not {len(heading)}")
    cells = dict(zip(heading, (cell.strip() for cell in row), strict=True))
    isolate = cells["isolate"]
    if not isolate:
        raise SwabwrightError("names no isolate")
    if isolate in found:
        raise SwabwrightError(f"{isolate} stands in the table already; one row holds all patients it matches")
    match = LaboratoryMatch(
        tuple(patient_code(code) for code in cells["patients"].split()),
        cells["method"],
        cells["distance"],
        cells["wording"],
        _quote(cells, "consistent"),
        _quote(cells, "outbreak"),
    )
    graded(match)
    found[isolate] = match


def _quote(cells: dict[str, str], step: str) -> Quote | None:
    words, said_by = cells.get(f"{step}_words", ""), cells.get(f"{step}_said_by", "")
    return Quote(words, said_by) if words or said_by else None
