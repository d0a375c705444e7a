"""The prior weights of site types beside the published shares of their groups, and the predicted shares."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.stats import spearmanr

from swabwright.plant.catalogue import Catalogue
from validation.plants import Seen
from validation.published import SiteKinds
from validation.studies import pool_of

PARTS = ("cleaning_difficulty", "wetness_weight", "organism_fit_listeria")


@dataclass(frozen=True)
class Group:
    """One group of site types: mean prior weight, published share, predicted share; and where the share is from."""

    name: str
    weight: float
    published: float
    predicted: float
    source: str


@dataclass(frozen=True)
class Agreement:
    """Rank agreement with the published shares, -1 to 1, and how much smaller the predictions are."""

    of_weights: float
    of_predictions: float
    published_over_predicted: float


def weigh_groups(catalogue: Catalogue, seen: Sequence[Seen]) -> tuple[Group, ...]:
    """Every group, the heaviest first."""
    names = {kind.prevalence_group for kind in catalogue.site_types.values()}
    return tuple(sorted((_group(catalogue, seen, name) for name in names), key=lambda group: -group.weight))


def agreement(groups: Sequence[Group]) -> Agreement:
    """How the weights and the predictions rank the groups, against the published shares (Spearman's rho)."""
    published = [group.published for group in groups]
    return Agreement(
        of_weights=float(spearmanr([group.weight for group in groups], published).statistic),
        of_predictions=float(spearmanr([group.predicted for group in groups], published).statistic),
        published_over_predicted=float(np.median([group.published / group.predicted for group in groups])),
    )


def _group(catalogue: Catalogue, seen: Sequence[Seen], name: str) -> Group:
    figure = catalogue.figures[f"prevalence.{name}.share"]
    predicted = float(np.mean(pool_of(seen, SiteKinds(groups=(name,))).asked))
    return Group(name, _weight(catalogue, name), figure.value, predicted, figure.source)


def _weight(catalogue: Catalogue, group: str) -> float:
    """Mean prior weight of the group's site types: cleaning difficulty x wetness x fit of the organism."""
    kinds = [kind.id for kind in catalogue.site_types.values() if kind.prevalence_group == group]
    number = catalogue.figures.number
    return float(np.mean([np.prod([number(f"site_type.{kind}.{part}") for part in PARTS]) for kind in kinds]))
