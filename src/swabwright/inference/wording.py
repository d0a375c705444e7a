"""What may be said of an isolate beside those of patients: no more than the laboratory and the outbreak team said."""

from dataclasses import dataclass

from swabwright.errors import SwabwrightError

FOUND = "Found in the plant."


@dataclass(frozen=True)
class Quote:
    """Words as somebody said them, and who."""

    words: str
    said_by: str


@dataclass(frozen=True)
class LaboratoryMatch:
    """The laboratory's own judgement of an isolate of the plant beside those of patients (codes, no names)."""

    patients: tuple[str, ...]
    method: str
    distance: str
    wording: str
    consistent: Quote | None = None
    """That it is consistent with being the source: only in the words of the laboratory or the outbreak team."""
    outbreak: Quote | None = None
    """What the outbreak team concluded about the outbreak itself: quoted whole, never said by us."""


def graded(match: LaboratoryMatch | None) -> str:
    """As many steps of the ladder as were said; a distance without the laboratory's words reaches the first only.

    Errors: SwabwrightError when a judgement names no isolate, method or speaker, or leaves out the step before.
    """
    if match is None or not match.wording.strip():
        if match is not None and (match.consistent or match.outbreak):
            raise SwabwrightError("match: the laboratory's own words come first; later steps rest on them")
        return FOUND
    return " ".join((_same_strain(match), *_quoted(match)))


def _same_strain(match: LaboratoryMatch) -> str:
    if not match.patients or not match.method.strip() or not match.distance.strip():
        raise SwabwrightError("match: name the patients' isolates by code, the method and the distance")
    number = len(set(match.patients))
    isolates = "isolate from a patient" if number == 1 else "isolates from patients"
    return (
        f"Found in the plant; same strain as {number} {isolates} by {match.method.strip()}, {match.distance.strip()}, "
        f'in the laboratory\'s words: "{match.wording.strip()}".'
    )


def _quoted(match: LaboratoryMatch) -> list[str]:
    said = []
    if match.consistent is not None:
        said.append(f"Consistent with being the source, as {_quote(match.consistent)}.")
    if match.outbreak is not None:
        said.append(f"On the outbreak, {_quote(match.outbreak)}.")
    return said


def _quote(quote: Quote) -> str:
    if not quote.words.strip() or not quote.said_by.strip():
        raise SwabwrightError("match: give the words and who said them, both or neither")
    return f'{quote.said_by.strip()} said: "{quote.words.strip()}"'
