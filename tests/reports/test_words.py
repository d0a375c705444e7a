"""What the papers say, before it is set: each sentence agrees with the plan that it speaks of."""

import pytest
from builders.papers import at, chance, investigation, plan
from builders.smokehouse import smokehouse

from swabwright.case.plan import Chance, PlanWarning, Presence
from swabwright.errors import SwabwrightError
from swabwright.planning.clock_words import BY_MECHANIC, ISOLATED
from swabwright.reports.closing_words import believed_rows, believed_words, made_from, not_said, rests_words
from swabwright.reports.first_page_words import curve_alt, dots_in_words, finding, limits_words, not_detected, tens_alt
from swabwright.reports.label_words import label_words
from swabwright.reports.mark_pictures import key_marks, mark_name, mark_pictures, marks_of
from swabwright.reports.marks import Mark
from swabwright.reports.plan_words import key_words, plan_words
from swabwright.reports.safety_words import hold_words, safety_words, stop_words, warning_rows
from swabwright.reports.sheet_words import device_name, sample_words, sentence, walk_words
from swabwright.reports.typesetting import pdf
from swabwright.reports.views import enlarged_rooms, orders_by_room, whole_plant

PLANT = smokehouse()
PLAN = plan(PLANT)
CASE = investigation()
VISIT = CASE.visits[0]


def said(parts):
    return "".join(part["text"] for part in parts)


def presence(before, after):
    """What silence would mean, as two bare chances."""
    return Presence(
        **{
            name: Chance(value=value, low=value, high=value, basis="told")
            for name, value in (("before", before), ("after", after))
        }
    )


def only(**more):
    return PLAN.model_copy(update=more)


def test_the_finding_says_chance_range_and_bound():
    assert said(finding(PLAN)) == (
        "If it lives in this plant, these 38 samples find it with a chance of 91 in 100 (84 to 95). "
        "Under these assumptions no choice of 38 sites does better than 93."
    )


def test_only_the_figures_of_the_finding_are_bold():
    assert [part["text"] for part in finding(PLAN) if part["bold"]] == ["91 in 100", "93"]


def test_silence_is_never_said_to_prove_absence():
    assert said(not_detected(PLAN)).startswith("Not detected in all 38 would not mean that it is not there")


def test_controls_are_not_counted_as_samples_that_find():
    assert "40 containers" in limits_words(PLAN, VISIT)
    assert "2 of the 40 are controls; 6 more are kept" in limits_words(PLAN, VISIT)


def test_one_person_alone_is_a_person():
    alone = VISIT.model_copy(update={"limits": VISIT.limits.model_copy(update={"people_per_team": 1})})
    assert "with 1 person between 09:00 and 13:00" in limits_words(PLAN, alone)


def test_the_dots_in_words_add_to_a_thousand():
    counts = [int(word) for word in dots_in_words(PLAN).replace(",000", "000").split() if word.isdigit()]
    assert counts[0] == 1000
    assert sum(counts[1:]) == 1000


def test_pictures_are_told_to_who_cannot_see_them():
    assert "10 samples 58 in 100" in curve_alt(PLAN)
    assert tens_alt(PLAN) == "Two squares of a hundred: 78 filled before, 24 after."


def test_every_site_with_dots_is_listed_most_first():
    rows = believed_rows(PLAN.believed)
    assert [row["dots"] for row in rows] == sorted((row["dots"] for row in rows), reverse=True)
    assert sum(row["dots"] for row in rows) == 1000
    assert next(row for row in rows if "line" in row["name"])["place"] == ""


def test_places_without_dots_are_counted():
    none = PLAN.believed[0].model_copy(update={"dots": 0})
    assert "1 place got none: under 1 in 2,000" in believed_words(only(believed=(*PLAN.believed, none)))


def test_who_set_the_prior_is_named():
    assert "78 in 100, set by H. Okafor" in rests_words(PLAN, CASE)


