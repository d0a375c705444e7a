"""Everything the label sheets say: on the label only what says nothing, the rest on the stub."""

from typing import Any

from swabwright.case.investigation import Investigation
from swabwright.case.plan import Plan, PlannedSample
from swabwright.plant.document import Plant
from swabwright.reports.mark_pictures import mark_height_mm, mark_name
from swabwright.reports.marks import Mark
from swabwright.reports.sheet_words import BLANK, device_name
from swabwright.reports.wording import short_date


def label_words(plan: Plan, plant: Plant, investigation: Investigation) -> dict[str, Any]:
    """The labels in order of work, then the spares."""
    rooms = {room.id: room.name for room in plant.rooms}
    visit = next(visit for visit in investigation.visits if visit.id == plan.visit)
    labels = [_label(sample, rooms) for sample in sorted(plan.samples, key=lambda sample: sample.order)]
    return {
        "title": f"Labels, case {investigation.reference}, {visit.name}",
        "agency": investigation.agency,
        "head": f"Case {investigation.reference}, {visit.name}, {short_date(plan.visit_date)}. "
        f"{len(labels)} labels in order of work, then {len(plan.spare_numbers)} spare.",
        "date": f"{short_date(plan.visit_date)} {plan.visit_date.year}",
        "labels": labels + [_spare(number) for number in plan.spare_numbers],
    }


def _label(sample: PlannedSample, rooms: dict[str, str]) -> dict[str, Any]:
    mark = Mark(sample.device, sample.zone or 0)
    # the stub stays with us, so it may say what the label must not
    site = BLANK if sample.kind == "blank" else sample.site_name or ""
    again = ", once more" if sample.kind == "duplicate" else ""
    zone, room = f"Z{sample.zone}" if sample.zone else "", rooms.get(sample.room or "", "")
    about = (zone, sample.site or "", room, device_name(sample.device))
    return {
        "number": sample.sample_number, "order": str(sample.order), "site": f"{site}{again}",
        "about": ", ".join(part for part in about if part),
        "picture": mark_name(mark), "picture_height": mark_height_mm(mark),
        "picture_words": f"{device_name(sample.device)} {f'zone {sample.zone}' if sample.zone else 'no zone'}",
    }  # fmt: skip


def _spare(number: str) -> dict[str, Any]:
    empty = dict.fromkeys(("site", "about", "picture", "picture_words"), "")
    return empty | {"number": number, "order": "", "picture_height": 0.0}
