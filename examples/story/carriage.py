"""From the last container to the laboratory: packed, sealed, handed over, cold, received."""

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from story.day import Day, Told
from story.scribe import Event

from swabwright.case.folder import case_figures
from swabwright.record.logger_file import read_logger
from swabwright.record.read_as import ReadAs

STEP = timedelta(minutes=5)
MIDDLE_TENTHS, SWING_TENTHS = 36, (0, 3, 5, 4, 1, -2, -4, -3)


def carriage_events(day: Day) -> Iterator[Event]:
    """The containers of a visit, from packing to the laboratory's receipt."""
    told = day.told["carriage"]
    packed = day.ends + timedelta(minutes=60)
    for place, (box, samples) in enumerate(_boxes(day)):
        at = packed + timedelta(minutes=6 * place)
        fields = {"container": box["container"], "samples": samples, "logger": box["logger"]}
        yield Event(at, "container_packed", fields)
        sealed = {"container": box["container"], "seal": box["seal"], "witness": told["witness"]}
        yield Event(at + timedelta(minutes=3), "seal_set", sealed)
    yield from _given(day, packed + timedelta(minutes=25))
    yield from _received(day, packed)


def _boxes(day: Day) -> list[tuple[Told, list[str]]]:
    """Each container as the story tells it, with the samples that lie in it."""
    boxes, taken = day.told["carriage"]["boxes"], list(day.taken)
    each = -(-len(taken) // len(boxes))
    return [(box, taken[place * each : (place + 1) * each]) for place, box in enumerate(boxes)]


def _given(day: Day, at: datetime) -> Iterator[Event]:
    told = day.told["carriage"]
    names = [box["container"] for box in told["boxes"]]
    purpose = {"purpose": "to the carrier's desk", "condition": "dry, cold to the hand", "seals_intact": True}
    yield Event(at, "hand_over", {"giver": day.told["by"], "taker": told["driver"], "containers": names, **purpose})
    for box in told["boxes"]:
        fields = {"container": box["container"], "carrier": told["carrier"], "waybill": box["waybill"]}
        last_seal = box.get("seal_later", box["seal"])
        yield Event(_at(told["sent_at"]), "waybill", fields | {"seal": last_seal, "given_by": told["driver"]})


def _received(day: Day, packed: datetime) -> Iterator[Event]:
    told = day.told["carriage"]
    at, boxes = _at(told["received_at"]), told["boxes"]
    seals = [{"container": b["container"], "seal": b.get("seal_later", b["seal"]), "intact": True} for b in boxes]
    fields = {
        "laboratory": told["laboratory"],
        "received_by": told["received_by"],
        "samples": list(day.taken),
        "seals": seals,
        "temperature_tenths_c": told["probe_tenths_c"],
        "probe": told["probe"],
        "condition": told["condition"],
        "accession": told["accession"],
    }
    yield Event(at, "laboratory_receipt", fields, on=day.told["office"])
    for place, box in enumerate(boxes, start=1):
        entered = at + timedelta(hours=2, minutes=place)
        yield _logged(day, box, (packed - STEP, at + STEP), entered)


def _logged(day: Day, box: Told, span: tuple[datetime, datetime], entered: datetime) -> Event:
    """The logger's file of a container as the laboratory sent it, read as the program reads it."""
    content = logger_file(span, box.get("warm_from"), box.get("warm_tenths", []))
    fields: dict[str, Any] = {"logger": box["logger"], "container": box["container"]}
    fields["read_as"] = _read_as(day, content)
    return Event(entered, "logger_data", fields, on=day.told["office"], file=(content, "csv"))


def logger_file(span: tuple[datetime, datetime], warm_from: str | None, warm_tenths: list[int]) -> bytes:
    """Readings every five minutes, cool but for the stretch that the story tells."""
    begins, ends = span
    begins = begins.replace(minute=begins.minute - begins.minute % 5, second=0)
    lines, place = ["Date time,Temperature (°C)"], 0
    warm = {_at(warm_from) + STEP * late: tenths for late, tenths in enumerate(warm_tenths)} if warm_from else {}
    while begins + STEP * place <= ends:
        at = begins + STEP * place
        tenths = warm.get(at, MIDDLE_TENTHS + SWING_TENTHS[place % len(SWING_TENTHS)])
        lines.append(f"{at.isoformat(sep=' ', timespec='seconds')},{tenths / 10:.1f}")
        place += 1
    return ("\n".join(lines) + "\n").encode()


def _read_as(day: Day, content: bytes) -> Told:
    with TemporaryDirectory() as folder:
        file = Path(folder) / "logger.csv"
        file.write_bytes(content)
        read = read_logger(file, ReadAs(), case_figures(day.case.path))
    return read.read_as.model_dump(mode="json", exclude_none=True)


def _at(text: str) -> datetime:
    return datetime.fromisoformat(text)
