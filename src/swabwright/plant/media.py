"""Which wetting medium suits today's chemicals: as good as its weakest cell."""

from collections.abc import Sequence
from dataclasses import dataclass

from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.catalogue import Catalogue

UNKNOWN = "unknown"


@dataclass(frozen=True)
class MediumFit:
    """A medium against all chemicals used in the area, judged by the one it neutralises least."""

    medium: str
    share_kept: float
    """Share of viability kept with the residue that it neutralises least."""
    weakest: str
    """The chemistry of that residue."""
    confirmed: bool
    caution: str | None
    """What to ask or check before relying on it, in a sentence."""


def medium_fit(medium: str, chemistries: Sequence[str], catalogue: Catalogue) -> MediumFit:
    """How well one medium does against these chemistries: its weakest cell decides; none means no residue."""
    if medium not in catalogue.media:
        raise SwabwrightError(f"no medium '{medium}'{did_you_mean(medium, list(catalogue.media))}")
    cells = {name: catalogue.figures[f"medium.{medium}.{_known(name, catalogue)}"] for name in chemistries or ("none",)}
    # Of two equal cells the unconfirmed one decides: it is the one to ask about.
    weakest = min(cells, key=lambda name: (cells[name].value, cells[name].confirmed, name))
    cell = cells[weakest]
    return MediumFit(medium, cell.value, weakest, cell.confirmed, _caution(medium, weakest, chemistries, catalogue))


def best_medium(chemistries: Sequence[str], catalogue: Catalogue) -> MediumFit:
    """The medium whose weakest cell keeps most, confirmed before unconfirmed, in the catalogue's order."""
    fits = [medium_fit(medium, chemistries, catalogue) for medium in catalogue.media]
    return max(fits, key=lambda fit: (fit.share_kept, fit.confirmed))


def _known(name: str, catalogue: Catalogue) -> str:
    if name not in catalogue.chemistries:
        raise SwabwrightError(f"no chemistry '{name}'{did_you_mean(name, list(catalogue.chemistries))}")
    return name


def _caution(medium: str, weakest: str, chemistries: Sequence[str], catalogue: Catalogue) -> str | None:
    medium_name, chemistry = catalogue.media[medium].name, catalogue.chemistries[weakest].name
    if UNKNOWN in chemistries:
        return "Nobody has said which chemical is used here: ask for chemical and strength, foot mats and drains too."
    kept = catalogue.figures.number(f"medium.{medium}.{weakest}")
    if kept < 1:
        return (
            f"{medium_name} neutralises '{chemistry}' only in part: ask the laboratory, and wait until it has drained."
        )
    return "Several chemicals meet here: ask the laboratory about the mixture." if len(set(chemistries)) > 1 else None
