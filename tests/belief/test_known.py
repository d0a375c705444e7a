"""What is known, read with the figures in use, and refused where it names what is not there."""

import numpy as np
import pytest
from builders.known import tiny_known

from swabwright.belief.believe import at_end
from swabwright.belief.known import niche_loads
from swabwright.belief.rows import HypothesisRows
from swabwright.errors import SwabwrightError

KNOWN = tiny_known()


def rows(*sources: tuple[int, int, int]) -> HypothesisRows:
    """Equally weighted rows of history 1 with these niches."""
    count = len(sources)
    history = np.ones(count, np.int32)
    return HypothesisRows(history, np.array(sources, np.int32), np.full(count, 1 / count), history.astype(np.int16))


def test_loads_of_niches_add_up_with_their_capacities() -> None:
    capacity = np.array([[9.0, 9.0, 9.0], [1.0, 2.0, 3.0]], np.float32)
    per_unit = np.array([[7.0, 7.0, 7.0], [0.5, 0.25, 0.125]])
    loads = niche_loads(rows((0, -1, -1), (1, 2, -1), (2, 1, 0)), capacity, per_unit)
    # 10 x 0.5; 100 x 0.25 + 1000 x 0.125; all three together.
    assert loads == pytest.approx([5.0, 150.0, 155.0])


def test_order_of_niches_changes_no_load() -> None:
    capacity, per_unit = np.ones((2, 3), np.float32), np.array([[0.0, 0.0, 0.0], [0.2, 0.3, 0.4]])
    first, second = niche_loads(rows((0, 1, 2), (2, 0, 1)), capacity, per_unit)
    assert first == pytest.approx(second)


def test_other_figures_leave_bank_and_plant_as_they_are() -> None:
    other = KNOWN.under(at_end(KNOWN.figures, ("recovery.wet",), "low"))
    assert other.figures.number("recovery.wet") == KNOWN.figures["recovery.wet"].low
    assert other.bank is KNOWN.bank
    assert other.setting.plant is KNOWN.setting.plant


def test_an_unknown_site_is_refused_with_path_and_remedy() -> None:
    with pytest.raises(SwabwrightError, match=r"earlier_results\[2\]\.site: no site 'S01'; did you mean 'S001'"):
        KNOWN.site_called("S01", "earlier_results[2].site")


def test_an_unknown_line_is_refused_with_path_and_remedy() -> None:
    with pytest.raises(SwabwrightError, match=r"implicated\[0\]\.line: no line 'line-aa'; did you mean 'line-a'"):
        KNOWN.line_index("line-aa", "implicated[0].line")


def test_a_known_site_and_line_are_found() -> None:
    assert KNOWN.site_called("S004", "x").name == "drain_channel 4"
    assert KNOWN.line_index("line-a", "x") == 0
