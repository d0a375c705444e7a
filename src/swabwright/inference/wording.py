"""What may be said of an isolate beside those of patients: no more than the laboratory said."""

from dataclasses import dataclass

from swabwright.errors import SwabwrightError


@dataclass(frozen=True)
class LaboratoryMatch:
    """The laboratory's own judgement of isolates of the plant beside those of patients (codes, no names)."""

    patients: tuple[str, ...]
    method: str
    distance: str
    wording: str


def graded(match: LaboratoryMatch | None) -> str:
    """The step of the ladder that is reached; a distance without the laboratory's words reaches the first only.

    Errors: SwabwrightError when a judgement names no isolate or no method.
    """
    if match is None or not match.wording.strip():
        return "Found in the plant."
    if not match.patients or not match.method.strip():
        raise SwabwrightError("match: name the patients' isolates by code, and the method")
    number = len(set(match.patients))
    isolates = "isolate from a patient" if number == 1 else "isolates from patients"
    return (
        f"Found in the plant; same strain as {number} {isolates} by {match.method}, {match.distance}, "
        f'in the laboratory\'s words: "{match.wording.strip()}".'
    )
