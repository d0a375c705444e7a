"""The 16-bit code of loads: fine enough, wide enough, and honest about what it cannot hold."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.spread.bank import decode
from swabwright.spread.codes import LARGEST_CODE, encode
from swabwright.spread.setting import CUTOFF


@given(st.floats(CUTOFF, 15.9))
def test_a_load_comes_back_within_two_in_ten_thousand(load):
    codes, too_large = encode(np.array([load], np.float32))
    assert too_large == 0
    assert decode(codes)[0] == pytest.approx(load, rel=2e-4)


def test_a_load_beyond_the_code_is_held_at_its_end_and_counted():
    codes, too_large = encode(np.array([17.0, 1.0, 40.0], np.float32))
    assert codes.tolist() == [LARGEST_CODE, 57344, LARGEST_CODE]
    assert too_large == 2


def test_the_smallest_load_kept_is_never_none():
    assert encode(np.array([CUTOFF], np.float32))[0][0] >= 1


def test_code_zero_is_no_load():
    assert decode(np.zeros(3, np.uint16)).tolist() == [0.0, 0.0, 0.0]
