"""What findings say, in sentences, the most important first."""

from collections.abc import Iterator

from swabwright.case.findings import Findings, GroupFinding, Outcome, PlaceFinding
from swabwright.case.plan import Chance, Presence
from swabwright.case.words import counted, doubt, in_100, out_of_100, with_range
from swabwright.work.findings_evidence_words import UNDER, evidence

NEXT_ONES = 3
CLOSING = (
    "Tested on simulated plants only. This is decision support: people who answer for it decide, and it releases no "
    "product."
)


def summary(findings: Findings) -> tuple[str, ...]:
    """The sentences of findings: what was found, where it lives, what would remain, what it rests on."""
    return tuple(_sentences(findings))


def _sentences(findings: Findings) -> Iterator[str]:
    yield _found(findings)
    if findings.presence is not None:
        yield _silence(findings.presence, len(findings.results))
    yield _claim(findings)
    yield from _following(findings)
    yield f"{findings.credible_set.words}, {UNDER}."
    yield from _another(findings)
    yield _elsewhere(findings)
    yield from _caution(findings)
    yield from evidence(findings)
    yield CLOSING


def _found(findings: Findings) -> str:
    of = "" if findings.strain is None else f"Strain {findings.strain}: "
    read = f"{counted(len(findings.results), 'result')} read"
    confirmed, screened = _sites(findings, "detected"), _sites(findings, "presumptive")
    waiting = f" Presumptive, not confirmed yet, at {_listed(screened)}." if screened else ""
    if confirmed:
        return f"{of}{findings.found} Detected at {_listed(confirmed)}; {read}.{waiting}"
    return f"{of}Detected in none of {read}.{waiting}"


def _sites(findings: Findings, outcome: Outcome) -> tuple[str, ...]:
    """Names of the sites and materials with this outcome, each once."""
    return tuple(dict.fromkeys(result.site_name for result in findings.results if result.outcome == outcome))


def _silence(means: Presence, number: int) -> str:
    return (
        f"Not detected in all {number} does not mean that it is not there: the chance that it lives here falls from "
        f"{out_of_100(means.before.value)} to {with_range(means.after)}, {UNDER}."
    )


def _claim(findings: Findings) -> str:
    # the places include incoming material, so more is given than that it lives here
    lives = "It" if findings.presence is None else "If it is here at all, it"
    match findings.support:
        case "site":
            place = next(one for one in findings.places if one.place == findings.supported)
            return f"{lives} most likely lives in or under {place.name} ({place.place}): {_wide(place.niche_here)}."
        case "machine":
            return _of_group(lives, "in or around", _group(findings.machines, findings.supported))
        case "room":
            return _of_group(lives, "in", _group(findings.rooms, findings.supported))
        case "incoming":
            place = next(one for one in findings.places if one.place == findings.supported)
            return f"{lives} most likely comes in with {place.name}: {_wide(place.niche_here)}."
    first = findings.places[0]
    return (
        f"No site, machine or room stands out enough to be named as where it lives ({findings.claim_needs:.0f} in 100 "
        f"are needed). {first.name[:1].upper()}{first.name[1:]} leads: {_wide(first.niche_here)}."
    )


def _group(groups: tuple[GroupFinding, ...], wanted: str | None) -> GroupFinding:
    return next(group for group in groups if group.group == wanted)


def _of_group(lives: str, where: str, group: GroupFinding) -> str:
    return (
        f"{lives} most likely lives {where} {group.name}: {_wide(group.niche_within)}; no single site is sure enough."
    )


def _wide(chance: Chance) -> str:
    return (
        f"{in_100(chance.value)}, and between {out_of_100(chance.low)} and {out_of_100(chance.high)} whichever way we "
        f"set what we could not measure, {UNDER}"
    )


def _following(findings: Findings) -> Iterator[str]:
    """The next places by share, or the first ones where a larger part of the plant was named."""
    named = findings.supported == findings.places[0].place or findings.support == "none"
    shown = findings.places[1:] if named else findings.places
    if shown:
        listed = _listed([f"{place.name} ({with_range(place.niche_here)})" for place in shown[:NEXT_ONES]])
        yield f"{'Then come' if named else 'The places that lead are'} {listed}, {UNDER}."


def _another(findings: Findings) -> Iterator[str]:
    first = _first(findings)
    yield f"That there are two niches has a chance of {with_range(findings.two_niches)}, given at most two, {UNDER}."
    if first is not None:
        yield (
            f"If what is at {first.name} is truly removed, a niche remains with a chance of "
            f"{with_range(first.remains_if_removed)}; if one is there, a second is elsewhere with "
            f"{with_range(first.another_too)}, {UNDER}."
        )


def _first(findings: Findings) -> PlaceFinding | None:
    """The place that removing speaks of: the leading one, unless it is incoming material."""
    return next((place for place in findings.places if place.room is not None), None)


def _elsewhere(findings: Findings) -> str:
    return (
        "Share of all niches that is not on the drawing, in the rest of a room: "
        f"{with_range(findings.not_on_the_drawing)}; that came in with material: "
        f"{with_range(findings.incoming_material)}, {UNDER}."
    )


def _caution(findings: Findings) -> Iterator[str]:
    said = doubt(findings.places[0].niche_here)
    if said:
        yield said
    if findings.reading.lacking:
        yield (
            f"More histories would make this surer: {findings.reading.lacking} of "
            f"{findings.reading.histories:,} simulated ones."
        )


def _listed(names: list[str] | tuple[str, ...]) -> str:
    *before, last = names
    return f"{', '.join(before)} and {last}" if before else last
