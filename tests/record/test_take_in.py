"""Statements of phones taken in from a file: each once, in any order of lines, all or none, what is missing named."""

import json

import pytest
from builders.console import printed
from builders.grounds import GROUND
from builders.statements import NUMBERS, Phone
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.case.canonical import bytes_hash
from swabwright.errors import DocumentRefused, SwabwrightError
from swabwright.record.chain import StatementRefused
from swabwright.record.journal import open_journal, read_record
from swabwright.record.spelling import statement_bytes
from swabwright.record.verify import verify_record
from swabwright.work.record_take_in import take_in

A = NUMBERS[0]


@pytest.fixture
def case(tmp_path):
    (tmp_path / "case").mkdir()
    (tmp_path / "case/investigation.json").write_text("{}")
    return tmp_path / "case"


def written(case, *statements, name="phone.jsonl"):
    file = case.parent / name
    file.write_bytes(b"".join(statement_bytes(one) + b"\n" for one in statements))
    return file


def said(phone, count):
    return [phone.notes(f"mark {number}") for number in range(count)]


def test_every_statement_of_a_file_is_entered_once(case):
    file = written(case, *said(Phone("phone-a"), 3))
    assert take_in(case, file).entered == (1, 2, 3)
    again = take_in(case, file)
    assert (again.entered, again.already) == ((), 3)
    assert verify_record(case).entries == 3


@settings(deadline=None, derandomize=True, max_examples=40)
@given(st.data())
def test_repeats_and_another_order_of_lines_make_the_same_record(tmp_path_factory, data):
    statements = said(Phone("phone-a"), 4) + said(Phone("phone-b"), 3)
    lines = data.draw(st.permutations(statements + data.draw(st.lists(st.sampled_from(statements), max_size=5))))
    case = tmp_path_factory.mktemp("case")
    (case / "investigation.json").write_text("{}")
    file = case / "phones.jsonl"
    file.write_bytes(b"\n".join(map(statement_bytes, lines)))
    taken = take_in(case, file)
    assert (taken.entered, taken.already) == ((1, 2, 3, 4, 5, 6, 7), 0)
    made = [entry.statement for entry in read_record(case)]
    assert made == sorted(statements, key=lambda one: (one.sequence, one.device))


def test_what_was_there_before_is_counted_and_not_repeated(case):
    statements = said(Phone("phone-a"), 4)
    take_in(case, written(case, *statements[:2]))
    taken = take_in(case, written(case, *statements))
    assert (taken.entered, taken.already) == ((3, 4), 2)
    assert taken.sentence.startswith("Taken in: 2 statements of phone-a, 2 were here already. Hash of the record now: ")


def test_a_gap_is_named_and_nothing_entered(case):
    first, *_, last = said(Phone("phone-a"), 4)
    others = said(Phone("phone-b"), 2)
    with pytest.raises(StatementRefused, match="phone-a sends its statement 4, but statements 2 to 3 are not here"):
        take_in(case, written(case, first, last, *others))
    assert read_record(case) == ()


def test_a_phone_that_was_set_back_is_refused(case):
    take_in(case, written(case, *said(Phone("phone-a"), 2)))
    other = Phone("phone-a").says("marks", site="S014", marks=["dry"]).model_copy(update={"id": "f" * 32})
    with pytest.raises(StatementRefused, match="set back needs a new name"):
        take_in(case, written(case, other))


def test_a_statement_altered_on_the_way_is_refused(case):
    first, second = said(Phone("phone-a"), 2)
    with pytest.raises(StatementRefused):
        take_in(case, written(case, first.model_copy(update={"by": "Bo Holm"}), second))
    assert read_record(case) == ()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (b'{"id": \n', "phone.jsonl: line 1: line 1, column"),
        (b"[]\n", "phone.jsonl: line 1: must be one object"),
        (b'\n{"id": "x"}\n', "phone.jsonl: line 2: "),
        (b"\n\n", "phone.jsonl: holds no statement"),
        (b"\xff\n", "phone.jsonl: is not UTF-8 text"),
    ],
)
def test_a_line_that_is_no_statement_is_named(case, text, says):
    file = case.parent / "phone.jsonl"
    file.write_bytes(text)
    with pytest.raises(DocumentRefused) as caught:
        take_in(case, file)
    assert says in str(caught.value)


