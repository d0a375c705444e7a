"""The marks that a plan uses, as small pictures of their own for keys, walk sheet and labels."""

from collections.abc import Iterable

from swabwright.case.plan import Plan
from swabwright.reports.marks import Mark, mark_svg
from swabwright.reports.picture import picture

SHEET_SCALE = 1.0
MARGIN_MM = 0.3


def mark_name(mark: Mark) -> str:
    """The file name of a mark's picture."""
    return f"mark-{mark.device}-{mark.zone}.svg"


def mark_height_mm(mark: Mark) -> float:
    """The height of a mark's picture at the scale of the sheets."""
    return 2 * mark.radius_mm(SHEET_SCALE) + mark.stick_mm(SHEET_SCALE) + MARGIN_MM


def mark_picture(mark: Mark) -> str:
    """One mark as a picture of its own."""
    radius = mark.radius_mm(SHEET_SCALE) + MARGIN_MM / 2
    return picture([mark_svg(mark, (radius, radius), SHEET_SCALE)], (2 * radius, mark_height_mm(mark)))


def marks_of(plan: Plan) -> list[Mark]:
    """Every mark that the plan uses, once, by zone and device."""
    marks = {Mark(sample.device, sample.zone or 0) for sample in plan.samples}
    return sorted(marks, key=lambda mark: (mark.zone, mark.device))


def key_marks(plan: Plan) -> Iterable[Mark]:
    """The marks of the key: one for each zone and each device that is on the drawing."""
    on_drawing = [mark for mark in marks_of(plan) if mark.zone]
    # the key shows rings without a device and devices without rings: each says one thing
    zones = {mark.zone: Mark("", mark.zone) for mark in on_drawing}
    devices = {mark.device: Mark(mark.device, 0) for mark in on_drawing}
    return [*zones.values(), *(devices[code] for code in sorted(devices))]


def mark_pictures(plan: Plan) -> dict[str, str]:
    """All the pictures of marks that the plan's papers show, by file name."""
    return {mark_name(mark): mark_picture(mark) for mark in [*marks_of(plan), *key_marks(plan)]}
