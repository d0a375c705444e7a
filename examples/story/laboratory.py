"""The invented laboratory: its signed reports with their tables, taken in as any other laboratory's."""

import csv
import io
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from story.day import Day, Told
from story.scribe import Scribe

from swabwright.case.folder import read_case
from swabwright.work.import_results import ResultsOutcome, ResultsRequest, import_results
from swabwright.work.record_accept import Signer

HEADER = ("Sample number", "Result", "Organism", "Method", "Analysis started", "Isolate", "Strain", "Pick", "Storage",
          "Reason for amendment")  # fmt: skip
ORGANISM = "Listeria monocytogenes"
Outcomes = dict[str, list[str]]
"""Strains that are found, by what the sample is called on its visit; what is not named is not detected."""


def take_in(scribe: Scribe, day: Day, report: Told, found: Outcomes) -> ResultsOutcome:
    """Write a report's two files, import them, and keep the record's ids and times fixed."""
    rows = list(_rows(day, report, found))
    with TemporaryDirectory() as folder, scribe.own_ids():
        stem = Path(folder) / f"{report['accession']}-{report['status']}"
        table, signed = stem.with_suffix(".csv"), stem.with_suffix(".txt")
        table.write_bytes(_table(report, rows))
        signed.write_bytes(_signed(day, report, rows))
        signer = Signer(scribe.by, day.told["office"])
        laboratory = day.told["carriage"]["laboratory"]
        request = ResultsRequest(table, signed, signer, laboratory, at=report["entered_at"])
        return import_results(read_case(scribe.case), request)


def _rows(day: Day, report: Told, found: Outcomes) -> Iterator[Told]:
    names = {number: name for name, number in day.numbers.items()}
    numbers = [number for number in sorted(day.taken) if _reported(report, names[number], found)]
    for number in numbers:
        name = names[number]
        strains = found.get(name, [])
        result = report.get("otherwise", {}).get(name) or report["words"]["detected" if strains else "not_detected"]
        row = {"Sample number": number, "Result": result, "Organism": ORGANISM, "Method": report["method"]}
        row |= {"Analysis started": report["started"], "Reason for amendment": report.get("reason", "")}
        told = report.get("isolates") and result == report["words"]["detected"]
        shown = [_isolate(report, one) for one in isolates_of(day, name, strains)] if told else []
        yield from ({**row, **one} for one in shown or [{}])
    for stray in report.get("strays", ()):
        row = {"Sample number": stray["number"], "Result": stray["result"], "Organism": ORGANISM}
        yield row | {"Method": report["method"], "Analysis started": report["started"]}


def _reported(report: Told, name: str, found: Outcomes) -> bool:
    if "only" in report:
        return name in report["only"]
    return report["rows"] == "all" or bool(found.get(name)) or name in report.get("otherwise", {})


def isolates_of(day: Day, name: str, strains: list[str]) -> Iterator[Told]:
    """Isolates of a sample, one pick of each strain: name, pick, strain."""
    place = sorted(day.taken).index(day.numbers[name]) + 1
    for pick, strain in enumerate(strains, start=1):
        yield {"name": f"{day.told['carriage']['accession']}-{place:02d}.{pick}", "pick": pick, "strain": strain}


def _isolate(report: Told, one: Told) -> Told:
    clusters = report.get("clusters", {})
    told = {"Isolate": one["name"], "Pick": one["pick"], "Storage": "at -80 °C, two vials"}
    return told | ({"Strain": clusters[one["strain"]]} if clusters else {})


def _table(report: Told, rows: list[Told]) -> bytes:
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerows(_head(report))
    writer.writerow([])
    writer.writerow(HEADER)
    writer.writerows([row.get(column, "") for column in HEADER] for row in rows)
    return text.getvalue().encode()


def _head(report: Told) -> list[tuple[str, str]]:
    return [
        ("Accession number", report["accession"]),
        ("Status", report["status"]),
        ("Authorised by", report["signed_by"]),
        ("Reported", report["reported_at"]),
    ]


def _signed(day: Day, report: Told, rows: list[Told]) -> bytes:
    """The report as the laboratory signs it; a page of text, as everything here is invented."""
    lines = [f"{day.told['carriage']['laboratory']}: report of analysis", ""]
    lines += [f"{name}: {value}" for name, value in _head(report)] + [""]
    lines += [" | ".join(str(row[column]) for column in HEADER if row.get(column)) for row in rows]
    lines += ["", *report.get("notes", ()), f"Signed: {report['signed_by']}", "Invented, with everything in it."]
    return ("\n".join(lines) + "\n").encode()
