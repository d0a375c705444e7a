"""From the record to what the engine reads: items as they were taken, strains apart, and why something is left out."""

from dataclasses import replace
from functools import cache

import pytest
from builders.cases import EXAMPLE
from builders.known import plant_bank
from builders.laboratory import (
    BLANK,
    DUPLICATE,
    NUMBERS,
    PRODUCT,
    SPARE,
    WATER,
    bring,
    collect,
    enter,
    entries_of,
    results_case,
    row,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.case.folder import read_case
from swabwright.detection.observed import Blanks, Counted
from swabwright.detection.recovery import neutralised, recovery
from swabwright.plant.effective import effective_site
from swabwright.spread.occasions import visit_occasions
from swabwright.work.observations import material_days, observations_of
from swabwright.work.opened import open_visit


@cache
def opened_example():
    example = read_case(EXAMPLE)
    return open_visit(example, example.visit("visit-1"))


@cache
def bank_at(occasions):
    return plant_bank(opened_example().case.plant, occasions, histories=2)


def read(case, *, kept=None, days=None, occasions=None):
    opened, entries = opened_example(), entries_of(case)
    opened = replace(opened, case=replace(opened.case, path=case, accepted=read_case(case).accepted))
    bank = bank_at(occasions or visit_occasions(opened.visit, opened.case.plant, 4.0))
    return observations_of(opened, replace(bank, days=days or material_days(opened.case, entries)), entries, kept)


def detected(observations):
    return {one.sample: one.detected for one in observations.results}


@pytest.fixture
def case(tmp_path):
    return results_case(tmp_path)


def test_without_strains_there_is_one_reading_of_any(case):
    bring(case, [row(2, "detected"), row(3)])
    (only,) = read(case).by_strain.items()
    assert only[0] is None
    assert detected(only[1]) == {NUMBERS[2]: True, NUMBERS[3]: False}


def test_a_sample_is_the_item_that_was_really_taken(case):
    enter(
        case, collect(SPARE, site="S027", zone=3, device="SW", opened_up=True, area_mm2=10_000, medium="letheen_broth")
    )
    bring(case, [row(SPARE)])
    (one,) = read(case, kept=lambda sample, visit: 1.0).by_strain[None].results
    assert (one.item.site_code, one.item.device, one.item.area_cm2, one.batch) == ("S027", "SW", 100.0, "visit-1")
    assert one.item.area_fraction == pytest.approx(100.0 / effective_of(case, "S027").area_cm2)


@pytest.mark.parametrize(("opened_up", "mode"), [(True, "opened"), (False, "as_is")])
def test_a_machine_counts_as_opened_only_when_it_was(case, opened_up, mode):
    enter(case, collect(SPARE, site="S034", zone=2, opened_up=opened_up))
    bring(case, [row(SPARE)])
    assert read(case).by_strain[None].results[0].item.mode == mode


def test_the_medium_that_was_really_in_the_device_counts(case):
    enter(case, collect(SPARE, site="S042", zone=3, medium="bpw"))
    bring(case, [row(3), row(SPARE)])
    found = {one.sample: one.item.recovery for one in read(case, kept=lambda n, _: 1.0).by_strain[None].results}
    opened, site = read_case(case), effective_of(case, "S042").site
    agreed, really = (neutralised(site, opened.plant, opened.catalogue, medium) for medium in ("de_broth", "bpw"))
    assert really < agreed
    assert found[NUMBERS[SPARE]] / found[NUMBERS[3]] == pytest.approx(really / agreed)


def effective_of(case, code):
    opened = read_case(case)
    return effective_site(next(site for site in opened.plant.sites if site.code == code), opened.catalogue)


def test_recovery_holds_the_viability_of_its_own_container(case):
    bring(case, [row(2), row(3)])
    shares = {NUMBERS[2]: 0.25, NUMBERS[3]: 1.0}
    opened, site = read_case(case), effective_of(case, "S040")
    kept = neutralised(site.site, opened.plant, opened.catalogue, "de_broth") * recovery(site, "SP", opened.figures)
    found = {one.sample: one.item.recovery for one in read(case, kept=lambda n, _: shares[n]).by_strain[None].results}
    assert found[NUMBERS[2]] == pytest.approx(0.25 * kept)


def test_the_phase_of_the_day_is_that_of_the_moment_it_was_taken(case):
    enter(case, collect(SPARE, site="S040", zone=3, taken_at="2026-03-05T04:00:00+00:00"))
    bring(case, [row(2), row(SPARE)])
    visit = opened_example().visit
    at = visit_occasions(visit, opened_example().case.plant, 4.0)[0]
    phases = (replace(at, phase="before_start"), replace(at, phase="rulebook_hour"))
    found = {one.sample: one.item.occasion for one in read(case, occasions=phases).by_strain[None].results}
    assert found == {NUMBERS[SPARE]: 0, NUMBERS[2]: 1}


STRAINS = [
    row(0, "detected", Isolate="I-1", Strain="ST9"),
    row(1, "detected", Isolate="I-2", Strain="ST8"),
    row(3, "detected", Isolate="I-3", Strain="ST8"),
    row(3, "detected", Isolate="I-4", Strain="ST9"),
    row(2),
]


def test_a_sample_of_another_strain_is_missing_for_this_one(case):
    bring(case, STRAINS)
    found = read(case)
    assert set(found.by_strain) == {"ST8", "ST9"}
    assert detected(found.by_strain["ST8"]) == {NUMBERS[1]: True, NUMBERS[3]: True, NUMBERS[2]: False}
    assert found.missing["ST8"] == (f"sample {NUMBERS[0]} (detected): typed as ST9: it says nothing of ST8",)


def test_an_untyped_detection_is_left_open_between_two_strains(case):
    bring(case, [*STRAINS, row(4, "detected")])
    found = read(case)
    assert NUMBERS[4] not in detected(found.by_strain["ST9"])
    assert detected(found.by_strain[None])[NUMBERS[4]]
    assert any("untyped, while 2 strains are known" in words for words in found.missing["ST9"])


def test_an_untyped_detection_counts_for_the_only_strain(case):
    bring(case, [STRAINS[0], row(4, "detected")])
    assert detected(read(case).by_strain["ST9"]) == {NUMBERS[0]: True, NUMBERS[4]: True}


def test_an_isolate_of_a_sample_amended_to_not_detected_is_no_strain(case):
    bring(case, [STRAINS[0], STRAINS[1]])
    bring(case, [row(1)], "amended", reported_at="2026-03-11")
    assert set(read(case).by_strain) == {"ST9"}


def test_a_presumptive_result_has_its_own_rate_of_false_ones(case):
    bring(case, [row(2, "suspect"), row(3)], "preliminary")
    found = read(case)
    rates = {one.sample: one.false_positive for one in found.by_strain[None].results}
    assert rates == {NUMBERS[2]: pytest.approx(0.01), NUMBERS[3]: 0.0}
    assert "1 presumptive result read as detected with a chance of 1.0 in 100" in found.rests_on[0]


def test_once_confirmed_it_has_none(case):
    bring(case, [row(2, "suspect")], "preliminary")
    bring(case, [row(2, "detected")])
    assert read(case).by_strain[None].results[0].false_positive == 0.0


def test_an_indicator_is_read_with_the_share_of_sites_that_show_it_alone(case):
    bring(case, [row(2, "detected", Organism="Listeria spp."), row(4, Organism="Listeria spp.")])
    rates = {one.sample: one.false_positive for one in read(case).by_strain[None].results}
    assert rates == {NUMBERS[2]: pytest.approx(0.22), NUMBERS[4]: pytest.approx(0.1)}


def test_beside_the_pathogens_own_result_the_indicator_adds_nothing(case):
    bring(case, [row(2, "detected", Organism="Listeria spp."), row(2)])
    assert [(one.detected, one.false_positive) for one in read(case).by_strain[None].results] == [(False, 0.0)]


def test_blanks_stand_by_the_batch_and_are_no_results(case):
    bring(case, [row(BLANK), row(2)])
    found = read(case).by_strain[None]
    assert found.blanks == (Blanks("visit-1", 0, 1),)
    assert detected(found) == {NUMBERS[2]: False}


def test_a_detected_blank_is_held_against_every_strain_and_said(case):
    bring(case, [*STRAINS, row(BLANK, "detected")])
    found = read(case)
    assert found.by_strain["ST8"].blanks == found.by_strain["ST9"].blanks == (Blanks("visit-1", 1, 0),)
    assert any("handling, gloves or air" in words for words in found.rests_on)


def test_a_duplicate_is_a_further_result_at_the_same_site(case):
    bring(case, [row(2), row(DUPLICATE, "detected")])
    assert {one.item.site_code for one in read(case).by_strain[None].results} == {"S040"}


def test_a_count_is_given_to_the_engine(case):
    bring(
        case,
        [row(2, "detected", Colonies="12", Share_plated="0.1"), row(3, "detected", Colonies="0", Share_plated="1")],
    )
    assert [one.count for one in read(case).by_strain[None].results] in (
        [Counted(12, 0.1), None],
        [None, Counted(12, 0.1)],
    )


def test_product_and_water_are_tests_of_a_line_and_a_day(case):
    enter(case, collect(PRODUCT, sample_kind="product", product_lot="JL-26062-B", mass_mg=125_000),
          collect(WATER, sample_kind="water", site="S025", mass_mg=1_000_000))  # fmt: skip
    bring(case, [row(PRODUCT, "detected"), row(WATER)])
    tests = {one.sample: one for one in read(case).by_strain[None].materials}
    product, water = tests[NUMBERS[PRODUCT]], tests[NUMBERS[WATER]]
    assert (product.kind, product.line, str(product.day), product.kg_tested) == (
        "product",
        "line-b",
        "2026-03-03",
        0.125,
    )
    assert (water.kind, water.line, str(water.day), water.detected) == ("incoming", "line-b", "2026-03-05", False)


LEFT_OUT = {
    "no valid result": ({}, "void", "no valid result, so it says nothing"),
    "a part sent whole": ({"sample_kind": "part"}, "detected", "a part cannot be read yet"),
    "no site": ({"site": None}, "detected", "the record names no site of the plant for it"),
    "a device that samples no surface": ({"device": "WA"}, "detected", "device 'WA' samples no surface"),
    "product of no line": ({"sample_kind": "product", "site": "S040"}, "detected", "neither its lot nor its site"),
    "product without a mass": ({"sample_kind": "product", "product_lot": "JL-26062-B"}, "detected", "its mass was not"),
}


@pytest.mark.parametrize(("more", "word", "reason"), LEFT_OUT.values(), ids=LEFT_OUT)
def test_what_cannot_be_read_is_left_out_with_its_reason(case, more, word, reason):
    body = {name: value for name, value in (collect(SPARE, site="S040") | more).items() if value is not None}
    enter(case, body)
    bring(case, [row(SPARE, word), row(2)])
    found = read(case)
    assert any(f"sample {NUMBERS[SPARE]}" in words and reason in words for words in found.left_out)
    assert set(detected(found.by_strain[None])) == {NUMBERS[2]}


def test_product_of_a_day_that_the_bank_does_not_hold_is_left_out(case):
    enter(case, collect(PRODUCT, sample_kind="product", product_lot="JL-26062-B", mass_mg=125_000))
    bring(case, [row(PRODUCT, "detected")])
    found = read(case, days=(read_case(case).investigation.signal_on.replace(day=1),))
    assert "the bank holds no load of 2026-03-03" in found.left_out[0]


def test_a_bank_of_another_visit_reads_none_of_this_one(case):
    bring(case, [row(2)])
    opened = read_case(case)
    later = visit_occasions(opened.visit("visit-1"), opened.plant, 4.0)[0]
    found = read(case, occasions=(replace(later, at=later.at.replace(month=4)),))
    assert f"sample {NUMBERS[2]}: the bank is not read at visit 'visit-1'" in found.left_out


def test_contradictory_amendments_are_left_out_by_name(case):
    bring(case, [row(2)])
    bring(case, [row(2, "detected")], "amended", reported_at=None)
    bring(case, [row(2, "void")], "amended", accession="L26-118B", reported_at=None)
    found = read(case)
    assert "nothing tells which is later; neither is used" in found.left_out[0]
    assert found.by_strain[None].results == ()


def test_a_result_of_another_organism_alone_is_told(case):
    bring(case, [row(2, "detected", Organism="Salmonella")])
    assert "tested for Salmonella spp. only, not for Listeria monocytogenes" in read(case).left_out[0]


def test_samples_without_a_result_are_counted(case):
    bring(case, [row(2)])
    assert "7 collected samples without a result yet" in read(case).left_out


@given(st.permutations(STRAINS))
@settings(deadline=None, derandomize=True, max_examples=4)
def test_the_order_of_the_table_does_not_change_what_is_read(tmp_path_factory, rows):
    first, second = (results_case(tmp_path_factory.mktemp("order")) for _ in range(2))
    bring(first, STRAINS)
    bring(second, rows)
    assert read(first) == read(second)


def test_a_sample_with_an_open_row_of_a_later_report_is_left_out(case):
    bring(case, [row(3), row(5)])
    bring(case, [row(3, "wobbly")], "amended", reported_at="2026-03-11")
    found = read(case)
    assert NUMBERS[3] not in detected(found.by_strain[None])
    assert any("no valid result until the laboratory resolves it" in why for why in found.left_out)
