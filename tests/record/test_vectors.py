"""Shared vectors: what the phone's program must spell and hash alike; and the law behind the quick spelling."""

import json
from pathlib import Path

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from swabwright.case.canonical import bytes_hash
from swabwright.record.chain import Chains
from swabwright.record.entry import Statement
from swabwright.record.spelling import entry_line, spelled_again, statement_bytes

VECTORS = json.loads((Path(__file__).parents[1] / "vectors/record.json").read_text("utf-8"))["entries"]

WHOLE = st.integers(-(2**53) + 1, 2**53 - 1)
TEXT = st.text(st.characters(exclude_categories=["Cs"]))
NAMES = st.text(st.characters(codec="ascii"), max_size=8)
VALUES = st.recursive(
    st.none() | st.booleans() | WHOLE | TEXT,
    lambda inner: st.lists(inner) | st.dictionaries(NAMES, inner),
    max_leaves=12,
)


@given(VALUES)
def test_the_quick_spelling_is_that_of_the_standard(value):
    assert spelled_again(value) == rfc8785.dumps(value)


@pytest.mark.parametrize("vector", VECTORS, ids=lambda vector: vector["statement"]["body"]["kind"])
def test_every_vector_is_spelled_and_hashed_as_written_down(vector):
    statement = Statement.model_validate_json(json.dumps(vector["statement"]))
    spelled = statement_bytes(statement)
    assert spelled.decode() == vector["statement_text"]
    assert bytes_hash(spelled) == vector["statement_hash"]
    line, digest = entry_line(vector["number"], vector["previous"], spelled)
    assert (line.decode(), digest) == (vector["line"], vector["hash"])


def test_the_lines_of_the_vectors_are_one_whole_record():
    chains = Chains()
    for vector in VECTORS:
        chains.follow(vector["line"].encode())
    assert (chains.number, chains.hash) == (len(VECTORS), VECTORS[-1]["hash"])
