"""The record on disk: adding, sending again, gaps, torn ends, two writers."""

import os

import pytest
from builders.statements import Phone

from swabwright.errors import SwabwrightError
from swabwright.record.chain import StatementRefused
from swabwright.record.journal import RECORD_FILE, open_journal, read_record


def test_what_was_added_is_read_back_in_order(tmp_path):
    phone = Phone("phone-a")
    said = [phone.notes(), phone.notes("cracked")]
    with open_journal(tmp_path) as journal:
        answers = [journal.add(one) for one in said]
    assert [entry.statement for entry in read_record(tmp_path)] == said
    assert [answer.number for answer in answers] == [1, 2]


def test_a_statement_sent_again_is_acknowledged_and_not_repeated(tmp_path):
    statement = Phone("phone-a").notes()
    with open_journal(tmp_path) as journal:
        journal.add(statement)
    with open_journal(tmp_path) as journal:
        assert journal.add(statement).already
    assert len(read_record(tmp_path)) == 1


def test_an_id_used_again_for_other_content_is_refused(tmp_path):
    statement = Phone("phone-a").notes()
    with open_journal(tmp_path) as journal:
        journal.add(statement)
        with pytest.raises(StatementRefused, match="is entry 1 already, with other content"):
            journal.add(statement.model_copy(update={"by": "Bo Holm"}))


def test_a_gap_in_a_phones_statements_is_refused_by_number(tmp_path):
    phone = Phone("phone-a")
    first, _, _, fourth = [phone.notes() for _ in range(4)]
    with open_journal(tmp_path) as journal:
        journal.add(first)
        with pytest.raises(StatementRefused, match="sends its statement 4, but statements 2 to 3 are not here yet"):
            journal.add(fourth)
        assert journal.chains.number == 1


def test_a_phone_that_was_set_back_needs_a_new_name(tmp_path):
    with open_journal(tmp_path) as journal:
        journal.add(Phone("phone-a").notes())
        other = Phone("phone-a").notes("dripping").model_copy(update={"id": "0" * 32})
        with pytest.raises(StatementRefused, match="needs a new name"):
            journal.add(other)


def test_of_statements_added_together_all_or_none_are_written(tmp_path):
    phone = Phone("phone-a")
    first, _, third = [phone.notes() for _ in range(3)]
    with open_journal(tmp_path) as journal, pytest.raises(StatementRefused, match="statement 2 is not here yet"):
        journal.add_all([first, third])
    assert read_record(tmp_path) == ()


def test_a_torn_last_line_is_set_aside_and_kept(tmp_path):
    phone = Phone("phone-a")
    with open_journal(tmp_path) as journal:
        journal.add(phone.notes())
    with (tmp_path / RECORD_FILE).open("ab") as file:
        file.write(b'{"format":"swabwr')
    assert len(read_record(tmp_path)) == 1
    with open_journal(tmp_path) as journal:
        assert journal.set_aside.read_bytes() == b'{"format":"swabwr'
        journal.add(phone.notes())
    assert len(read_record(tmp_path)) == 2


def test_a_second_writer_is_refused_while_the_first_writes(tmp_path):
    with (
        open_journal(tmp_path),
        pytest.raises(SwabwrightError, match="written by another process"),
        open_journal(tmp_path),
    ):
        pass


def test_a_full_disk_enters_nothing_and_the_next_entry_stands_whole(tmp_path, monkeypatch):
    phone = Phone("phone-a")
    first, second = phone.notes(), phone.notes()
    with open_journal(tmp_path) as journal:
        journal.add(first)
        with monkeypatch.context() as full:
            full.setattr(os, "fsync", no_space)
            with pytest.raises(SwabwrightError, match="nothing was entered"):
                journal.add(second)
        assert not journal.add(second).already
    assert len(read_record(tmp_path)) == 2


def no_space(_handle):
    raise OSError(28, "No space left on device")
