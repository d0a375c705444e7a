"""Makes examples/juniper-lane-to-the-end: the example's plant again, from the accepted plan to the last round.

Run from the project's root: .venv/bin/python examples/make_record.py
What happens stands in story/juniper-lane-to-the-end.toml, what the laboratory finds in story/outcomes.toml (drawn once
by draw_results.py from the niches in truths.toml). All of it is made up. Accepted plans are kept as they are, so the
same record comes out on any machine; `--plan-again` makes them anew first, which takes minutes.
"""

import csv
import hashlib
import io
import json
import shutil
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from story.arrival import arrival_events
from story.carriage import carriage_events
from story.day import Day, raw_events
from story.floor import floor_events
from story.laboratory import Outcomes, isolates_of, take_in
from story.pictures import picture
from story.plans import put_plan
from story.scribe import Scribe

from swabwright.case.folder import read_case

HERE = Path(__file__).parent
NAME = "juniper-lane-to-the-end"
FROM = HERE / "juniper-lane"
DOCUMENTS = ("plant.json", "rulebook.toml", "overrides.toml")
NEAR, FAR = 4, 61
"""Differences between isolates of one strain are under the first, between strains from the second on."""


def make(out: Path, plans: Path) -> None:
    """Write the whole case into `out`, with the accepted plans kept in `plans`."""
    story, outcomes = _read("juniper-lane-to-the-end.toml"), _read("outcomes.toml")
    out.mkdir(parents=True, exist_ok=True)
    for name in ("record.jsonl", "record.lock"):
        (out / name).unlink(missing_ok=True)
    shutil.rmtree(out / "files", ignore_errors=True)
    for name in DOCUMENTS:
        shutil.copyfile(FROM / name, out / name)
    scribe = Scribe(out, story["by"], story["on"])
    for chapter in story["chapter"]:
        told = {**story["usual"], **chapter}
        _visit(scribe, told, outcomes.get(chapter["visit"], {}), plans)
    (out / "distances.csv").write_text(distances(_isolates(out, story, outcomes)), encoding="utf-8")


def _visit(scribe: Scribe, told: dict[str, Any], found: Outcomes, plans: Path) -> None:
    """One chapter: what comes before the visit, its day, what the laboratory says, what is done about it."""
    _add_visit(scribe.case, told)
    scribe.enter(list(raw_events(told.get("before", []))))
    put_plan(scribe.case, told["visit"], plans)
    day = Day(read_case(scribe.case), told)
    scribe.names |= {f"{day.visit.id} {name}": number for name, number in day.numbers.items()}
    counted = {"taken": list(day.taken), "count": len(day.taken), "plan": _plan_hash(scribe.case, told)}
    scribe.names |= {f"{day.visit.id} {name}": value for name, value in counted.items()}
    shown = {name: picture(name) for name in told["pictures"]}
    raw = raw_events(told["day"], day.ends, shown)
    scribe.enter([*raw, *arrival_events(day), *floor_events(day), *carriage_events(day)])
    for report in told["reports"]:
        take_in(scribe, day, {**told["report"], **report}, found)
        scribe.enter(list(raw_events(report.get("then", []))))


def _add_visit(case: Path, told: dict[str, Any]) -> None:
    """The investigation as it stood before this visit: each visit joins it when it is decided on."""
    file = case / "investigation.json"
    source = FROM / "investigation.json" if told["visit"] == "visit-1" else file
    document = json.loads(source.read_text(encoding="utf-8"))
    if told["visit"] != "visit-1":
        added = {**document["visits"][0], **told["limits_and_all"], "id": told["visit"]}
        document["visits"].append(added)
    file.write_text(json.dumps(document, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")


def _plan_hash(case: Path, told: dict[str, Any]) -> str:
    return hashlib.sha256((case / "plans" / f"{told['visit']}.json").read_bytes()).hexdigest()


def _isolates(case: Path, story: dict[str, Any], outcomes: dict[str, Outcomes]) -> Iterator[tuple[str, str]]:
    """Name and strain of every isolate."""
    opened = read_case(case)
    for chapter in story["chapter"]:
        day = Day(opened, {**story["usual"], **chapter})
        for name, strains in outcomes.get(chapter["visit"], {}).items():
            if name in day.numbers and day.numbers[name] in day.taken:
                yield from ((one["name"], one["strain"]) for one in isolates_of(day, name, strains))


def distances(isolates: Iterator[tuple[str, str]]) -> str:
    """The laboratory's table of differences between isolates, in alleles; invented from their names."""
    named = sorted(isolates)
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(["isolate", *(name for name, _ in named)])
    for one, strain in named:
        writer.writerow([one, *(_apart(one, other, strain == of) for other, of in named)])
    return text.getvalue()


def _apart(one: str, other: str, alike: bool) -> int:
    if one == other:
        return 0
    drawn = hashlib.sha256(" ".join(sorted((one, other))).encode()).digest()[0]
    return drawn % NEAR if alike else FAR + drawn % (2 * NEAR)


def _read(name: str) -> dict[str, Any]:
    return tomllib.loads((HERE / "story" / name).read_text(encoding="utf-8"))


if __name__ == "__main__":
    kept = HERE / NAME / "plans"
    if sys.argv[1:] == ["--plan-again"]:
        shutil.rmtree(kept, ignore_errors=True)
    make(HERE / NAME, kept)
