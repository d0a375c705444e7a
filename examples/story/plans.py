"""Accepted plans of a story: kept ones put in place, or made anew where none is kept."""

import shutil
from pathlib import Path
from tempfile import TemporaryDirectory

from swabwright.case.folder import Case, read_case
from swabwright.case.investigation import Visit
from swabwright.record.journal import read_record
from swabwright.work.accept_plan import accept_plan
from swabwright.work.drafts import draft_files
from swabwright.work.next_visit import next_visit
from swabwright.work.plan_case import PlannedVisit, plan_case
from swabwright.work.record_accept import Signer
from swabwright.work.results_view import RecordView
from swabwright.work.storage import cache_folder, write_draft

KEPT = ("json", "pocket.bin")


def put_plan(case: Path, visit_id: str, kept: Path) -> None:
    """Put the accepted plan of a visit into the case; it is made first where `kept` does not hold it."""
    if not (kept / f"{visit_id}.json").is_file():
        _make(case, visit_id, kept)
    (case / "plans").mkdir(exist_ok=True)
    for ending in KEPT:
        name = f"{visit_id}.{ending}"
        if kept / name != case / "plans" / name:
            shutil.copyfile(kept / name, case / "plans" / name)


def _make(case: Path, visit_id: str, kept: Path) -> None:
    """Plan and accept in a copy of the case, so that only the plan comes back and no entry of the day it was made."""
    with TemporaryDirectory() as folder:
        copy = Path(shutil.copytree(case, Path(folder) / case.name))
        opened = read_case(copy)
        draft = Path(folder) / "draft"
        write_draft(draft, draft_files(_planned(opened, opened.visit(visit_id)), opened, paper="a4"))
        accept_plan(opened, draft, cache_folder=cache_folder(), say=print, signer=Signer("planner", "planner"))
        kept.mkdir(parents=True, exist_ok=True)
        for ending in KEPT:
            shutil.copyfile(copy / "plans" / f"{visit_id}.{ending}", kept / f"{visit_id}.{ending}")


def _planned(case: Case, visit: Visit) -> PlannedVisit:
    """By what was found while nothing has been done about it; by what may live there before and afterwards."""
    entries = read_record(case.path)
    acted = any(entry.statement.body.kind == "action_said_done" for entry in entries)
    if RecordView(case, entries).results and not acted:
        return next_visit(case, visit, cache_folder=cache_folder(), say=print).planned
    return plan_case(case, visit, cache_folder=cache_folder(), say=print)
