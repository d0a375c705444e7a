"""Dates and times as laboratories write them, at the laboratory's own clock."""

from datetime import date, datetime, tzinfo

from swabwright.work.results_words import ResultWords


def read_time(text: str, zone: tzinfo, words: ResultWords) -> datetime | date | None:
    """The moment in a text, with offset; its day when no hour is written; None when it cannot be read for sure."""
    plain = " ".join(text.split())
    for pattern in words.times("moments"):
        moment = _parsed(plain, pattern)
        if moment is not None:
            return moment.replace(tzinfo=zone)
    for pattern in words.times("days"):
        day = _parsed(plain, pattern)
        if day is not None:
            return day.date()
    return _with_offset(plain)


def _parsed(text: str, pattern: str) -> datetime | None:
    try:
        return datetime.strptime(text, pattern)  # noqa: DTZ007  # the laboratory's own clock is set by the caller
    except ValueError:
        return None


def _with_offset(text: str) -> datetime | None:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    return moment.replace(microsecond=0) if moment.tzinfo else None
