"""Preliminary, final and amended words about one sample: which may follow which, and when analysis started."""

import pytest
from builders.statements import NUMBERS, Phone

from swabwright.plant.registry import load_figures
from swabwright.record.deadline import deadlines
from swabwright.record.entry import Entry
from swabwright.record.rules import EntryRefused, check_new
from swabwright.record.values import NO_HASH

A = NUMBERS[0]
TEST = {"sample": A, "organism": "Listeria monocytogenes", "method": "culture"}
HASHES = {"preliminary": "1" * 64, "final": "2" * 64, "amended": "3" * 64, "second final": "4" * 64}
NOON = 1772712000


class Desk:
    """Entries of one desk, one after another."""

    def __init__(self):
        self.phone, self.entries = Phone("office-1"), []

    def says(self, kind, **fields):
        statement = self.phone.says(kind, **fields)
        head = {"format": "swabwright/entry", "version": 1, "previous": NO_HASH, "hash": NO_HASH}
        self.entries.append(Entry(**head, number=len(self.entries) + 1, statement=statement))
        return statement.id

    def reports(self, name):
        """A report of this status; its hash."""
        file = {"sha256": HASHES[name], "ending": "pdf", "size_bytes": 1}
        told = {"laboratory": "State laboratory", "accession": "L-9", "authorised_by": "Dr Fay Oka"}
        self.says("report_received", file=file, status=name.split()[-1], **told)
        return HASHES[name]

    def result(self, name, **fields):
        """A result of a report that is entered before it; its id."""
        return self.says("result", outcome="presumptive", report=self.reports(name), **TEST, **fields)

    def amends(self, identity, **fields):
        """An amended result in place of the entry."""
        digest, why = self.reports("amended"), "a slip of the pen"
        return self.says(
            "amended_result", amends=identity, outcome="detected", report=digest, reason=why, **TEST, **fields
        )

    def refusal(self, name, **fields):
        """Why a result of a further report is refused; empty when it is not."""
        said = {**TEST, "outcome": "detected", "report": HASHES[name], **fields}
        try:
            check_new(self.entries, Phone("office-2").says("result", **said))
        except EntryRefused as refused:
            return str(refused)
        return ""

    def started(self):
        """When analysis started, as the deadline clock reads it."""
        self.says("collected", sample=A, sample_kind="surface", device="SP", zone=3)
        return deadlines(self.entries, load_figures(), NOON)[A].analysis_started_at


def at(hour):
    return f"2026-03-06T{hour:02}:00:00+01:00"


@pytest.mark.parametrize(
    ("first", "then", "words"),
    [
        ("preliminary", "final", ""),
        ("final", "preliminary", ""),
        ("final", "second final", "has its result in entry 2; only an amended report changes it"),
        ("final", "final", "has its result in entry 2; only an amended report changes it"),
        ("preliminary", "preliminary", "has its result in entry 2; only an amended report changes it"),
        ("final", "amended", "has its result in entry 2; enter amended_result beside it"),
        ("preliminary", "amended", "has its result in entry 2; enter amended_result beside it"),
    ],
)
def test_which_result_may_follow_which(first, then, words):
    desk = Desk()
    desk.result(first)
    desk.reports(then)
    said = desk.refusal(then)
    assert words in said
    assert bool(words) == bool(said)


def test_a_second_final_is_refused_when_a_preliminary_one_came_first():
    desk = Desk()
    desk.result("preliminary")
    desk.result("final")
    desk.reports("second final")
    assert "entry 4" in desk.refusal("second final")


@pytest.mark.parametrize("other", [{"method": "screen"}, {"organism": "Salmonella"}, {"sample": NUMBERS[1]}])
def test_another_method_organism_or_sample_has_a_result_of_its_own(other):
    desk = Desk()
    desk.result("final")
    desk.reports("second final")
    assert desk.refusal("second final", **other) == ""


def test_an_amended_report_tells_when_analysis_started():
    desk = Desk()
    desk.amends(desk.result("final"), analysis_started_at=at(10))
    assert desk.started() == at(10)


def test_an_amended_start_stands_in_place_of_the_first_even_when_it_is_later():
    desk = Desk()
    desk.amends(desk.result("final", analysis_started_at=at(8)), analysis_started_at=at(10))
    assert desk.started() == at(10)


def test_an_amendment_that_is_silent_about_the_start_leaves_it():
    desk = Desk()
    desk.amends(desk.result("final", analysis_started_at=at(8)))
    assert desk.started() == at(8)


def test_of_several_tests_the_first_to_start_still_ends_the_wait():
    desk = Desk()
    desk.result("preliminary", analysis_started_at=at(7))
    desk.amends(desk.result("final", analysis_started_at=at(6)), analysis_started_at=at(10))
    assert desk.started() == at(7)
