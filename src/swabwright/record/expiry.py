"""Devices that were used after the last day that their pack says: noted, for the laboratory to decide upon."""

from collections.abc import Iterable
from datetime import date, datetime

from swabwright.record.custody import Note
from swabwright.record.entry import Entry
from swabwright.record.ground import Ground
from swabwright.record.sampling import Collected
from swabwright.record.standing import standing


def expired_devices(entries: Iterable[Entry], ground: Ground) -> tuple[Note, ...]:
    """A note on every sample taken, by the plant's day, later than the last day of its device."""
    found = []
    for entry in standing(entries):
        body = entry.statement.body
        if isinstance(body, Collected) and body.device_expires_on is not None:
            taken = ground.day(datetime.fromisoformat(body.taken_at or entry.statement.at))
            if taken > date.fromisoformat(body.device_expires_on):
                words = (
                    f"sample {body.sample} was taken on {taken} with a device to be used by {body.device_expires_on}"
                )
                found.append(Note(entry.number, words))
    return tuple(found)
