"""A proposal for the next visit as files: the document, its papers, and the draft plan beside them."""

from typing import Literal

from swabwright.case.canonical import readable_json
from swabwright.case.folder import Case
from swabwright.record.journal import read_record
from swabwright.reports.next_papers import next_papers
from swabwright.work.drafts import draft_files
from swabwright.work.next_visit import ProposedVisit
from swabwright.work.sampled_marks import containers_before, sampled_of

NEXT_FILE = "next-visit.json"


def next_files(proposed: ProposedVisit, case: Case, paper: Literal["a4", "letter"]) -> dict[str, bytes]:
    """next-visit.json, .pdf and .svg, and every file of the draft plan."""
    document = proposed.document
    # visits that the proposal did not read are not drawn behind it
    read = tuple(one for one in sampled_of(case, read_record(case.path)) if one.visit in document.so_far.visits)
    first = containers_before(case, document.visit) + 1
    papers = next_papers(document, (case.plant, case.investigation), read, first=first, paper=paper)
    return {NEXT_FILE: readable_json(document), **papers, **draft_files(proposed.planned, case, paper=paper)}
