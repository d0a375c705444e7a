"""What 'not detected' everywhere would mean."""

import re
from dataclasses import replace

import numpy as np
import pytest
from builders.known import earlier_result, investigation, tiny_known
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.belief.believe import believe
from swabwright.belief.known import Known
from swabwright.belief.outcome import silence_ratio
from swabwright.belief.presence import States, not_detected_means, states_of
from swabwright.case.investigation import Presence
from swabwright.detection.choices import build_items
from swabwright.detection.items import Item
from swabwright.errors import SwabwrightError

KNOWN = tiny_known()


def samples(known: Known) -> tuple[Item, ...]:
    """Every sponge, opened where possible."""
    return tuple(item for item in build_items(known.setting, known.bank) if item.device == "SP")


def nothing_spreads(known: Known) -> Known:
    """The same plant where no niche puts a cell anywhere and none is full."""
    bank = replace(known.bank, code=np.zeros_like(known.bank.code), niche=np.zeros_like(known.bank.niche))
    return replace(known, bank=bank)


@pytest.mark.parametrize("lives_here", [0.0, 0.1, 0.37, 0.7, 1.0])
def test_without_a_cell_in_any_sample_after_is_before_exactly(lives_here: float) -> None:
    stated = Presence(lives_here=lives_here, incoming_only=0.0 if lives_here == 1 else 0.05, set_by="x")
    known = nothing_spreads(tiny_known(investigation=investigation(presence=stated)))
    means = not_detected_means(believe(known, 1500), samples(known))
    assert means.after.value == lives_here
    assert means.before.value == lives_here


def test_silence_everywhere_lowers_the_chance_that_it_lives_here() -> None:
    means = not_detected_means(believe(KNOWN, 2500), samples(KNOWN))
    assert means.after.value < means.before.value
    assert means.after.low <= means.after.value <= means.after.high


def test_more_samples_lower_it_further() -> None:
    belief, items = believe(KNOWN, 2500), samples(KNOWN)
    values = [not_detected_means(belief, items[:count]).after.value for count in (1, 3, 6)]
    assert values == sorted(values, reverse=True)


def test_before_names_who_set_it() -> None:
    assert "L. Ortega" in not_detected_means(believe(KNOWN, 1500), samples(KNOWN)[:1]).before.basis


@given(st.floats(0, 1), st.floats(0, 1), st.floats(0, 1), st.floats(0, 1))
@settings(deadline=None, derandomize=True)
def test_three_states_follow_the_rule_of_bayes(b: float, share: float, ratio: float, incoming: float) -> None:
    b_in = (1 - b) * share
    total = b * ratio + b_in * incoming + (1 - b - b_in)
    expected = b * ratio / total if total > 1e-9 else None
    after = States(b, b_in).after(ratio, incoming) if expected is not None else None
    assert after == (pytest.approx(expected, abs=1e-6) if expected is not None else None)


def test_a_plant_where_it_only_comes_in_keeps_part_of_the_chance() -> None:
    # b 0.6, b_in 0.3, neither 0.1; silence 1 in 10 if it lives here, 1 in 2 if it only comes in, against absence.
    assert States(0.6, 0.3).after(0.1, 0.5) == pytest.approx(0.06 / (0.06 + 0.15 + 0.1))


def test_raw_material_that_may_carry_it_sets_the_incoming_state() -> None:
    line = KNOWN.setting.plant.lines[0]
    plain = KNOWN.setting.plant.model_copy(
        update={"lines": (line.model_copy(update={"raw_material_may_carry": False}),)}
    )
    assert states_of(KNOWN).incoming_only == pytest.approx(0.15)
    assert states_of(tiny_known(plant=plain)).incoming_only == pytest.approx(0.02)


def test_states_that_exceed_one_together_are_refused() -> None:
    stated = Presence(lives_here=0.8, incoming_only=0.4, set_by="x")
    with pytest.raises(SwabwrightError, match="may not exceed 1"):
        states_of(tiny_known(investigation=investigation(presence=stated)))


def test_where_it_lives_leaves_out_rows_with_incoming_material_alone() -> None:
    belief = believe(KNOWN, 2500)
    living = belief.living
    line = KNOWN.bank.source_names.index("line:line-a")
    alone = (belief.rows.sources[:, 0] == line) & (belief.rows.sources[:, 1] < 0)
    assert alone.any()
    assert living.rows.weight[alone].sum() == 0
    assert living.rows.weight.sum() == pytest.approx(1)


def test_silence_is_read_given_the_past_of_a_site() -> None:
    past = tiny_known(investigation=investigation(earlier_results=(earlier_result("S003"),) * 4))
    item = tuple(one for one in samples(past) if one.site_code == "S003")[:1]
    rows = believe(past, 2500).before
    fresh, seen = (float(rows.weight @ silence_ratio(known, rows, item)) for known in (KNOWN, past))
    assert seen > fresh


def test_the_basis_names_what_the_chance_would_be_under_other_assumptions() -> None:
    after = not_detected_means(believe(KNOWN, 2500), samples(KNOWN)).after
    named = [float(value) / 100 for value in re.findall(r"recovery (?:low|high) \((\d+)\)", after.basis)]
    assert len(named) == 2
    assert after.low - 0.006 <= min(named) <= max(named) <= after.high + 0.006
