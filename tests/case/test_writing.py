"""Files are written whole or not at all."""

import pytest

from swabwright.case.writing import write_all


def test_all_files_are_there_after_writing(tmp_path):
    write_all(tmp_path / "out", {"a.txt": b"1", "deep/b.txt": b"2"})
    assert (tmp_path / "out/a.txt").read_bytes() == b"1"
    assert (tmp_path / "out/deep/b.txt").read_bytes() == b"2"


def test_other_files_of_the_folder_stay(tmp_path):
    (tmp_path / "mine.txt").write_text("kept")
    write_all(tmp_path, {"a.txt": b"1"})
    assert (tmp_path / "mine.txt").read_text() == "kept"


class Stopped(BaseException):
    """A run that is killed between two files."""


class _StopsAtSecond(dict):
    def items(self):
        yield "a.txt", b"1"
        raise Stopped


def test_a_stopped_run_leaves_nothing(tmp_path):
    with pytest.raises(Stopped):
        write_all(tmp_path / "out", _StopsAtSecond())
    assert list(tmp_path.iterdir()) == []
