"""Warming up runs the real thing on the smallest plant there can be."""

import numpy as np

from swabwright.compute.warm import warmed
from swabwright.spread.warm_up import warm_up


def test_the_smallest_plant_gives_a_bank_with_something_in_it():
    bank = warm_up()
    assert bank.histories == 2
    assert len(bank.code) > 0
    assert np.isfinite(bank.product).all()


def test_warming_tells_each_package_and_its_seconds():
    packages = dict(warmed())
    assert "spread" in packages
    assert all(seconds >= 0 for seconds in packages.values())
