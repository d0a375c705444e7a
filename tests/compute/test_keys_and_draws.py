"""Keys, counters and the draws made from words."""

from hashlib import blake2b

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.compute.draws import lognormal_steps, normals, uniforms
from swabwright.compute.keys import PURPOSES, counters, key_hash, stream_key
from swabwright.compute.philox import philox_words


def test_a_key_hash_is_the_first_eight_bytes_of_blake2b():
    assert key_hash("a key") == int.from_bytes(blake2b(b"a key", digest_size=8).digest(), "little")


def test_key_hashes_of_many_keys_never_meet():
    assert len({key_hash(f"{n:032x}") for n in range(10_000)}) == 10_000


@given(st.integers(0, 2**63 - 1), st.integers(1, 3), st.integers(0, PURPOSES - 1))
def test_purposes_and_banks_have_keys_of_their_own(seed, bank, purpose):
    others = {stream_key(seed, b, p) for b in (1, 2, 3) for p in range(PURPOSES)}
    assert len(others) == 3 * PURPOSES
    assert stream_key(seed, bank, purpose) in others


def test_counters_hold_both_halves_of_the_hash():
    made = counters(np.array([0x0123456789ABCDEF], dtype=np.uint64), 7, 9)
    assert made.tolist() == [[0x89ABCDEF, 0x01234567, 7, 9]]


def test_uniform_draws_are_never_zero_or_one():
    drawn = uniforms(np.array([0, 2**32 - 1], dtype=np.uint32))
    assert 0 < drawn[0] < drawn[1] < 1


def test_normal_draws_of_many_words_have_mean_zero_and_spread_one():
    words = philox_words(counters(np.arange(50_000, dtype=np.uint64), 0, 0), (1, 2))
    drawn = normals(words)
    assert abs(drawn.mean()) < 0.01
    assert drawn.std() == pytest.approx(1.0, abs=0.01)
    assert abs(np.corrcoef(drawn.T)[0, 1:]).max() < 0.02


@pytest.mark.parametrize("ln_sd", [0.5, 1.0, 1.5])
def test_the_steps_of_a_lognormal_keep_its_mean_exactly(ln_sd):
    assert lognormal_steps(ln_sd, 4096, mean_one=True).mean() == pytest.approx(1.0, rel=1e-9)
    assert lognormal_steps(ln_sd, 4096, mean_one=False).mean() == pytest.approx(np.exp(ln_sd**2 / 2), rel=1e-9)


def test_half_of_the_steps_of_a_median_one_lognormal_lie_below_one():
    assert (lognormal_steps(1.0, 4096, mean_one=False) < 1.0).mean() == pytest.approx(0.5, abs=0.001)


def test_without_spread_every_step_is_one():
    np.testing.assert_allclose(lognormal_steps(0.0, 64, mean_one=True), 1.0)
