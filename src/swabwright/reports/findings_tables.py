"""The tables of the findings' papers: other priors, assumptions, detections, blanks, and what was not read."""

import re
from collections.abc import Iterator, Sequence
from typing import Any

from swabwright.case.findings import Assumption, Findings, OtherPrior, WaysTo
from swabwright.case.words import counted, in_100, with_range
from swabwright.reports.wording import listed

FIGURES = 8
"""So many of the assumptions that matter most are told."""
WAYS = 4
LEFT_OUT = re.compile(r"sample (?P<sample>\S+): (?P<why>.+)")


def tables(found: Findings) -> dict[str, Any]:
    """The tables as plain data, each with the words above it."""
    return {
        "prior": f"Where it may live before any result was set {_by(found.prior_set_by)}: {found.prior_words}.",
        "priors": list(_priors(found)),
        "assumptions": [_assumption(one) for one in found.assumptions[:FIGURES]],
        "assumptions_words": found.assumptions_words,
        "hardest": [
            f"{one.site_name} ({one.site}), {listed([f'sample {sample}' for sample in one.samples])}: "
            f"{with_range(one.unexplained)} that no niche accounts for it."
            for one in found.hardest
        ],
        "ways": [_way(one) for one in found.ways],
        "ways_words": found.ways_words,
        "blanks": [one.words for one in found.blanks],
        "left_out": together(found.left_out),
        "trust": list(found.taken_on_trust),
        "made_from": _made_from(found),
    }  # fmt: skip


def together(left_out: Sequence[str]) -> list[str]:
    """Samples that were left out for one reason stand together, each still named."""
    groups: dict[str, list[str]] = {}
    for said in left_out:
        match = LEFT_OUT.fullmatch(said)
        reason, sample = (match["why"], match["sample"]) if match else (said, "")
        groups.setdefault(reason, []).append(sample)
    return [
        f"{counted(len(samples), 'sample')}: {reason}: {', '.join(samples)}" if samples[0] else reason
        for reason, samples in groups.items()
    ]


def _by(set_by: str) -> str:
    return set_by if set_by.startswith("by ") else f"by {set_by}"


def _priors(found: Findings) -> Iterator[dict[str, str]]:
    first = found.places[0]
    ranked = listed([f"{one.name}, {in_100(one.niche_here.value)}" for one in found.places[:3]])
    yield {
        "words": f"as here, set {_by(found.prior_set_by)}",
        "leading": with_range(first.niche_here),
        "ranked": ranked,
    }
    yield from (_prior(one) for one in found.other_priors)


def _prior(one: OtherPrior) -> dict[str, str]:
    ranked = listed([f"{place.name}, {in_100(place.niche_here.value)}" for place in one.ranked])
    return {"words": one.words, "leading": with_range(one.leading.niche_here), "ranked": ranked}


def _assumption(one: Assumption) -> dict[str, str]:
    figure = one.figure
    influence = "" if figure.influence is None else f"{figure.influence:.1f} in 100"
    other = f"then {one.leads_at_an_end} leads" if one.leads_at_an_end else ""
    return {"words": figure.words, "value": figure.value, "source": figure.source, "influence": influence,
            "name": figure.name, "other": other}  # fmt: skip


def _way(one: WaysTo) -> str:
    ways = sorted(one.ways, key=lambda way: -way.chance.value)[:WAYS]
    said = listed([f"{way.words}, {in_100(way.chance.value)}" for way in ways])
    return f"{one.site_name} ({one.site}): {said}."


def _made_from(found: Findings) -> str:
    hashes, reading = found.hashes, found.reading
    return (
        f"Made with Swabwright {found.software_version}, model {found.model_version}, seed {found.seed}, bank "
        f"{reading.bank}, {reading.histories:,} histories, {reading.effective_histories:.0f} effective, standard error "
        f"of the largest share {reading.leading_share_error_points:.1f} points, from investigation "
        f"{hashes.investigation[:16]}, plant {hashes.plant[:16]}, rulebook {hashes.rulebook[:16]}, overrides "
        f"{(hashes.overrides or 'none')[:16]}, figures {hashes.figures[:16]}, record {hashes.record_head[:16]} "
        "(SHA-256, first 16 characters)."
    )
