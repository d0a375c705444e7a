"""Random words: the published known answers, and one truth for both forms."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from swabwright.compute.philox import philox, philox_words, plain_philox_words

ALL_ONES = 0xFFFFFFFF
KNOWN_ANSWERS = [
    # Random123 distribution, kat_vectors, philox4x32 with 10 rounds: zeros, all bits set, digits of pi.
    ((0, 0, 0, 0), (0, 0), (0x6627E8D5, 0xE169C58D, 0xBC57AC4C, 0x9B00DBD8)),
    ((ALL_ONES,) * 4, (ALL_ONES,) * 2, (0x408F276D, 0x41C83B0E, 0xA20BC7C6, 0x6D5451FD)),
    (
        (0x243F6A88, 0x85A308D3, 0x13198A2E, 0x03707344),
        (0xA4093822, 0x299F31D0),
        (0xD16CFE09, 0x94FDCCEB, 0x5001E420, 0x24126EA1),
    ),
]
words = st.integers(0, ALL_ONES)


@pytest.mark.parametrize(("counter", "key", "answer"), KNOWN_ANSWERS)
def test_the_compiled_form_gives_the_published_words(counter, key, answer):
    assert tuple(int(word) for word in philox(*map(np.uint64, counter), *map(np.uint64, key))) == answer


@pytest.mark.parametrize("form", [philox_words, plain_philox_words])
@pytest.mark.parametrize(("counter", "key", "answer"), KNOWN_ANSWERS)
def test_the_array_forms_give_the_published_words(form, counter, key, answer):
    assert tuple(int(word) for word in form(counter, key)) == answer


@given(st.tuples(words, words, words, words), st.tuples(words, words))
def test_all_forms_agree_on_any_counter_and_key(counter, key):
    compiled = [int(word) for word in philox(*map(np.uint64, counter), *map(np.uint64, key))]
    assert compiled == philox_words(counter, key).tolist() == plain_philox_words(counter, key).tolist()
