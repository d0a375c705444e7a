"""The files of a draft and of an accepted plan: the plan, its papers, the walk as a table, the pocket table."""

from typing import Literal

from swabwright.case.canonical import readable_json
from swabwright.case.folder import Case
from swabwright.case.plan import Plan
from swabwright.reports.papers import labels_pdf, plan_pdf
from swabwright.reports.walk_csv import walk_csv
from swabwright.work.plan_case import PlannedVisit

PLAN_FILE, POCKET_FILE = "plan.json", "pocket.bin"


def draft_files(planned: PlannedVisit, case: Case, *, paper: Literal["a4", "letter"]) -> dict[str, bytes]:
    """Every file of a draft by name; the same plan gives the same bytes."""
    plan, plant, investigation = planned.plan, case.plant, case.investigation
    return {
        PLAN_FILE: readable_json(plan),
        "plan.pdf": plan_pdf(plan, plant, investigation, paper=paper),
        "labels.pdf": labels_pdf(plan, plant, investigation, paper=paper),
        "walk.csv": walk_csv(plan).encode(),
        POCKET_FILE: planned.pocket,
    }


def accepted_files(plan: Plan, pocket: bytes, case: Case, *, paper: Literal["a4", "letter"]) -> dict[str, bytes]:
    """Every file of an accepted plan by name, the papers without DRAFT."""
    plant, investigation = case.plant, case.investigation
    return {
        f"{plan.visit}.json": readable_json(plan),
        f"{plan.visit}.pocket.bin": pocket,
        f"{plan.visit}.pdf": plan_pdf(plan, plant, investigation, paper=paper, accepted=True),
        f"{plan.visit}.labels.pdf": labels_pdf(plan, plant, investigation, paper=paper, accepted=True),
        f"{plan.visit}.walk.csv": walk_csv(plan).encode(),
    }
