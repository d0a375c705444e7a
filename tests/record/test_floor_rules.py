"""Product answered for per line, stops seen before a sample: refused at the desk, told of what phones stated."""

import pytest
from builders.grounds import GROUND
from builders.statements import NUMBERS, Phone
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.record.entry import Entry
from swabwright.record.floor_rules import floor_contradictions
from swabwright.record.ground import UNKNOWN_GROUND
from swabwright.record.rules import EntryRefused, check_new
from swabwright.record.values import NO_HASH

A = NUMBERS[0]
MORNING = "2026-03-05T{}:00+01:00"
HOLD = {"answered_by": "Plant manager", "answer": "held"}
SEEN = {"stopped_by": "Shift lead", "seen_by": "Ada Lind"}
SAID = {
    "held": ("hold_answered", {"line": "slicing", **HOLD}),
    "other held": ("hold_answered", {"line": "packing", **HOLD}),
    "no answer": ("hold_answered", {"line": "slicing", **HOLD, "answer": "refused_to_answer"}),
    "refused": ("refusal", {"of": "hold", "refused_by": "Plant manager", "words": "no"}),
    "line refused": ("refusal", {"of": "hold", "refused_by": "Plant manager", "words": "no", "line": "slicing"}),
    "other refused": ("refusal", {"of": "hold", "refused_by": "Plant manager", "words": "no", "site": "S002"}),
    "entry refused": ("refusal", {"of": "entry", "refused_by": "Plant manager", "words": "no"}),
    "stop": ("stop_seen", {"line": "slicing", **SEEN}),
    "other stop": ("stop_seen", {"line": "packing", **SEEN}),
    "site stop": ("stop_seen", {"line": "packing", "site": "S006", **SEEN}),
    "odd stop": ("stop_seen", {"line": "packing", "site": "S004", **SEEN}),
    "isolated": ("stop_seen", {"line": "slicing", "isolated_by": "Mechanic", "site": "S005", **SEEN}),
    "line isolated": ("stop_seen", {"line": "slicing", "isolated_by": "Mechanic", **SEEN}),
    "start": ("line_started", {"line": "slicing"}),
    "other start": ("line_started", {"line": "packing"}),
}


def at(when):
    """A full time of '09:30' on the day, or of '06T09:30' on another."""
    day, _, clock = when.rpartition("T")
    return MORNING.format(clock) if not day else f"2026-03-{day}T{clock}:00+01:00"


def entries(*said):
    """Entries of (what, when); they need not follow each other in time."""
    phone, made = Phone("phone-a"), []
    for number, (what, when) in enumerate(said, 1):
        kind, fields = SAID[what] if isinstance(what, str) else ("collected", what)
        statement = phone.says(kind, **fields).model_copy(update={"at": at(when)})
        made.append(
            Entry(
                format="swabwright/entry",
                version=1,
                number=number,
                previous=NO_HASH,
                statement=statement,
                hash=NO_HASH,
            )
        )
    return made


def sample(site, **fields):
    return {"sample": A, "sample_kind": "surface", "site": site, "device": "SP", **fields}


def refusal(said, taken, when="09:30", ground=GROUND):
    """Why the desk refuses the sample; empty when it does not."""
    statement = Phone("office-1").says("collected", **taken).model_copy(update={"at": at(when)})
    try:
        check_new(entries(*said), statement, ground)
    except EntryRefused as refused:
        return str(refused)
    return ""


@pytest.mark.parametrize("answer", ["held", "no answer", "refused", "line refused"])
def test_an_answer_or_refusal_for_its_line_lets_a_food_contact_sample_in(answer):
    assert refusal([(answer, "09:00")], sample("S001")) == ""


@pytest.mark.parametrize("answer", ["other held", "other refused", "entry refused"])
def test_an_answer_about_another_line_does_not(answer):
    said = refusal([(answer, "09:00")], sample("S001", zone=1))
    assert "nobody has answered whether product of line slicing is held" in said
    assert "enter hold_answered for line slicing, or refusal of hold, first" in said


