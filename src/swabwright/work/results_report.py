"""What is said of a report as a whole: by options, by the lines above its table, by the laboratory's mapping."""

from dataclasses import dataclass
from datetime import datetime, tzinfo

from swabwright.case.folder import Case
from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.record.moments import read_zone
from swabwright.work.results_mapping import ResultsMapping
from swabwright.work.results_times import read_time
from swabwright.work.results_words import ResultWords, Status


@dataclass(frozen=True)
class GivenFacts:
    """What a person says of the report on the command line; None where the table itself says it."""

    accession: str | None = None
    status: str | None = None
    authorised_by: str | None = None
    reported_at: str | None = None
    time_zone: str | None = None
    organism: str | None = None


@dataclass(frozen=True)
class ReportFacts:
    """One signed report of a laboratory."""

    laboratory: str
    accession: str
    status: Status
    authorised_by: str
    zone: tzinfo
    organism: str
    """Full name of the organism that rows without one are about."""
    reported_at: str | None = None
    method: str | None = None
    storage: str = "not stated"


def report_facts(
    case: Case, laboratory: str, given: GivenFacts, read: tuple[dict[str, str], ResultsMapping, ResultWords]
) -> ReportFacts:
    """The facts of a report; a fact that nobody states is refused with the way to state it.

    read: what stands above the table's header, the laboratory's mapping, the words.
    """
    head, mapping, words = read
    said = mapping.laboratory
    zone = read_zone(given.time_zone or said.time_zone or case.plant.timezone)
    organism = given.organism or head.get("organism") or said.organism
    return ReportFacts(
        laboratory=laboratory,
        accession=_needed("accession", given.accession or head.get("accession"), "--accession"),
        status=_status(given.status or head.get("status"), words),
        authorised_by=_needed("signature", given.authorised_by or head.get("authorised_by"), "--signed-by"),
        zone=zone,
        organism=words.name_of(_organism(organism, words) if organism else case.investigation.organism),
        reported_at=_reported(given.reported_at or head.get("reported_at"), zone, words),
        method=head.get("method") or said.method,
        storage=said.storage or "not stated",
    )  # fmt: skip


def _needed(what: str, value: str | None, option: str) -> str:
    if not value:
        raise SwabwrightError(f"the report's {what} stands neither above the table nor on the command; give {option}")
    return value


def _status(word: str | None, words: ResultWords) -> Status:
    known = tuple(words.data["statuses"])
    status = words.status(_needed("status", word, f"--status ({', '.join(known)})"))
    if status is None:
        raise SwabwrightError(f"the report's status '{word}' is not known{did_you_mean(str(word), known)}")
    return status


def _organism(word: str, words: ResultWords) -> str:
    organism = words.organism(word)
    if organism is None:
        known = [str(at["name"]) for at in words.data["organisms"].values()]
        raise SwabwrightError(
            f"no organism '{word}'{did_you_mean(word, known)}; the mapping file's [organisms] can name it"
        )
    return organism


def _reported(text: str | None, zone: tzinfo, words: ResultWords) -> str | None:
    if text is None:
        return None
    when = read_time(text, zone, words)
    if when is None:
        raise SwabwrightError(f"'{text}' is no date of a report that can be read; write it as 2026-03-09 14:30")
    # a report dated to the day came out by the end of that day
    moment = when if isinstance(when, datetime) else datetime(when.year, when.month, when.day, 23, 59, tzinfo=zone)
    return moment.isoformat(timespec="seconds")
