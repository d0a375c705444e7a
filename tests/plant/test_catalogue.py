"""The catalogue: every site type is whole, every figure has a source, and weights follow published shares."""

import re

import pytest
from scipy.stats import spearmanr

from swabwright.plant.registry import load_catalogue

CATALOGUE = load_catalogue()
FIGURES = CATALOGUE.figures
TYPES = sorted(CATALOGUE.site_types)
NEEDED = (
    "area_cm2", "sample_area_cm2", "log10_capacity_cfu", "shed_fraction_per_8h", "cleaning_log10_reduction",
    "cleaning_difficulty", "reach_as_is", "reach_opened", "minutes_to_open", "organism_fit_listeria", "wetness_weight",
)  # fmt: skip


def number(kind, name):
    return FIGURES.number(f"site_type.{kind}.{name}")


def test_there_are_site_types_for_a_whole_wet_plant() -> None:
    assert len(TYPES) >= 45
    assert {kind.holder for kind in CATALOGUE.site_types.values()} >= {
        "floor",
        "drain",
        "equipment",
        "overhead",
        "wall",
    }


@pytest.mark.parametrize("kind", TYPES)
def test_a_site_type_has_all_its_figures_with_source_or_unconfirmed(kind) -> None:
    figures = FIGURES.under(f"site_type.{kind}")
    assert set(figures) == set(NEEDED)
    assert all(figure.source and (figure.confirmed or figure.low is not None or "assumed" in figure.source)
               for figure in figures.values())  # fmt: skip


@pytest.mark.parametrize("kind", TYPES)
def test_a_site_type_names_devices_and_surface_of_the_catalogue(kind) -> None:
    entry = CATALOGUE.site_types[kind]
    assert entry.devices
    assert set(entry.devices) <= set(CATALOGUE.devices)
    assert entry.surface in CATALOGUE.surfaces


@pytest.mark.parametrize("kind", TYPES)
def test_the_best_device_of_a_site_type_takes_a_surface(kind) -> None:
    assert CATALOGUE.devices[CATALOGUE.site_types[kind].devices[0]].for_kind == "surface"


@pytest.mark.parametrize("kind", TYPES)
def test_opening_never_lowers_what_is_reached(kind) -> None:
    assert number(kind, "reach_opened") >= number(kind, "reach_as_is")
    assert number(kind, "sample_area_cm2") <= number(kind, "area_cm2")


@pytest.mark.parametrize("kind", [kind for kind in TYPES if CATALOGUE.site_types[kind].opens])
def test_what_can_be_opened_reaches_far_more_when_it_is(kind) -> None:
    assert 0.2 <= number(kind, "reach_opened") <= 0.5
    assert number(kind, "minutes_to_open") > 0


@pytest.mark.parametrize("kind", [kind for kind in TYPES if not CATALOGUE.site_types[kind].opens])
def test_what_cannot_be_opened_gains_nothing_and_takes_no_minutes(kind) -> None:
    assert number(kind, "reach_opened") == number(kind, "reach_as_is")
    assert number(kind, "minutes_to_open") == 0


@pytest.mark.parametrize("kind", [kind for kind in TYPES if CATALOGUE.site_types[kind].opens >= 2])
def test_what_needs_tools_or_height_needs_plant_staff(kind) -> None:
    stop = CATALOGUE.site_types[kind].stop
    assert stop.mechanic
    assert stop.minutes_down > 0


@pytest.mark.parametrize("kind", [kind for kind in TYPES if CATALOGUE.site_types[kind].opens == 2])
def test_what_needs_tools_is_stopped_and_isolated(kind) -> None:
    assert CATALOGUE.site_types[kind].stop.needs_line_stop
    assert CATALOGUE.site_types[kind].stop.needs_isolation


@pytest.mark.parametrize(
    "kind",
    [kind.id for kind in CATALOGUE.site_types.values() if kind.holder == "equipment" and kind.food_contact == "yes"],
)
def test_food_contact_of_a_machine_is_never_sampled_while_it_runs(kind) -> None:
    stop = CATALOGUE.site_types[kind].stop_as_is
    assert kind == "packing_film" or (stop.needs_line_stop and stop.needs_isolation)
    assert kind == "packing_film" or stop.reclean_before_restart


def test_drains_come_last_inside_a_room() -> None:
    drains = {CATALOGUE.site_types[kind].rank for kind in TYPES if CATALOGUE.site_types[kind].holder == "drain"}
    assert drains == {8}
    assert all(entry.rank < 8 for entry in CATALOGUE.site_types.values() if entry.food_contact == "yes")