def test_the_refusal_says_which_lines_were_answered_for():
    assert "is held (answered: packing);" in refusal([("other held", "09:00")], sample("S001"))


def test_the_plant_s_zone_counts_when_the_entry_names_a_lower_one():
    assert "touches food" in refusal([], sample("S001", zone=3))


@pytest.mark.parametrize("taken", [sample("S005"), sample("S001", sample_kind="blank", zone=1)])
def test_what_touches_no_food_waits_for_no_answer(taken):
    assert refusal([], taken) == ""


@pytest.mark.parametrize("site", ["S003", "S099"])
def test_a_site_on_no_known_line_takes_any_line_s_answer(site):
    assert "whether product is held; enter hold_answered," in refusal([], sample(site, zone=1))
    assert refusal([("other held", "09:00")], sample(site, zone=1)) == ""


@pytest.mark.parametrize("when", ["04T09:00", "09:31"])
def test_an_answer_of_an_earlier_day_or_after_the_entry_does_not_count(when):
    assert "line slicing" in refusal([("held", when)], sample("S001"))


def test_an_answer_of_the_same_visit_counts_past_midnight():
    assert refusal([("held", "05T21:30")], sample("S001"), "06T01:00") == ""
    assert "line slicing" in refusal([("held", "05T20:30")], sample("S001"), "06T01:00")


def test_a_day_is_the_plant_s_day():
    # Half past midnight three hours east of Greenwich is 22:30 of the day before at the plant.
    taken = sample("S001", taken_at="2026-03-06T00:30:00+03:00")
    assert refusal([("held", "04T23:00")], taken, "06T09:00") != ""
    assert refusal([("held", "05T08:00")], taken, "06T09:00") == ""


def test_a_sample_entered_later_takes_an_answer_given_in_between():
    taken = sample("S001", taken_at=at("09:30"))
    assert refusal([("held", "06T08:00")], taken, "06T09:00") == ""


def test_a_site_that_needs_its_line_to_stand_needs_the_stop_seen():
    said = refusal([], sample("S004"))
    assert "sample " + A + " at S004 needs line slicing to stand, and no stop_seen says so" in said
    assert "sample another site, or enter stop_seen first" in said
    assert refusal([("stop", "09:00")], sample("S004")) == ""


@pytest.mark.parametrize(
    "said",
    [
        [("other stop", "09:00")],
        [("stop", "09:31")],
        [("stop", "04T09:00")],
        [("stop", "09:00"), ("start", "09:20")],
        [("start", "09:20"), ("stop", "09:00")],
        [("stop", "09:00"), ("start", "09:00")],
        [("stop", "09:00"), ("start", "09:30")],
    ],
)
def test_a_stop_elsewhere_later_yesterday_or_ended_does_not_count(said):
    assert "needs line slicing to stand" in refusal(said, sample("S004"))


@pytest.mark.parametrize(
    "said",
    [
        [("stop", "09:00"), ("other start", "09:20")],
        [("stop", "09:00"), ("start", "09:40")],
        [("start", "08:00"), ("stop", "09:00")],
        [("stop", "08:00"), ("start", "08:30"), ("stop", "09:00")],
        [("stop", "09:30")],
    ],
)
def test_a_stop_lasts_until_its_own_line_starts(said):
    assert refusal(said, sample("S004")) == ""


def test_a_start_that_happened_before_it_was_entered_counts_from_when_it_happened():
    late = {"line": "slicing", "happened_at": at("09:20")}
    said = entries(("stop", "09:00"))
    start = Phone("phone-b").says("line_started", **late).model_copy(update={"at": at("10:00")})
    said.append(said[0].model_copy(update={"number": 2, "statement": start}))
    taken = sample("S004", taken_at=at("09:30"))
    statement = Phone("office-1").says("collected", **taken).model_copy(update={"at": at("10:30")})
    with pytest.raises(EntryRefused, match="line slicing to stand"):
        check_new(said, statement, GROUND)


