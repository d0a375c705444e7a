"""What may be said of a strain beside isolates of patients: the laboratory's words on its isolates, and no more."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from swabwright.errors import DocumentRefused, Fault, did_you_mean
from swabwright.inference.match_table import read_matches
from swabwright.inference.wording import LaboratoryMatch, graded
from swabwright.record.laboratory import Isolate
from swabwright.tables.delimited import read_delimited


def matches_in(path: Path | None, isolates: Sequence[Isolate]) -> dict[str, LaboratoryMatch]:
    """The laboratory's matches by isolate; one that the record does not name is refused with the nearest name."""
    if path is None:
        return {}
    rows = [row for row in read_delimited(path.read_bytes()) if any(cell.strip() for cell in row)]
    matches = read_matches(rows, path.name)
    known = sorted({name for isolate in isolates for name in _names(isolate)})
    unknown = [name for name in matches if name not in known]
    faults = [Fault(name, f"no such isolate in the record{did_you_mean(name, known)}") for name in unknown]
    if faults:
        raise DocumentRefused(path.name, faults)
    return matches


def found_words(matches: Mapping[str, LaboratoryMatch], isolates: Sequence[Isolate], strain: str | None) -> str:
    """As many steps of the ladder as were said of this strain's isolates; each different judgement once.

    Results of any strain, None, take the first step alone: a match speaks of one strain.
    """
    own = [isolate for isolate in isolates if strain is not None and isolate.strain == strain]
    said = [graded(matches[name]) for isolate in own for name in _names(isolate) if name in matches]
    return " ".join(dict.fromkeys(said)) or graded(None)


def _names(isolate: Isolate) -> tuple[str, ...]:
    return tuple(name for name in (isolate.isolate, isolate.sequence_identifier) if name)