def test_one_unconfirmed_figure_has_been_confirmed_by_nobody():
    assert "1 figure below has been confirmed by nobody" in rests_words(only(rests_on=PLAN.rests_on[:1]), CASE)


def test_what_went_in_is_named_by_its_fingerprints():
    assert "seed 7" in made_from(PLAN)
    assert "overrides none" in made_from(PLAN)


def test_a_plan_releases_no_product():
    assert "it releases no product and holds none" in not_said(PLAN)[0]


def test_warnings_name_the_order_of_work_not_the_code():
    rows = warning_rows(PLAN, "safety")
    assert rows[0]["samples"] == "samples 5, 7, 16"
    assert rows[1]["samples"] == "samples 25"


def test_a_kind_without_warnings_has_no_heading():
    assert "What we were not told" not in [group["title"] for group in safety_words(PLAN)["groups"]]
    told = only(warnings=(PlanWarning(kind="data", text="No chemical is named."),))
    assert [group["title"] for group in safety_words(told)["groups"]] == ["What we were not told"]


def test_the_cautions_defer_to_the_site():
    assert "do not replace the site's safety rules, local codes or licensed practice" in safety_words(PLAN)["defers"]


def test_product_is_asked_about_before_the_first_surface_that_touches_it():
    assert hold_words(PLAN).startswith("Samples 1 to 6, 10 to 14 touch surfaces that touch product.")
    floor = only(samples=tuple(s for s in PLAN.samples if s.zone not in (1, None)), warnings=())
    assert hold_words(floor) == "No sample touches a surface that touches product."


def test_only_stops_agreed_for_the_day_are_printed():
    assert [stop["when"] for stop in stop_words(PLAN, PLANT)] == ["10:00 to 10:40"] * 2
    assert stop_words(only(visit_date=PLAN.visit_date.replace(day=6)), PLANT) == []


def test_the_walk_sheet_takes_rooms_in_order_of_work():
    rooms = [room["name"] for room in walk_words(PLAN, PLANT)]
    assert rooms[:3] == ["Slicing and packing", "Finished cold store", "Chill store"]
    assert rooms[-1] == "Waste"


def test_a_wait_is_said_at_the_sample_that_waits():
    fifth = walk_words(PLAN, PLANT)[0]["samples"][4]
    assert fifth["wait"] == "wait 6 minutes: agreed stop of line A"


def test_a_machine_that_is_opened_says_by_whom():
    opened = PLAN.samples[4].model_copy(update={"mode": "opened"})
    assert sample_words(opened)["how"].endswith("Opened up by plant staff.")


def test_a_duplicate_names_its_site_once_more():
    again = PLAN.samples[0].model_copy(update={"kind": "duplicate"})
    assert sample_words(again)["site"] == "Packer A, outfeed belt, once more"


@pytest.mark.parametrize(("words", "written"), [("all of it", "All of it."), ("The seam.", "The seam.")])
def test_words_become_one_sentence(words, written):
    assert sentence(words) == written


def test_a_device_is_called_by_its_name_and_an_unknown_one_by_its_code():
    assert device_name("SH") == "sponge on a handle"
    assert device_name("QQ") == "QQ"


def test_the_key_holds_each_zone_and_device_once():
    words = [entry["words"] for entry in key_words(PLAN)]
    assert words[:4] == ["Z1 touches product", "Z2 next to product", "Z3 same room", "Z4 outside it"]
    assert len(words) == len(set(words)) == 9


def test_every_mark_that_a_paper_shows_has_its_picture():
    pictures = mark_pictures(PLAN)
    assert {mark_name(mark) for mark in (*marks_of(PLAN), *key_marks(PLAN))} == set(pictures)
    assert all(svg.startswith("<svg") for svg in pictures.values())


def test_marks_grow_by_a_ring_a_zone_and_a_blank_has_none():
    radii = [Mark("SP", zone).radius_mm() for zone in range(5)]
    assert radii == sorted(radii)
    assert Mark("SH", 2).stick_mm() > Mark("SP", 2).stick_mm() == 0.0


