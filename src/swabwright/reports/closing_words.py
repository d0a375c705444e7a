"""What the plan rests on, what it does not say, and where it may live before any sample."""

import re
from collections.abc import Sequence
from typing import Any

from swabwright.case.investigation import Investigation
from swabwright.case.plan import Believed, Plan, RestsOn
from swabwright.case.words import counted, in_100, out_of_100
from swabwright.plant.registry import load_catalogue

SIMULATED = "tested on simulated plants only"
SHOWN_POINTS = 0.05
"""A figure that moves the chance by less, in points of 100, stands in the brief list."""


def rests_words(plan: Plan, investigation: Investigation) -> str:
    """Who set the prior chance, and how the list is ordered."""
    prior = investigation.presence
    have = "has" if len(plan.rests_on) == 1 else "have"
    return (
        f"The chance that it lives here before any sample is {in_100(prior.lives_here)}, set by {prior.set_by}."
        f"{_other_priors(plan)} {counted(len(plan.rests_on), 'figure')} below {have} been confirmed by nobody; the "
        "most influential stand first. A changed figure is written down with who changed it and why."
    )


def _other_priors(plan: Plan) -> str:
    """What 'not detected' in all would mean to somebody with another prior; empty where the prior leaves no doubt.

    Silence multiplies the odds that it lives here by one factor, whatever they were (Bayes' rule), as long as the other
    explanations keep their shares of the rest.
    """
    means = plan.not_detected_means
    if not (0 < means.before.value < 1 and 0 < means.after.value < 1):
        return ""
    factor = _odds(means.after.value) / _odds(means.before.value)
    figures = load_catalogue().figures
    others = [figures.number(f"planning.other_prior_{which}") for which in ("low", "high")]
    low, high = (f"{out_of_100(prior)} instead, {out_of_100(_chance(factor * _odds(prior)))}" for prior in others)
    return (
        f" With nothing detected it is then {in_100(means.after.value)}; set at {low}; set at {high}; "
        "under these assumptions."
    )


def _odds(chance: float) -> float:
    return chance / (1.0 - chance)


def _chance(odds: float) -> float:
    return odds / (1.0 + odds)


def rests_rows(plan: Plan) -> dict[str, list[dict[str, str]]]:
    """Every unconfirmed figure by how much it matters: those that move the chance first, then the rest in brief."""
    measured = sorted((f for f in plan.rests_on if f.influence is not None), key=lambda f: -(f.influence or 0.0))
    return {
        "moving": [_row(figure) for figure in measured if _points(figure) >= SHOWN_POINTS],
        "still": [_row(figure) for figure in measured if _points(figure) < SHOWN_POINTS],
        "not_measured": _alike([figure for figure in plan.rests_on if figure.influence is None]),
    }


def _alike(figures: Sequence[RestsOn]) -> list[dict[str, str]]:
    """Values of the documents in brief: those of one kind with one reason stand together, each still named."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for figure in figures:
        # hundreds of positions that nobody has measured are one reason, not hundreds
        path = re.fullmatch(r"(\w+)\[([^\]]+)\]\.(\w+)", figure.words)
        kind, which, field = path.groups() if path else (figure.words, "", "")
        groups.setdefault((kind, field, figure.source), []).append(which)
    return [
        {"words": f"{field.replace('_', ' ')} of {kind}" if field else kind.replace("_", " "),
         "value": ", ".join(which for which in named if which), "source": source}
        for (kind, field, source), named in groups.items()
    ]  # fmt: skip


def _points(figure: RestsOn) -> float:
    return figure.influence or 0.0


def _row(figure: RestsOn) -> dict[str, str]:
    influence = f"{_points(figure):.1f} in 100"
    return {
        "name": figure.name,
        "words": figure.words,
        "value": figure.value,
        "source": figure.source,
        "influence": influence,
    }


def not_said(plan: Plan) -> list[str]:
    """What the plan does not say."""
    return [
        "It gives no verdict on the plant, its rooms or its product; it releases no product and holds none.",
        "'Not detected' in every sample does not mean that it is not there; page 1 gives the chance that remains.",
        f"The chance of {in_100(plan.chance_of_finding.value)} is that of finding it if it lives here, not that of its "
        f"living here. That a sample sits on the very spot and detects it: {in_100(plan.chance_of_hitting.value)}.",
        "'No choice does better' holds under these assumptions and for the choices allowed, nothing more.",
        f"The figures rest on a model {SIMULATED}, on the drawing as given and on the figures below.",
        "A site without a dot is not an impossible one.",
    ]


def believed_rows(believed: Sequence[Believed]) -> list[dict[str, Any]]:
    """Every place that has dots, most first; rooms and lines without a code."""
    places = sorted((place for place in believed if place.dots), key=lambda place: -place.dots)
    return [{"name": p.name, "place": "" if ":" in p.place else p.place, "dots": p.dots} for p in places]


def believed_words(plan: Plan) -> str:
    """How the dots were given out."""
    unseen = sum(1 for place in plan.believed if not place.dots)
    rest = f" {counted(unseen, 'place')} got none: under 1 in 2,000 each." if unseen else ""
    return (
        f"Each site has its share of 1,000 dots; {plan.stipple.not_drawn} stand for what is not on the drawing.{rest}"
    )


def made_from(plan: Plan) -> str:
    """The fingerprints of everything that went in."""
    hashes = plan.hashes
    return (
        f"Made with Swabwright {plan.software_version}, model {plan.model_version}, seed {plan.seed}, from "
        f"investigation {hashes.investigation[:16]}, plant {hashes.plant[:16]}, rulebook {hashes.rulebook[:16]}, "
        f"overrides {(hashes.overrides or 'none')[:16]}, figures {hashes.figures[:16]} (SHA-256, first 16 characters)."
    )
