"""Killed between any two system calls while a logger's file is entered: the entry is there whole, or not at all."""

import os
import signal

import pytest
from builders.loggers import file_of, logged, packed_case

from swabwright.record.journal import read_record
from swabwright.record.verify import verify_record

CALLS = ("open", "write", "fsync", "ftruncate", "close", "mkdir", "replace", "rename")


def interrupt(at):
    """Kill this process at its `at`-th system call on files: before it, or with half of the bytes written."""
    count = 0

    def wrapped(call):
        def run(*arguments, **named):
            nonlocal count
            count += 1
            if count == at:
                if call is real_write:
                    call(arguments[0], arguments[1][: len(arguments[1]) // 2])
                os.kill(os.getpid(), signal.SIGKILL)
            return call(*arguments, **named)

        return run

    real_write = os.write
    for name in CALLS:
        setattr(os, name, wrapped(getattr(os, name)))


def was_killed(case, path, at):
    process = os.fork()
    if process == 0:
        try:
            interrupt(at)
            logged(case, path)
        finally:
            os._exit(0)
    return os.WIFSIGNALED(os.waitpid(process, 0)[1])


@pytest.mark.skipif(not hasattr(os, "fork"), reason="needs fork")
def test_killed_at_every_point_the_entry_is_whole_or_absent(tmp_path):
    points, killed = 0, True
    while killed:
        points += 1
        case = tmp_path / str(points)
        case.mkdir()
        path = file_of(packed_case(case))
        killed = was_killed(case, path, points)
        before = len(read_record(case))
        assert before == 5 if not killed else before in (4, 5)
        assert verify_record(case).files == before - 4
        logged(case, path)
        assert verify_record(case).files == 1
    assert points > 10
