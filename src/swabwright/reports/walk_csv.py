"""The walk as a table: one row a sample in order of work, columns that never change their order."""

import csv
from io import StringIO

from swabwright.case.plan import Plan, PlannedSample

COLUMNS = (
    "order",
    "sample_number",
    "kind",
    "room",
    "site",
    "site_name",
    "zone",
    "device",
    "mode",
    "area_cm2",
    "area_words",
    "minutes",
    "arrive_at",
    "team",
    "change_first",
    "needs",
    "why",
)
JOINER = "; "
FORMULA_STARTS = ("=", "+", "-", "@", "\t", "\r")


def walk_csv(plan: Plan) -> str:
    """The walk as RFC 4180 text (comma, CRLF, quotes doubled) with a header row; spare numbers have no row.

    Times are RFC 3339 with offset. Text that a spreadsheet would run as a formula starts with an apostrophe.
    """
    out = StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for sample in sorted(plan.samples, key=lambda sample: sample.order):
        writer.writerow([_cell(_value(sample, column)) for column in COLUMNS])
    return out.getvalue()


def _value(sample: PlannedSample, column: str) -> object:
    value = getattr(sample, column)
    if column == "arrive_at":
        return sample.arrive_at.isoformat()
    return JOINER.join(value) if isinstance(value, tuple) else value


def _cell(value: object) -> str:
    # a site list is the plant's own text and may hold anything
    text = "" if value is None else str(value)
    return f"'{text}" if isinstance(value, str) and text.startswith(FORMULA_STARTS) else text
