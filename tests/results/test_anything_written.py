"""Whatever stands in a table, the answer is results, rows held apart, or a sentence; never a crash, never half."""

import pytest
from builders.laboratory import HEADER, NUMBERS, bring, entries_of, results_case
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.errors import SwabwrightError
from swabwright.record.results import current_results
from swabwright.record.verify import verify_record

pytestmark = pytest.mark.slow


WORDS = ["detected", "ND", "suspect", "void", "pending", "?", "", "12", "0,5", "5 %", "2026-03-06 07:30", "06/03/2026",
         "Listeria spp.", "Salmonella", "I-1", "ST9", "Drain 5, under line A", "=1+1", "nan", "1e99"]  # fmt: skip
CELL = st.one_of(st.sampled_from(WORDS), st.text(max_size=12))
ROW = st.fixed_dictionaries(
    {"Sample number": st.one_of(st.sampled_from(NUMBERS), CELL)}, optional=dict.fromkeys(HEADER[1:], CELL)
)


@given(st.lists(ROW, min_size=1, max_size=5), st.sampled_from(["preliminary", "final", "amended"]))
@settings(deadline=None, derandomize=True, max_examples=25)
def test_any_table_is_taken_in_held_apart_or_refused(tmp_path_factory, rows, status):
    case = results_case(tmp_path_factory.mktemp("any"))
    before = len(entries_of(case))
    try:
        outcome = bring(case, rows, status)
    except SwabwrightError:
        assert len(entries_of(case)) == before
        return
    assert set(current_results(entries_of(case))) == set(outcome.taken)


@given(st.binary(max_size=200), st.sampled_from(["csv", "xlsx", "ods"]))
@settings(deadline=None, derandomize=True, max_examples=15)
def test_any_bytes_are_a_table_or_refused(tmp_path_factory, content, ending):
    case = results_case(tmp_path_factory.mktemp("bytes"))
    before = (case / "record.jsonl").read_bytes()
    (case.parent / f"table.{ending}").write_bytes(content)
    try:
        bring(case, case.parent / f"table.{ending}")
    except SwabwrightError:
        assert (case / "record.jsonl").read_bytes() == before
    (case / "plans/visit-1.json").unlink()
    assert verify_record(case).entries == len(entries_of(case))
