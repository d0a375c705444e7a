"""A clearance document with its papers and its drawing, as files."""

from typing import Literal

from swabwright.case.canonical import readable_json
from swabwright.case.clearance import Clearance
from swabwright.case.folder import Case
from swabwright.record.journal import read_record
from swabwright.reports.clearance_papers import clearance_papers
from swabwright.work.sampled_marks import sampled_of

CLEARANCE_FILE = "clearance.json"


def clearance_files(document: Clearance, case: Case, paper: Literal["a4", "letter"]) -> dict[str, bytes]:
    """clearance.json, clearance.pdf and clearance.svg by name."""
    sampled = sampled_of(case, read_record(case.path))
    papers = clearance_papers(document, (case.plant, case.investigation), sampled, paper)
    return {CLEARANCE_FILE: readable_json(document), **papers}
