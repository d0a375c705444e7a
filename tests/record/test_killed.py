"""Killed between any two system calls: nothing acknowledged is lost, nothing half-written stays."""

import os
import signal

import pytest
from builders.statements import Phone

from swabwright.record.journal import RECORD_FILE, open_journal, read_record
from swabwright.record.spelling import statement_bytes
from swabwright.work.record_take_in import take_in

CALLS = ("open", "write", "fsync", "ftruncate", "close")
TORN = b'{"format":"swabwright/entry","hash":"'


def interrupt(monkeypatch, at):
    """Kill this process at its `at`-th system call on files: before it, or with half of the bytes written."""
    count = 0

    def wrapped(call):
        def run(*arguments):
            nonlocal count
            count += 1
            if count == at:
                if call is real_write:
                    call(arguments[0], arguments[1][: len(arguments[1]) // 2])
                os.kill(os.getpid(), signal.SIGKILL)
            return call(*arguments)

        return run

    real_write = os.write
    for name in CALLS:
        monkeypatch.setattr(os, name, wrapped(getattr(os, name)))


def child(monkeypatch, folder, at, acknowledgements):
    """Add eight statements, saying so through the pipe after each; killed on the way."""
    say = os.write
    phone = Phone("phone-a")
    interrupt(monkeypatch, at)
    with open_journal(folder) as journal:
        for number in range(1, 9):
            journal.add(phone.notes())
            say(acknowledgements, bytes([number]))


def taking_in(monkeypatch, folder, at, acknowledgements):
    """Take in a phone's file, saying so through the pipe once it is done; killed on the way."""
    say = os.write
    interrupt(monkeypatch, at)
    take_in(folder, folder / "phone.jsonl")
    say(acknowledgements, b"x")


def run_killed(monkeypatch, folder, at, child=child):
    """Acknowledged statements of a child that was killed at this call, and whether it was."""
    reading, writing = os.pipe()
    process = os.fork()
    if process == 0:
        try:
            child(monkeypatch, folder, at, writing)
        finally:
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        acknowledged = pipe.read()
    _, status = os.waitpid(process, 0)
    return len(acknowledged), os.WIFSIGNALED(status)


def whole_after(folder):
    """Statements in the record once the next writer has opened it; what lies there is whole, line by line."""
    with open_journal(folder) as journal:
        phone = Phone("phone-a")
        for _ in range(8):
            journal.add(phone.notes())
    assert (folder / RECORD_FILE).read_bytes().endswith(b"\n")
    return [entry.statement.sequence for entry in read_record(folder)]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
@pytest.mark.parametrize("torn", [b"", TORN])
def test_killed_at_every_point_loses_nothing_acknowledged(tmp_path, monkeypatch, torn):
    points = 0
    while True:
        folder = tmp_path / str(points)
        folder.mkdir()
        if torn:
            (folder / RECORD_FILE).write_bytes(torn)
        acknowledged, killed = run_killed(monkeypatch, folder, points + 1)
        assert len(read_record(folder)) >= acknowledged
        assert whole_after(folder) == list(range(1, 9))
        if not killed:
            break
        points += 1
    assert points >= 20
    assert acknowledged == 8


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
def test_a_torn_end_is_kept_beside_wherever_setting_it_aside_was_killed(tmp_path, monkeypatch):
    for at in range(1, 13):
        folder = tmp_path / str(at)
        folder.mkdir()
        (folder / RECORD_FILE).write_bytes(TORN)
        run_killed(monkeypatch, folder, at)
        whole_after(folder)
        assert [file.read_bytes() for file in folder.glob("record.torn-*") if file.read_bytes() == TORN] == [TORN]


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
def test_a_file_whose_taking_in_was_killed_is_entered_once_when_it_is_taken_in_again(tmp_path, monkeypatch):
    at, killed = 0, True
    while killed:
        at += 1
        folder = tmp_path / str(at)
        folder.mkdir()
        (folder / "investigation.json").write_text("{}")
        phone = Phone("phone-a")
        (folder / "phone.jsonl").write_bytes(b"\n".join(statement_bytes(phone.notes()) for _ in range(5)))
        acknowledged, killed = run_killed(monkeypatch, folder, at, taking_in)
        assert len(read_record(folder)) == 5 or not acknowledged
        take_in(folder, folder / "phone.jsonl")
        assert [entry.statement.sequence for entry in read_record(folder)] == [1, 2, 3, 4, 5]
    assert at >= 4