@pytest.mark.parametrize("kind", TYPES)
def test_figures_of_a_site_type_stay_within_what_was_assumed(kind) -> None:
    assert 4.4 <= number(kind, "log10_capacity_cfu") <= 5.2
    assert 0.0009 <= number(kind, "shed_fraction_per_8h") <= 0.0025
    assert 0.6 <= number(kind, "cleaning_log10_reduction") <= 2.3
    assert 1e-4 <= number(kind, "reach_as_is") <= 1e-2


def test_harder_to_clean_means_less_is_taken_off() -> None:
    by_difficulty = {number(kind, "cleaning_difficulty"): number(kind, "cleaning_log10_reduction") for kind in TYPES}
    reductions = [by_difficulty[step] for step in sorted(by_difficulty)]
    assert reductions == sorted(reductions, reverse=True)


def weight(kind):
    return number(kind, "cleaning_difficulty") * number(kind, "wetness_weight") * number(kind, "organism_fit_listeria")


def group_weights():
    groups: dict[str, list[float]] = {}
    for kind in TYPES:
        groups.setdefault(CATALOGUE.site_types[kind].prevalence_group, []).append(weight(kind))
    return {group: sum(weights) / len(weights) for group, weights in groups.items()}


def test_prior_weights_follow_the_published_shares_of_positive_samples() -> None:
    weights = group_weights()
    shares = [FIGURES.number(f"prevalence.{group}.share") for group in weights]
    assert spearmanr(list(weights.values()), shares).statistic > 0.7


def test_niche_groups_keep_one_ratio_to_their_published_share() -> None:
    weights = {group: weight for group, weight in group_weights().items() if group not in ("mobile", "hands")}
    ratios = [weights[group] / FIGURES.number(f"prevalence.{group}.share") for group in weights]
    assert max(ratios) / min(ratios) < 1.5


def test_every_figure_has_a_unit_a_source_and_a_range_that_holds_it() -> None:
    for figure in FIGURES.values():
        assert figure.unit.strip()
        assert figure.source.strip()
        assert (figure.low if figure.low is not None else figure.value) <= figure.value
        assert (figure.high if figure.high is not None else figure.value) >= figure.value


def test_nothing_that_is_assumed_calls_itself_confirmed() -> None:
    assert [figure.name for figure in FIGURES.values() if figure.confirmed and "assumed" in figure.source] == []


def test_no_source_is_a_bare_address_or_an_inner_document() -> None:
    entries = (CATALOGUE.site_types, CATALOGUE.devices, CATALOGUE.surfaces, CATALOGUE.media)
    sources = {figure.source for figure in FIGURES.values()}
    sources |= {entry.source for part in entries for entry in part.values()}
    assert [source for source in sources if re.search(r"https?:|www\.|handbook|\bS\d{1,3}\b", source, re.I)] == []


def test_no_name_stands_for_two_site_types() -> None:
    names = [name.lower() for kind in CATALOGUE.site_types.values() for name in (kind.name, *kind.also_called)]
    assert sorted(names) == sorted(set(names))


GOLDEN = [
    # American frozen food association: at most five like samples; CFIA 2011: three rounds, five working days.
    ("rule.composite_most_samples", 5),
    ("rule.clearance_rounds", 3),
    ("rule.retest_within_working_days", 5),
    ("rule.hours_to_analysis_limit", 48),
    ("rule.notice_hours", 24),
    # Food Control and J Food Prot 2003-2014, synthesis of shares of positive samples by group.
    ("prevalence.drain.share", 0.2381),
    ("prevalence.contact.share", 0.0426),
    # BMC Microbiology 2020;20:333: 5 of 60 with a weak broth, 34.5 of 60 with strong ones.
    ("medium.letheen_broth.quat_floor", 0.1),
    ("medium.de_broth.quat_floor", 1.0),
    # Appl Environ Microbiol 2012;78: sponge on ceramic 0.489, on steel 0.481.
    ("surface.tile.relative_recovery", 1.0),
    # The belt runs over all product: easy to clean, reached as it stands.
    ("site_type.belt_product_side.cleaning_log10_reduction", 1.9),
    ("site_type.hollow_roller.reach_as_is", 1e-4),
    ("site_type.drain_channel.log10_capacity_cfu", 5.2),
]


@pytest.mark.parametrize(("name", "value"), GOLDEN)
def test_golden_figures_stand(name, value) -> None:
    assert FIGURES.number(name) == pytest.approx(value, rel=0.03)


def test_the_hour_after_line_start_names_every_body_that_differs() -> None:
    hours = FIGURES["rule.hours_after_line_start"]
    assert (hours.low, hours.value, hours.high) == (2, 3, 4)
    assert all(body in hours.source for body in ("EURL", "FSIS", "Health Canada", "FDA"))
    assert not hours.confirmed
