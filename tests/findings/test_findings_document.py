"""Laws of the findings document: what adds up, what moves nothing, what must carry a range."""

from dataclasses import replace

import pytest
from builders.findings import findings_tiny, opened_tiny, read_tiny, told
from builders.plants import tiny_plant, tiny_sites

from swabwright.case.canonical import readable_json
from swabwright.case.findings import Findings
from swabwright.case.plan import Chance
from swabwright.plant.reading import read_document
from swabwright.work.findings_compose import compose_findings

FOUND, SILENT = (2, 3), (1, 5)
NO_CHANCE = {"points", "leading_points", "asked", "claim_needs", "effective_histories", "leading_share_error_points"}


@pytest.fixture(scope="module")
def findings() -> Findings:
    return findings_tiny(FOUND, SILENT)


def test_shares_of_all_places_add_to_one(findings):
    assert sum(place.share.value for place in findings.places) == pytest.approx(1)


def test_shares_of_rooms_and_of_what_came_in_add_to_one(findings):
    rooms = sum(room.share.value for room in findings.rooms)
    assert rooms + findings.incoming_material.value == pytest.approx(1)


def test_chances_of_a_niche_add_to_the_mean_number_of_niches(findings):
    assert sum(place.niche_here.value for place in findings.places) == pytest.approx(1 + findings.two_niches.value)


def test_the_likeliest_place_stands_first(findings):
    shares = [place.share.value for place in findings.places]
    assert shares == sorted(shares, reverse=True)


def test_what_remains_is_all_but_the_only_niche_here(findings):
    alone = [(1 - place.remains_if_removed.value) for place in findings.places]
    assert sum(alone) + findings.two_niches.value == pytest.approx(1)


def test_a_second_niche_is_told_apart_from_what_remains(findings):
    for place in findings.places:
        alone = place.niche_here.value * (1 - place.another_too.value)
        assert alone == pytest.approx(1 - place.remains_if_removed.value)


def test_there_are_exactly_a_thousand_dots(findings):
    assert len(findings.stipple.dots) + findings.stipple.not_drawn == 1000
    assert sum(place.dots for place in findings.believed) == 1000


def test_the_set_holds_its_chance_and_no_fewer_places_do(findings):
    share = {place.place: place.share.value for place in findings.places}
    held = [share[place] for place in findings.credible_set.places]
    assert sum(held) >= 0.95 > sum(held) - min(held)
    assert findings.credible_set.chance.value == pytest.approx(sum(held))


def parts_of(part):
    yield part
    for name in type(part).model_fields:
        value = getattr(part, name)
        for one in value if isinstance(value, tuple) else (value,):
            if hasattr(type(one), "model_fields"):
                yield from parts_of(one)


def test_every_chance_lies_in_its_range_and_says_what_it_rests_on(findings):
    chances = [part for part in parts_of(findings) if isinstance(part, Chance)]
    assert len(chances) > 50
    assert all(one.low <= one.value <= one.high and one.basis for one in chances)


def test_no_number_stands_bare_but_points_and_counts(findings):
    own = [part for part in parts_of(findings) if type(part).__module__ == "swabwright.case.findings"]
    bare = {name for part in own for name in type(part).model_fields if isinstance(getattr(part, name), float)}
    assert bare <= NO_CHANCE


def test_the_range_names_what_it_was_widened_by(findings):
    basis = findings.places[0].niche_here.basis
    assert all(words in basis for words in ("recovery low", "recovery high", "0 in 100 of the prior even"))


def test_a_range_on_few_histories_says_that_it_is_uncertain(findings):
    basis = findings.places[0].niche_here.basis
    assert basis.startswith("range uncertain: the results leave ")
    assert any(one.startswith("Take the range with caution: the results leave") for one in findings.sentences)


def test_the_document_is_read_back_as_it_was_written(findings):
    assert read_document(Findings, readable_json(findings).decode(), "findings.json") == findings


def test_the_order_of_results_changes_nothing(findings):
    assert findings_tiny(FOUND, SILENT, change=lambda results: results[::-1]) == findings


def test_relabelling_sites_permutes_the_answer(findings):
    sites = tiny_sites()
    turned = [site.model_copy(update={"code": f"T{7 - at}"}) for at, site in enumerate(sites)]
    touches = {"workstations": ()}
    plain = findings_tiny(FOUND, SILENT, opened=opened_tiny(tiny_plant(**touches)))
    other = findings_tiny(FOUND, SILENT, opened=opened_tiny(tiny_plant(sites=tuple(turned[::-1]), **touches)))
    renamed = {old.code: new.code for old, new in zip(sites, turned, strict=True)}
    assert {renamed.get(one.place, one.place): one.niche_here.value for one in plain.places} == {
        one.place: one.niche_here.value for one in other.places
    }


def test_repeats_at_one_site_say_less_and_less():
    def after(times):
        def repeated(results):
            return [replace(one, sample=f"{one.sample}, {at}") for one in results for at in range(times)]

        read = read_tiny((), (3,), change=repeated)
        return read.after.marginal[read.spots.at("S003")]

    once, twice, four = after(1), after(2), after(4)
    assert 0 <= once - twice <= after(0) - once
    assert (twice - four) / 2 <= once - twice


def test_findings_say_which_record_and_prior_they_go_by(findings):
    again = compose_findings(read_tiny(FOUND, SILENT), told(head="a" * 64, strain="ST9"))
    assert (again.hashes.record_head, again.strain) == ("a" * 64, "ST9")
    assert again.places == findings.places
    assert findings.prior_set_by == "by the catalogue, unconfirmed"
