"""A case folder told from a story: documents, accepted plans, and a record of everything that happens."""

import hashlib
import json
import shutil
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from story.arrival import arrival_events
from story.carriage import carriage_events
from story.day import Day, Told, raw_events
from story.floor import floor_events
from story.laboratory import Outcomes, isolates_of, take_in
from story.pictures import picture
from story.plans import put_plan
from story.scribe import Scribe
from story.tables import distances, scan_table

from swabwright.case.folder import read_case
from swabwright.record.journal import read_record

HERE = Path(__file__).parent


def tell(name: str, out: Path, plans: Path, first: Path) -> None:
    """Write the record of the story of this name into a case folder that holds the plant's documents already.

    plans: where its accepted plans are kept. first: the investigation as it stood before the first visit.
    """
    story, outcomes = _read(f"{name}.toml"), _read("outcomes.toml")[name]
    for old in ("record.jsonl", "distances.csv", "scan.csv"):
        (out / old).unlink(missing_ok=True)
    shutil.rmtree(out / "files", ignore_errors=True)
    (out / "investigation.json").write_bytes(first.read_bytes())
    scribe = Scribe(out, story["by"], story["on"])
    chapters = [{**story["usual"], **chapter} for chapter in story["chapter"]]
    for told in chapters:
        _chapter(scribe, told, outcomes.get(told["visit"], {}), plans)
    isolates = list(_isolates(out, chapters, outcomes))
    if isolates:
        (out / "distances.csv").write_text(distances(isolates), encoding="utf-8")
        (out / "scan.csv").write_text(scan_table(read_case(out), read_record(out)), encoding="utf-8")
    (out / "record.lock").unlink(missing_ok=True)


def _chapter(scribe: Scribe, told: Told, found: Outcomes, plans: Path) -> None:
    """What comes before a visit, its day, what the laboratory says, what is done about it."""
    _add_visit(scribe.case, told)
    scribe.enter(list(raw_events(told.get("before", []))))
    put_plan(scribe.case, told["visit"], plans)
    day = Day(read_case(scribe.case), told)
    _name(scribe, day)
    shown = {name: picture(name) for name in told["pictures"]}
    raw = raw_events(told["day"], day.ends, shown)
    scribe.enter([*raw, *arrival_events(day), *floor_events(day), *carriage_events(day)])
    for report in told["reports"]:
        take_in(scribe, day, {**told["report"], **report}, found)
        scribe.enter(list(raw_events(report.get("then", []))))


def _add_visit(case: Path, told: Told) -> None:
    """Each later visit joins the investigation when it is decided on."""
    if "limits_and_all" not in told:
        return
    file = case / "investigation.json"
    document = json.loads(file.read_text(encoding="utf-8"))
    document["visits"].append({**document["visits"][0], **told["limits_and_all"], "id": told["visit"]})
    _type_facts(document, told.get("facts_typed_as"))
    file.write_text(json.dumps(document, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")


def _type_facts(document: dict[str, Any], strain: str | None) -> None:
    """What is suspected, and what product showed, gets its strain once the laboratory has typed it."""
    for fact in (*document["implicated"], *document["product_tests"]):
        if strain and fact.get("result") != "not_detected":
            fact["strain"] = strain


def _name(scribe: Scribe, day: Day) -> None:
    """Numbers and hashes of a visit by the names under which the story speaks of them."""
    plan = scribe.case / "plans" / f"{day.visit.id}.json"
    named: dict[str, Any] = {"taken": list(day.taken), "count": len(day.taken)}
    named["plan"] = hashlib.sha256(plan.read_bytes()).hexdigest()
    scribe.names |= {f"{day.visit.id} {name}": value for name, value in {**day.numbers, **named}.items()}


def _isolates(case: Path, chapters: list[Told], outcomes: dict[str, Outcomes]) -> Iterator[tuple[str, str]]:
    """Name and strain of every isolate."""
    opened = read_case(case)
    for told in chapters:
        day = Day(opened, told)
        for name, strains in outcomes.get(told["visit"], {}).items():
            if name in day.numbers and day.numbers[name] in day.taken:
                yield from ((one["name"], one["strain"]) for one in isolates_of(day, name, strains))


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads((HERE / name).read_text(encoding="utf-8"))
