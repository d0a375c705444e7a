"""The prior predicts what routine samples show, against published shares of positive samples by group of sites.

The published shares stand in the catalogue (`prevalence.<group>.share`) with their sources: smoked-fish plants (J Food
Prot 2003;66:52), dairies, delis (J Food Prot 2014;77:1929) and others, in plants where the organism was found.
"""

from collections import defaultdict
from functools import cache

import numpy as np
import pytest
from builders.known import investigation, simulated_known
from builders.plants import twenty_site_plant
from scipy.stats import spearmanr

from swabwright.belief.believe import believe
from swabwright.belief.outcome import cells_of
from swabwright.detection.choices import build_items
from swabwright.detection.factor import SiteResults, site_factor
from swabwright.detection.model import detection_model
from swabwright.plant.registry import load_catalogue

CATALOGUE = load_catalogue()
FIGURES = CATALOGUE.figures
GROUPS = sorted({kind.prevalence_group for kind in CATALOGUE.site_types.values()})


@cache
def predicted() -> dict[str, float]:
    """Chance by group that one routine sample of a site is positive, given that it lives in the plant."""
    known = simulated_known(twenty_site_plant(), investigation(implicated=()), histories=200)
    rows, model = believe(known, 12_000).before, detection_model(FIGURES)
    group_of = {s.key: CATALOGUE.site_types[s.type].prevalence_group for s in known.setting.plant.sites}
    items = {i.site_key: i for i in reversed(build_items(known.setting, known.bank)) if i.mode == "as_is"}
    chances = defaultdict(list)
    for item, cells in zip(items.values(), cells_of(known, rows, tuple(items.values())), strict=True):
        one = SiteResults(cells[None], np.zeros(1, bool), np.full(1, model.false_positive))
        chances[group_of[item.site_key]].append(float(rows.weight @ (1 - site_factor(one, model))))
    return {group: float(np.mean(values)) for group, values in chances.items()}


def weight(group: str) -> float:
    """Mean prior weight of the group's site types."""
    names = ("cleaning_difficulty", "wetness_weight", "organism_fit_listeria")
    kinds = [kind.id for kind in CATALOGUE.site_types.values() if kind.prevalence_group == group]
    return float(np.mean([np.prod([FIGURES.number(f"site_type.{kind}.{name}") for name in names]) for kind in kinds]))


def published(group: str) -> float:
    """Published share of positive samples of a group."""
    return FIGURES.number(f"prevalence.{group}.share")


def test_every_site_type_belongs_to_a_group_with_a_published_share() -> None:
    assert all(0 < published(group) < 1 for group in GROUPS)


def test_prior_weights_rank_groups_as_published_shares_do() -> None:
    assert spearmanr([weight(group) for group in GROUPS], [published(group) for group in GROUPS]).statistic > 0.7


def test_drains_lead_and_accessible_food_contact_stays_behind() -> None:
    ranked = sorted(GROUPS, key=weight)
    assert ranked[-1] == "drain"
    assert "contact" in ranked[:3]


@pytest.mark.parametrize("group", GROUPS)
def test_predicted_share_of_positive_samples_lies_in_the_published_range(group: str) -> None:
    figure = FIGURES[f"prevalence.{group}.share"]
    assert figure.low is not None
    assert figure.high is not None
    assert figure.low <= predicted()[group] <= figure.high


def test_predictions_rank_groups_as_published_shares_do() -> None:
    groups = sorted(predicted())
    ranks = spearmanr([predicted()[group] for group in groups], [published(group) for group in groups])
    assert ranks.statistic > 0.5
