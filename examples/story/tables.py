"""Two tables beside a told case: distances between isolates, and detections by site and visit for a scan."""

import csv
import hashlib
import io
from collections.abc import Iterable, Sequence

from swabwright.case.folder import Case
from swabwright.record.course import actions
from swabwright.record.entry import Entry
from swabwright.work.results_view import RecordView

NEAR, FAR = 4, 61
"""Differences between isolates of one strain are under the first, between strains from the second on."""


def scan_table(case: Case, entries: Sequence[Entry]) -> str:
    """How many samples of each site were tested on each visit before any action, and in how many it was detected."""
    view = RecordView(case, entries)
    tested: dict[tuple[int, str], int] = {}
    found: dict[tuple[int, str], int] = {}
    done = [at[:10] for one in actions(entries).values() if (at := one.said_done_at or one.seen_done_at)]
    before = [plan for plan in case.accepted if not done or str(plan.visit_date) < min(done)]
    for period, plan in enumerate(sorted(before, key=lambda plan: plan.visit_date), start=1):
        numbers = [*(sample.sample_number for sample in plan.samples), *plan.spare_numbers]
        for number in (number for number in numbers if view.site_of(number) and view.current.get(number)):
            site = view.site_of(number)
            key = (period, site.code if site else "")
            tested[key] = tested.get(key, 0) + 1
            outcomes = {one.outcome for one in view.current[number]}
            found[key] = found.get(key, 0) + ("detected" in outcomes)
    return _csv(["site", "period", "detected", "tested"], [[key[1], key[0], found[key], tested[key]] for key in tested])


def distances(isolates: list[tuple[str, str]]) -> str:
    """The laboratory's table of differences between isolates, in alleles; invented from their names."""
    named = sorted(isolates)
    rows = [[one, *(_apart(one, other, strain == of) for other, of in named)] for one, strain in named]
    return _csv(["isolate", *(name for name, _ in named)], rows)


def _csv(heading: Sequence[object], rows: Iterable[Sequence[object]]) -> str:
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(heading)
    writer.writerows(rows)
    return text.getvalue()


def _apart(one: str, other: str, alike: bool) -> int:
    if one == other:
        return 0
    drawn = hashlib.sha256(" ".join(sorted((one, other))).encode()).digest()[0]
    return drawn % NEAR if alike else FAR + drawn % (2 * NEAR)
