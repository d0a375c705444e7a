"""Results on disk: whole or absent, never half; and compiled code never older than its sources."""

import os

import numpy as np
import pytest

from swabwright.compute.cache import ResultCache
from swabwright.compute.executor import map_chunks
from swabwright.compute.kernels import compiled_sources, forget_stale_kernels

ARRAYS = {"loads": np.arange(12.0).reshape(3, 4), "names": np.array(["rate.splash", "x"])}


@pytest.fixture
def cache(tmp_path):
    return ResultCache(tmp_path / "results")


def file_of(cache, key="key"):
    return cache.folder / f"{key}.arrays"


def test_what_was_put_comes_back(cache):
    cache.put("key", ARRAYS)
    found = cache.get("key")
    assert found.keys() == ARRAYS.keys()
    for name, values in ARRAYS.items():
        np.testing.assert_array_equal(found[name], values)


def test_what_was_never_put_is_absent(cache):
    assert cache.get("key") is None


@pytest.mark.parametrize(
    "damage", [lambda b: b[: len(b) // 2], lambda b: b"", lambda b: b[:-1] + b"?", lambda b: b * 2]
)
def test_a_damaged_file_counts_as_absent_and_is_removed(cache, damage):
    cache.put("key", ARRAYS)
    file_of(cache).write_bytes(damage(file_of(cache).read_bytes()))
    assert cache.get("key") is None
    assert not file_of(cache).exists()


def test_nothing_half_written_is_left_beside_a_result(cache):
    for number in range(3):
        cache.put(f"key-{number}", ARRAYS)
    assert all(path.suffix == ".arrays" for path in cache.folder.iterdir())


def test_a_put_that_fails_leaves_the_old_result(cache, monkeypatch):
    cache.put("key", ARRAYS)

    def full(*_args, **_more):
        raise OSError("no space left on device")

    monkeypatch.setattr("swabwright.compute.cache.os.fdopen", full)
    with pytest.raises(OSError, match="no space"):
        cache.put("key", {"loads": np.zeros(3)})
    np.testing.assert_array_equal(cache.get("key")["loads"], ARRAYS["loads"])


def test_the_folder_stays_under_its_cap_and_the_oldest_go_first(cache):
    small = ResultCache(cache.folder, largest_bytes=20_000)
    for number in range(5):
        small.put(f"key-{number}", {"loads": np.zeros(1000)})
        os.utime(file_of(cache, f"key-{number}"), (number, number))
    assert sum(path.stat().st_size for path in cache.folder.iterdir()) <= 20_000
    assert small.get("key-4") is not None
    assert small.get("key-0") is None


@pytest.mark.parametrize("workers", [1, 2, 5])
def test_answers_come_in_the_order_of_the_chunks(workers):
    assert list(map_chunks(lambda n: n * n, range(20), workers)) == [n * n for n in range(20)]


@pytest.mark.parametrize("workers", [1, 3])
def test_the_first_fault_is_raised(workers):
    with pytest.raises(ZeroDivisionError):
        list(map_chunks(lambda n: 1 / n, [1, 0, 2], workers))


def test_compiled_code_older_than_a_compiled_source_is_forgotten(tmp_path):
    source, index = tmp_path / "kernel.py", tmp_path / "kept.nbi"
    source.write_text("@njit\ndef kernel(): ...\n")
    index.write_bytes(b"compiled")
    os.utime(index, (1, 1))
    assert forget_stale_kernels(tmp_path) == 1
    assert not index.exists()


def test_compiled_code_newer_than_its_sources_stays(tmp_path):
    (tmp_path / "kernel.py").write_text("@njit\ndef kernel(): ...\n")
    os.utime(tmp_path / "kernel.py", (1, 1))
    (tmp_path / "kept.nbi").write_bytes(b"compiled")
    assert forget_stale_kernels(tmp_path) == 0


def test_the_compiled_sources_of_the_program_are_found():
    names = {path.name for path in compiled_sources()}
    assert {"philox.py", "events.py", "replay.py", "simulate.py"} <= names
