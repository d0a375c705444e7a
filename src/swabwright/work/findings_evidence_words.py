"""What findings rest on, in sentences: results, priors, figures, blanks."""

from collections.abc import Iterator

from swabwright.case.findings import Findings, ResultWeight, Shift
from swabwright.case.words import in_100, with_range

TOLD_RESULTS, TOLD_FIGURES, TOLD_SITES, TOLD_WAYS = 4, 3, 3, 2
UNDER = "under these assumptions"
LEAST_POINTS = 0.5
"""Points that are said as a whole number: less would be said as 0."""


def evidence(findings: Findings) -> Iterator[str]:
    """What moved the findings and what would move them, the weightiest first."""
    for weight in findings.weights[:TOLD_RESULTS]:
        yield from _weight(weight, findings.places[0].name)
    yield f"The prior is set {findings.prior_set_by}: {findings.prior_words}."
    yield from _priors(findings)
    yield from _figures(findings)
    yield from _ways(findings)
    yield from _hard(findings)
    yield from (blank.words for blank in findings.blanks)
    yield from findings.taken_on_trust
    if findings.left_out:
        yield f"Not read: {len(findings.left_out)}, each with its reason in the document."


def _weight(weight: ResultWeight, leader: str) -> Iterator[str]:
    moved = [words for shift in (weight.raised, weight.lowered) if shift and (words := _moved(shift))]
    if moved:
        said = weight.outcome.replace("_", " ")
        leads = "" if weight.leads_without == leader else f"; without it {weight.leads_without} would lead"
        yield f"Sample {weight.sample}, {said} at {weight.site_name}: it {' and '.join(moved)}{leads}."


def _moved(shift: Shift) -> str:
    if abs(shift.points) < LEAST_POINTS:
        return ""
    return f"{'raises' if shift.points > 0 else 'lowers'} {shift.name} by {abs(shift.points):.0f} in 100"


def _priors(findings: Findings) -> Iterator[str]:
    for other in findings.other_priors:
        first = other.ranked[0]
        leads = (
            "leads too" if first.place == other.leading.place else f"{first.name} leads, {with_range(first.niche_here)}"
        )
        yield (
            f"Under another prior, {other.words}: {other.leading.name} {in_100(other.leading.niche_here.value)}, and "
            f"{'it ' if leads == 'leads too' else ''}{leads}."
        )


def _figures(findings: Findings) -> Iterator[str]:
    told = [one for one in findings.assumptions if (one.figure.influence or 0.0) >= LEAST_POINTS][:TOLD_FIGURES]
    for one in told:
        leads = f"; at one end {one.leads_at_an_end} leads" if one.leads_at_an_end else ""
        yield (
            f"Unconfirmed, and it moves {findings.places[0].name} by {one.figure.influence:.0f} in 100 over its range: "
            f"{one.figure.words}, {one.figure.value}{leads}."
        )


def _hard(findings: Findings) -> Iterator[str]:
    if findings.hardest:
        listed = "; ".join(f"{one.site_name} {in_100(one.unexplained.value)}" for one in findings.hardest)
        yield f"Chance that a detection is background or a false result, the hardest to explain first: {listed}."


def _ways(findings: Findings) -> Iterator[str]:
    """The likeliest last steps to each detection."""
    for to in findings.ways[:TOLD_SITES]:
        steps = " then ".join(f"{way.words}, {with_range(way.chance)}," for way in to.ways[:TOLD_WAYS])
        yield f"The last step to {to.site_name} was most likely {steps} {UNDER}."