def test_a_torn_last_line_keeps_the_whole_file_out(case):
    file = written(case, *said(Phone("phone-a"), 2))
    file.write_bytes(file.read_bytes()[:-20])
    with pytest.raises(DocumentRefused, match="line 2"):
        take_in(case, file)
    assert not (case / "record.jsonl").exists()


def photographed(content):
    file = {"sha256": bytes_hash(content), "ending": "jpg", "size_bytes": len(content)}
    return Phone("phone-a").says("photograph", file=file, view="wide", shows="a drain")


def test_photographs_come_along_by_their_bytes_whatever_their_name(case, tmp_path):
    (tmp_path / "photographs").mkdir()
    (tmp_path / "photographs/IMG_1.JPEG").write_bytes(b"invented")
    take_in(case, written(case, photographed(b"invented")), tmp_path / "photographs")
    assert verify_record(case).files == 1


def test_a_photograph_that_is_missing_is_named_and_nothing_entered(case, tmp_path):
    statement = photographed(b"another")
    with pytest.raises(DocumentRefused) as caught:
        take_in(case, written(case, statement), tmp_path)
    assert statement.body.file.name in str(caught.value)
    assert read_record(case) == ()


def test_what_contradicts_is_entered_and_told(case):
    take_in(case, written(case, Phone("phone-a").collects(A)))
    taken = take_in(case, written(case, Phone("phone-b", by="Bo Holm").collects(A)))
    assert "Contradiction in entry 2: sample " + A + " was collected already (entry 1)" in taken.sentence
    assert take_in(case, written(case, *said(Phone("phone-c"), 1))).contradictions == ()


def test_a_start_that_comes_in_later_tells_of_the_sample_entered_before(case):
    stopped, sampler, starter = Phone("phone-a"), Phone("phone-b"), Phone("phone-c")
    seen = stopped.says("stop_seen", line="slicing", stopped_by="Shift lead", seen_by="Ada Lind")
    first = sampler.notes()
    sample = {"sample": A, "sample_kind": "surface", "site": "S004", "device": "SP"}
    assert (
        take_in(case, written(case, seen, first, sampler.says("collected", **sample)), None, GROUND).contradictions
        == ()
    )
    started = starter.says("line_started", line="slicing", happened_at="2026-03-05T09:00:02+01:00")
    (told,) = take_in(case, written(case, started), None, GROUND).contradictions
    assert (told.entry, "needs line slicing to stand" in told.words) == (3, True)


def test_a_folder_that_is_no_case_is_refused(tmp_path):
    with pytest.raises(SwabwrightError, match=r"has no investigation\.json"):
        take_in(tmp_path, written(tmp_path / "x", *said(Phone("phone-a"), 1)))


def test_the_command_says_what_was_taken_in(case):
    file = written(case, *said(Phone("phone-a"), 1))
    assert printed(f"swabwright record take-in {case} {file}").startswith("Taken in: 1 statement of phone-a. Hash of")


def test_a_desk_entry_follows_what_was_taken_in(case):
    with open_journal(case) as journal:
        journal.add_all(said(Phone("office-1"), 1))
    take_in(case, written(case, *said(Phone("phone-a"), 2)))
    fields = json.dumps({"site": "S014", "marks": ["wet"]})
    printed(f"swabwright record add {case} marks '{fields}' --by 'Ada Lind' --on office-1")
    assert [entry.statement.device for entry in read_record(case)] == ["office-1", "phone-a", "phone-a", "office-1"]
