"""The words of the walk sheet: each room, each sample in order of work."""

from collections.abc import Sequence
from itertools import groupby
from typing import Any

from swabwright.case.plan import Plan, PlannedSample
from swabwright.case.words import clock, counted
from swabwright.planning.clock_words import BY_HAND, BY_MECHANIC, ISOLATED
from swabwright.plant.document import Plant
from swabwright.plant.registry import load_catalogue
from swabwright.reports.mark_pictures import mark_height_mm, mark_name
from swabwright.reports.marks import Mark
from swabwright.reports.stops import with_rooms
from swabwright.reports.wording import ranges

BLANK = "Blank: open it, touch nothing, close it"


def walk_words(plan: Plan, plant: Plant) -> list[dict[str, Any]]:
    """The walk sheet: each run of samples in one room, in order of work."""
    rooms = {room.id: room for room in plant.rooms}
    # a wait belongs to the sample that it stands before
    waits = {w.before_order: f"wait {counted(round(w.minutes), 'minute')}: {w.reason}" for w in plan.walk.waits}
    runs = []
    for room, run in groupby(with_rooms(plan.samples), key=lambda pair: pair[1]):
        samples = [sample for sample, _ in run]
        known = rooms.get(room)
        runs.append({
            "name": known.name if known else room,
            "words": _room_words(known.hygiene_class if known else 0, samples),
            "samples": [sample_words(sample) | {"wait": waits.get(sample.order, "")} for sample in samples],
        })  # fmt: skip
    return runs


def _room_words(hygiene_class: int, samples: Sequence[PlannedSample]) -> str:
    orders = ranges([sample.order for sample in samples])
    return f"hygiene class {hygiene_class}, {'samples' if len(samples) > 1 else 'sample'} {orders}"


def sample_words(sample: PlannedSample) -> dict[str, Any]:
    """One sample on the walk sheet."""
    mark = Mark(sample.device, sample.zone or 0)
    opened = " Opened up by plant staff." if sample.mode == "opened" else ""
    name = {"blank": BLANK, "duplicate": f"{sample.site_name}, once more"}
    return {
        "order": sample.order, "number": sample.sample_number, "code": sample.site or "",
        "site": name.get(sample.kind, sample.site_name or sample.site or ""),
        "how": f"{sentence(sample.area_words)}{opened}", "needs": list(sample.needs),
        "isolated": ISOLATED in sample.needs, "opened": not {BY_MECHANIC, BY_HAND}.isdisjoint(sample.needs),
        "device": device_name(sample.device), "at": clock(sample.arrive_at), "change": list(sample.change_first),
        "zone": f"Z{sample.zone}" if sample.zone else "", "picture": mark_name(mark),
        "picture_height": mark_height_mm(mark),
        "picture_words": f"{device_name(sample.device)}, {f'zone {sample.zone}' if sample.zone else 'no zone'}",
    }  # fmt: skip


def sentence(words: str) -> str:
    """Words with a capital and one full stop."""
    return f"{words[:1].upper()}{words[1:].rstrip('.')}."


def device_name(code: str) -> str:
    """What a device is called; its code where the catalogue does not know it."""
    device = load_catalogue().devices.get(code)
    return device.name.split(",")[0].lower() if device else code
