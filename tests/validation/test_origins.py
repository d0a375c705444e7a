"""What predicted detections rest on, on plants whose chances can be worked out by hand."""

import numpy as np
import pytest
from builders.seen import DRAWS, seen_plant
from validation.origins import origins


def with_niche_at(site, chances):
    niches = np.full((DRAWS, 3), -1, np.int32)
    niches[:, 0] = site
    return seen_plant(chances, niches=niches)


def test_detections_part_into_niche_carried_and_background():
    parts = origins((with_niche_at(0, {"drain": 0.5, "floor": 0.11, "hands": 0.01}),))
    assert (parts.at_niche, parts.carried, parts.background) == pytest.approx((0.5 / 0.62, 0.1 / 0.62, 0.02 / 0.62))


def test_where_no_niche_is_on_the_drawing_nothing_lies_on_one():
    assert origins((seen_plant({"drain": 0.5}),)).at_niche == 0.0


def test_the_parts_sum_to_1_over_several_plants():
    plants = (with_niche_at(0, {"drain": 0.5}), with_niche_at(1, {"drain": 0.2, "floor": 0.9}))
    parts = origins(plants)
    assert parts.at_niche + parts.carried + parts.background == pytest.approx(1.0)