def test_opened_up_asks_for_isolation_seen_at_this_site_or_on_the_whole_line():
    opened = sample("S005", opened_up=True)
    assert "needs isolation by plant staff" in refusal([("stop", "09:00")], opened)
    assert refusal([("isolated", "09:00")], opened) == refusal([("line isolated", "09:00")], opened) == ""


def test_isolation_of_one_machine_is_not_isolation_of_another():
    said = [("isolated", "09:00")]
    assert "at S004 needs isolation" in refusal(said, sample("S004", opened_up=True))
    assert refusal(said, sample("S004")) == ""


def test_a_site_on_no_line_needs_a_stop_that_names_it():
    assert "needs its machine to stand" in refusal([("stop", "09:00")], sample("S006"))
    assert refusal([("site stop", "09:00")], sample("S006")) == ""


def test_a_stop_that_names_a_site_ends_when_the_line_it_names_starts():
    assert "to stand" in refusal([("site stop", "09:00"), ("other start", "09:10")], sample("S006"))


def test_a_stop_of_a_site_under_another_line_ends_when_the_site_s_own_line_starts():
    said = [("odd stop", "09:00")]
    assert refusal(said, sample("S004")) == ""
    assert "to stand" in refusal([*said, ("start", "09:10")], sample("S004"))


def test_a_blank_asks_for_no_stop():
    assert refusal([], sample("S004", sample_kind="blank")) == ""


def test_without_a_known_plant_no_stop_is_asked_for():
    assert refusal([], sample("S004"), ground=UNKNOWN_GROUND) == ""


def test_a_sample_taken_all_the_same_is_entered_with_its_reason_and_told():
    taken = sample("S004", without_stop="the line did not run that day")
    assert refusal([], taken) == ""
    (told,) = floor_contradictions(entries((taken, "09:30")), GROUND)
    assert told.words.endswith("taken all the same, because: the line did not run that day")


def test_what_is_done_is_told_without_advice_that_comes_too_late():
    taken = entries((sample("S004"), "09:30"), (sample("S001"), "09:40"))
    told = [one.words for one in floor_contradictions(taken, GROUND)]
    assert len(told) > 1
    assert [words for words in told if "first" in words or "sample another site" in words] == []
    assert "sample another site, or enter stop_seen first" in refusal([], sample("S004"))


def test_what_a_phone_stated_against_the_floor_is_told_by_its_entry():
    said = entries(("stop", "09:00"), ("start", "09:10"), (sample("S004"), "09:30"), (sample("S001"), "09:40"))
    assert [(one.entry, "stand" in one.words) for one in floor_contradictions(said, GROUND)] == [(3, True), (4, False)]


def test_a_stop_that_was_superseded_no_longer_counts():
    said = entries(("stop", "09:00"), (sample("S004"), "09:30"))
    assert floor_contradictions(said, GROUND) == ()
    undone = Phone("phone-b").says("superseded", entry=said[0].statement.id, reason="another line")
    said.append(said[0].model_copy(update={"number": 3, "statement": undone}))
    assert [one.entry for one in floor_contradictions(said, GROUND)] == [2]


@settings(deadline=None, derandomize=True, max_examples=80)
@given(st.data())
def test_the_order_in_which_phones_arrive_changes_nothing(data):
    clock = st.integers(0, 59).map(lambda minute: f"09:{minute:02}")
    what = st.sampled_from(sorted(SAID)) | st.sampled_from(["S001", "S004", "S005"]).map(sample)
    said = data.draw(st.lists(st.tuples(what, clock), max_size=8))
    shuffled = data.draw(st.permutations(said))

    def told(some):
        return sorted(one.words for one in floor_contradictions(entries(*some), GROUND))

    assert told(said) == told(shuffled)