def test_labels_carry_spares_without_an_order_of_work():
    words = label_words(PLAN, PLANT, CASE)
    assert [label["order"] for label in words["labels"]][-6:] == [""] * 6
    assert "Juniper" not in words["head"]


def test_the_foot_says_simulated_plants_only():
    assert plan_words(PLAN, PLANT, CASE)["foot"]["middle"].endswith("tested on simulated plants only")


def test_samples_of_a_room_are_listed_by_order():
    orders = orders_by_room(PLAN.samples)
    assert orders["cold"] == [29, 30]
    assert 20 not in orders["slicing"]


def test_each_room_with_samples_is_enlarged_in_order_of_work():
    views = enlarged_rooms(PLAN, PLANT, (184.0, 232.0))
    assert [view.rooms[0].id for view in views][:2] == ["slicing", "cold"]
    assert sum(len(view.stops) for view in views) == len(whole_plant(PLAN, PLANT, (170.0, 130.0)).stops)


def test_a_fault_of_the_template_is_told_and_not_printed():
    with pytest.raises(SwabwrightError, match="the papers cannot be set"):
        pdf("labels.typ", {"title": "no labels"}, {})


def test_a_chance_carries_its_range_into_the_sentence():
    sure = only(not_detected_means=PLAN.not_detected_means.model_copy(update={"after": low_chance()}))
    assert "less than 1 in 100 (less than 1 to 2)" in said(not_detected(sure))


def low_chance():
    return PLAN.chance_of_finding.model_copy(update=chance(0.004, 0.001, 0.02))


def test_the_clock_keeps_the_offset_of_the_plant():
    assert sample_words(PLAN.samples[0].model_copy(update={"arrive_at": at("09:11")}))["at"] == "09:11"


def test_product_is_asked_about_only_once():
    assert "is product held" not in hold_words(PLAN)
    assert "is product held" in hold_words(only(warnings=()))


def test_the_same_silence_is_told_under_two_other_priors():
    told = rests_words(only(not_detected_means=presence(before=0.75, after=0.5)), CASE)
    # odds 3 fall to 1, a third; even odds then to 1 in 4, nine to one to 3 in 4
    assert "is then 50 in 100; set at 50 instead, 25; set at 90 instead, 75; under these assumptions" in told


def test_a_prior_without_doubt_has_no_other_reading():
    assert "instead" not in rests_words(only(not_detected_means=presence(before=1.0, after=1.0)), CASE)


def test_who_isolates_and_who_puts_together_again_is_written_on_the_walk_sheet():
    stopped = PLAN.samples[1].model_copy(update={"needs": (ISOLATED, BY_MECHANIC)})
    assert (sample_words(stopped)["isolated"], sample_words(stopped)["opened"]) == (True, True)
    plain = stopped.model_copy(update={"needs": ()})
    assert (sample_words(plain)["isolated"], sample_words(plain)["opened"]) == (False, False)


def test_a_range_that_may_be_off_and_a_bound_that_bounds_nothing_are_told_on_the_first_page():
    found = PLAN.chance_of_finding.model_copy(update={"basis": "range uncertain: the facts leave 2.0 copies; bank B"})
    told = said(finding(only(chance_of_finding=found, upper_bound=0.999)))
    assert "How much better another choice of 38 sites could be cannot be said." in told
    assert told.endswith("Take the range with caution: the facts leave 2.0 copies.")


def test_a_caution_names_the_duplicate_too():
    first = next(sample for sample in PLAN.samples if sample.site == "S024")
    again = first.model_copy(update={"order": first.order + 100, "kind": "duplicate"})
    rows = warning_rows(only(samples=(*PLAN.samples, again)), "safety")
    assert rows[1]["samples"] == f"samples {first.order}, {again.order}"
