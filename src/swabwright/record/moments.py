"""Moments of the record as seconds, and back as the wall clock of a place."""

import re
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from swabwright.errors import SwabwrightError

_OFFSET = re.compile(r"^(?:UTC|GMT)?\s*(?:([+-])(\d{1,2})(?::?([0-5]\d))?)?$", re.IGNORECASE)
HOURS_AHEAD_AT_MOST = 14


def seconds_of(moment: str) -> int:
    """Seconds since 1970 UTC of a time with offset."""
    return round(datetime.fromisoformat(moment).timestamp())


def zone_of(moment: str) -> tzinfo:
    """The offset in which a time was written."""
    return datetime.fromisoformat(moment).tzinfo or UTC


def read_zone(name: str) -> tzinfo:
    """The time zone called so: Europe/Oslo, +01:00, UTC; refused when there is none."""
    match = _OFFSET.match(name.strip()) if name.strip() not in ("", "Z") else None
    if name.strip() == "Z" or (match and match[2] is None):
        return UTC
    if match and int(match[2]) <= HOURS_AHEAD_AT_MOST:
        ahead = timedelta(hours=int(match[2]), minutes=int(match[3] or 0))
        return timezone(-ahead if match[1] == "-" else ahead)
    try:
        return ZoneInfo(name.strip())
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise SwabwrightError(
            f"no time zone '{name}'; give a place such as Europe/Oslo or America/Chicago, or an offset such as +01:00"
        ) from None


def said_at(seconds: int, zone: tzinfo) -> str:
    """A moment as '2026-03-05 14:27 (+01:00)'."""
    local = datetime.fromtimestamp(seconds, zone)
    return f"{local:%Y-%m-%d %H:%M} ({_offset(local)})"


def said_span(begins: int, ends: int, zone: tzinfo) -> str:
    """Two moments as 'from 2026-03-05 14:27 to 14:38 (+01:00)', the date once where it is the same."""
    first, last = datetime.fromtimestamp(begins, zone), datetime.fromtimestamp(ends, zone)
    if first.utcoffset() != last.utcoffset():
        return f"from {said_at(begins, zone)} to {said_at(ends, zone)}"
    day = "" if first.date() == last.date() else f"{last:%Y-%m-%d} "
    return f"from {first:%Y-%m-%d %H:%M} to {day}{last:%H:%M} ({_offset(last)})"


def written(seconds: int, zone: tzinfo) -> str:
    """A moment as RFC 3339 with offset."""
    return datetime.fromtimestamp(seconds, zone).isoformat(timespec="seconds")


def _offset(local: datetime) -> str:
    return local.isoformat()[-6:]
