"""Use case: groups, the shortest tree, repeats and patients' matches of isolates, as a laboratory reports them."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

from swabwright.errors import DocumentRefused, Fault, SwabwrightError, did_you_mean
from swabwright.inference.distances import Distances, read_long, read_square
from swabwright.inference.match_table import patient_code, read_matches
from swabwright.inference.persistence import Persistence, Repeats, persistence
from swabwright.inference.strains import Link, groups_at, shortest_tree
from swabwright.inference.wording import LaboratoryMatch, graded
from swabwright.record.journal import read_record
from swabwright.record.laboratory import Isolate
from swabwright.record.standing import standing
from swabwright.tables.delimited import read_delimited

DECIDES_NOTHING = "A distance alone decides nothing; the laboratory says which isolates are one strain."


@dataclass(frozen=True)
class StrainsAsked:
    """What is asked of a laboratory's tables."""

    thresholds: tuple[float, ...] = ()
    long: bool = False
    patients: tuple[str, ...] = ()
    """Isolates of patients in the table of distances, by code: they enter no tree and no group."""
    matches: Path | None = None
    """The laboratory's matches with patients' isolates."""
    repeats: tuple[Repeats, ...] = ()
    case: Path | None = None
    """A case whose record names the isolates; what it does not name is held apart."""


@dataclass(frozen=True)
class Compared:
    """The tree, the groups at each threshold, and what may be said of them."""

    isolates: tuple[str, ...]
    tree: tuple[Link, ...]
    thresholds: tuple[float, ...]
    groups: tuple[tuple[tuple[str, ...], ...], ...]
    held_apart: tuple[str, ...]
    """Isolates of the table that the record of the case does not name."""
    patients: tuple[str, ...]
    """Isolates of patients in the table, left out of tree and groups."""
    persistence: tuple[Persistence, ...]
    said: dict[str, str] = field(default_factory=dict)
    """What may be said of each isolate with a match, by its name."""

    sentence: str = ""
    """Everything, a line for each."""


def compare_strains(distances: Path | None, asked: StrainsAsked) -> Compared:
    """The shortest tree, the groups at each threshold, the repeats, and the laboratory's matches in graded words.

    Repeats alone need no distances. Errors: DocumentRefused naming row and column, or an isolate that the table of
    distances does not hold; SwabwrightError for a threshold, a count or a code.
    """
    every = _distances(distances, asked)
    matches = {} if asked.matches is None else read_matches(_rows(asked.matches), asked.matches.name)
    patients = _patients(every, asked, matches)
    apart = _held_apart(every, patients, asked.case)
    kept = every.without({*patients, *apart})
    if asked.matches is not None:
        _check_known(matches, kept.names, apart, asked.matches.name)
    found = Compared(
        isolates=kept.names,
        tree=shortest_tree(kept),
        thresholds=asked.thresholds,
        groups=tuple(groups_at(kept, one) for one in asked.thresholds),
        held_apart=apart,
        patients=patients,
        persistence=persistence(asked.repeats),
        said={isolate: graded(match) for isolate, match in matches.items() if isolate not in apart},
    )
    return replace(found, sentence="\n".join(_lines(found)))


def _distances(path: Path | None, asked: StrainsAsked) -> Distances:
    if path is not None:
        return (read_long if asked.long else read_square)(_rows(path), path.name)
    if not asked.repeats or asked.matches or asked.thresholds or asked.patients or asked.case:
        raise SwabwrightError("give the laboratory's table of distances; only --repeats is answered without it")
    return Distances((), np.zeros((0, 0)))


def _lines(found: Compared) -> Iterator[str]:
    yield from (f"{link.first} - {link.second}: {link.distance:g}" for link in found.tree)
    for threshold, held in zip(found.thresholds, found.groups, strict=True):
        yield f"At {threshold:g}: " + "; ".join(" ".join(one) for one in held) + "."
    if found.held_apart:
        yield f"Held apart, because the record does not name them: {', '.join(found.held_apart)}."
    if found.patients:
        yield f"Isolates of patients, in no tree and no group: {', '.join(found.patients)}."
    if found.isolates or found.held_apart:
        yield DECIDES_NOTHING
    yield from (f"{isolate}: {words}" for isolate, words in found.said.items())
    yield from (one.sentence for one in found.persistence)


def _rows(path: Path) -> list[list[str]]:
    return [row for row in read_delimited(path.read_bytes()) if any(cell.strip() for cell in row)]


def _patients(every: Distances, asked: StrainsAsked, matches: dict[str, LaboratoryMatch]) -> tuple[str, ...]:
    """Isolates of the table that are patients': those named, and those that the laboratory's matches name."""
    for code in asked.patients:
        if patient_code(code) not in every.names:
            raise SwabwrightError(f"patients: no isolate '{code}' in the distances{did_you_mean(code, every.names)}")
    theirs = {*asked.patients, *(code for match in matches.values() for code in match.patients)}
    return tuple(name for name in every.names if name in theirs)


def _held_apart(every: Distances, patients: Collection[str], case: Path | None) -> tuple[str, ...]:
    if case is None:
        return ()
    bodies = [entry.statement.body for entry in standing(read_record(case))]
    isolates = [body for body in bodies if isinstance(body, Isolate)]
    known = {name for body in isolates for name in (body.isolate, body.sequence_identifier)} | set(patients)
    return tuple(name for name in every.names if name not in known)


def _check_known(matches: dict[str, LaboratoryMatch], kept: Sequence[str], apart: Sequence[str], document: str) -> None:
    faults = [
        Fault(isolate, f"no such isolate of the plant in the distances{did_you_mean(isolate, kept)}")
        for isolate in matches
        if isolate not in kept and isolate not in apart
    ]
    if faults:
        raise DocumentRefused(document, faults)
