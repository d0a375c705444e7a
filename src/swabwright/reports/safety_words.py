"""What is asked before anybody goes in: cautions, agreed stops, product at stake."""

from typing import Any

from swabwright.case.plan import Plan
from swabwright.case.words import clock
from swabwright.plant.document import Plant
from swabwright.reports.wording import ranges

TITLES = {"safety": "Cautions", "timing": "Times", "rulebook": "The rulebook", "data": "What we were not told"}


def safety_words(plan: Plan) -> dict[str, Any]:
    """The cautions by kind, each with the orders of work that it is about."""
    groups = [{"title": title, "rows": warning_rows(plan, kind)} for kind, title in TITLES.items()]
    return {
        "defers": "These cautions do not replace the site's safety rules, local codes or licensed practice: those come "
        "first. Only plant staff open a machine; the sheet names who puts it together again.",
        "groups": [group for group in groups if group["rows"]],
    }


def warning_rows(plan: Plan, kind: str) -> list[dict[str, str]]:
    """The warnings of one kind with the samples they are about."""
    # the person on the floor works by order numbers, not by codes
    rows = []
    for warning in plan.warnings:
        if warning.kind == kind:
            about = sorted(sample.order for sample in plan.samples if sample.site in warning.sites)
            rows.append({"text": warning.text, "samples": f"samples {ranges(about)}" if about else ""})
    return rows


def stop_words(plan: Plan, plant: Plant) -> list[dict[str, str]]:
    """The stops that the plant has agreed to on the day of the visit."""
    return [
        {"line": line.name, "when": f"{clock(stop.starts_at)} to {clock(stop.ends_at)}", "by": stop.agreed_by}
        for line in plant.lines
        for stop in line.agreed_stops
        if stop.starts_at.date() == plan.visit_date
    ]


def hold_words(plan: Plan) -> str:
    """What is asked about product before a surface that touches it is sampled."""
    holds = " ".join(row["text"] for row in warning_rows(plan, "hold"))
    first = [sample.order for sample in plan.samples if sample.zone == 1]
    if not first:
        return holds or "No sample touches a surface that touches product."
    # the plan's own question names lines and lots; without one the question is asked all the same
    asked = "Before the first of them: is product held, since which lot, answered by whom? A refusal is written down."
    return f"Samples {ranges(sorted(first))} touch surfaces that touch product. {holds or asked}"
