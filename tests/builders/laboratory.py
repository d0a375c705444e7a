"""An invented case with a collected visit, and an invented laboratory's tables and signed reports."""

import csv
import json
import shutil
import tempfile
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path

from builders import papers
from builders.cases import EXAMPLE

from swabwright.case.canonical import readable_json
from swabwright.case.folder import read_case
from swabwright.case.numbers import sample_numbers
from swabwright.record.journal import open_journal, read_record
from swabwright.work.import_results import ResultsRequest, import_results
from swabwright.work.record_accept import Signer
from swabwright.work.record_add import NewEntry, add_entry
from swabwright.work.results_entries import statements
from swabwright.work.results_report import GivenFacts

LABORATORY = "Fjord Laboratory (invented)"
OFFICE = Signer("Ada Lind", "office-1")
NUMBERS = tuple(number for number, _ in zip(sample_numbers("26-031", "visit-1", 7, ()), range(16), strict=False))
SITES = {0: ("S025", 1), 1: ("S033", 2), 2: ("S040", 3), 3: ("S042", 3), 4: ("S048", 2), 6: ("S040", 3), 7: ("S051", 3),
         8: ("S054", 3), 9: ("S044", 3)}  # fmt: skip
BLANK, DUPLICATE, NOT_TAKEN, NOT_COLLECTED, SPARE, PRODUCT, WATER = 5, 6, 7, 8, 10, 11, 12
STARTS = datetime.fromisoformat("2026-03-05T09:10:00+00:00")
HEADER = ("Sample number", "Result", "Organism", "Method", "Analysis started", "Isolate", "Strain", "Site name",
          "Colonies", "Share plated", "Status", "Reason for amendment", "Pick")  # fmt: skip
STARTED = "2026-03-06 07:30"


def results_case(folder, *, collected=(0, 1, 2, 3, 4, 5, 6, 9)):
    """The example with a plan of ten numbers; these were collected, number 7 was not taken, number 8 is open."""
    case = folder / "case"
    shutil.copytree(_collected(tuple(collected)), case)
    return case


@cache
def _collected(collected):
    """The case made once; every test works on its own copy."""
    case = Path(tempfile.mkdtemp(prefix="results-case-")) / "case"
    shutil.copytree(EXAMPLE, case)
    names = {site["code"]: site for site in json.loads((case / "plant.json").read_text("utf-8"))["sites"]}
    (case / "plans").mkdir()
    (case / "plans" / "visit-1.json").write_bytes(readable_json(plan_of(names)))
    told = [
        {"kind": "hold_answered", "line": "line-b", "answered_by": "N. Berg", "answer": "held", "since_lot": "JL-1"}
    ]
    told += [collect(number) for number in collected]
    told += [{"kind": "not_taken", "sample": NUMBERS[NOT_TAKEN], "reason": "the trolley was away"}]
    enter(case, *told)
    return case


def plan_of(names):
    """A plan of the ten numbers; the papers' own plan around them."""
    planned = [papers.sample(at + 1, NUMBERS[at], None, "SP") for at in range(10)]
    for at, (code, zone) in SITES.items():
        site = names[code]
        planned[at] |= {"kind": "duplicate" if at == DUPLICATE else "surface", "site": code, "site_key": site["key"],
                        "site_name": site["name"], "room": site["room"], "zone": zone, "area_cm2": 600.0}  # fmt: skip
    return papers.plan(samples=tuple(planned), spare_numbers=NUMBERS[10:])


def collect(at, **more):
    """The body of a collected sample, taken five minutes after the one before it."""
    code, zone = SITES.get(at, (None, None))
    kind = {BLANK: "blank", DUPLICATE: "duplicate"}.get(at, "surface")
    body = {"kind": "collected", "sample": NUMBERS[at], "sample_kind": kind, "device": "SP",
            "taken_at": (STARTS + timedelta(minutes=5 * at)).isoformat(timespec="seconds")}  # fmt: skip
    return body | ({"site": code, "zone": zone} if code else {}) | more


def enter(case, *bodies, at="2026-03-05T14:00:00+00:00"):
    """Add entries with these bodies."""
    with open_journal(case) as journal:
        journal.add_all(statements(journal, bodies, OFFICE, at))


def add(case, kind, **fields):
    """Add one entry as a person does, held against the record."""
    return add_entry(case, NewEntry(kind, OFFICE.by, OFFICE.device, fields, at="2026-03-05T15:00:00+00:00"))


def row(at, result="not detected", **cells):
    """One row of the laboratory's table for a number of the plan, or for any text."""
    number = NUMBERS[at] if isinstance(at, int) else at
    usual = {
        "Sample number": number,
        "Result": result,
        "Organism": "Listeria monocytogenes",
        "Method": "ISO 11290-1:2017",
    }
    return usual | {"Analysis started": STARTED} | {name.replace("_", " "): value for name, value in cells.items()}


def write_table(folder, rows, name="results.csv", head=()):
    """The table as CSV, with lines above its header."""
    path = folder / name
    with path.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerows(head)
        writer.writerow(HEADER)
        writer.writerows([[one.get(column, "") for column in HEADER] for one in rows])
    return path


def bring(case, rows, status="final", *, accession="L26-118", reported_at="2026-03-09 12:00", mapping=None, **given):
    """Import rows, or a table file, under a signed report of this status; its bytes follow from what it says."""
    folder = case.parent
    report = folder / f"report-{status}-{accession}-{(reported_at or 'undated')[:10]}.pdf"
    report.write_bytes(f"signed {accession} {status} {reported_at}".encode())
    table = rows if isinstance(rows, Path) else write_table(folder, rows, f"table-{report.stem}.csv")
    facts = GivenFacts(accession, status, "S. Holm", reported_at, **given)
    request = ResultsRequest(table, report, OFFICE, LABORATORY, mapping, facts, at="2026-03-09T13:00:00+00:00")
    return import_results(read_case(case), request)


def entries_of(case):
    """Every entry of the case."""
    return read_record(case)
