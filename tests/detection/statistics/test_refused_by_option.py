"""`sample-size` refuses a number by the option it was typed with; the library keeps its own argument names."""

import re

import pytest
from builders.console import printed

from swabwright.cli.sample_size import sample_size
from swabwright.detection.statistics.checks import ArgumentRefused
from swabwright.detection.statistics.finite import FinitePopulation

FINITE = "finite --calculation exact --population {} --design-prevalence {}"
TWO = "two-stage --calculation exact --groups {} --group-design-prevalence {} --units {} --design-prevalence {}"
RISKY = "risk-based --design-prevalence 0.02 --stratum drains {} {} --stratum others 1 0.9"
REFUSED = {
    FINITE.format(0, 0.1): "--population: 0 is not a whole number of 1 or more",
    FINITE.format(10, 5): "--design-prevalence: 5 is not a share from 0 to 1",
    f"{FINITE.format(10, 0.1)} --samples 11": "--samples: 11 is more than the 10 of --population",
    f"{FINITE.format(10, 0.1)} --largest-sample 0": "--largest-sample: 0 is not",
    "large --design-prevalence 0.1 --samples 5 --cut-point 6": "--cut-point: 6 is more than the 5 of --samples",
    "pooled --pool-size 0 --design-prevalence 0.1": "--pool-size: 0 is not",
    "pooled --pool-size 5 --design-prevalence 0.1 --samples 0": "--samples: 0 is not",
    f"{TWO.format(0, 0.1, 40, 0.1)} --group-sensitivity 0.9": "--groups: 0 is not",
    f"{TWO.format(20, 2, 40, 0.1)} --group-sensitivity 0.9": "--group-design-prevalence: 2 is not",
    f"{TWO.format(20, 0.1, 0, 0.1)} --group-sensitivity 0.9": "--units: 0 is not",
    f"{TWO.format(20, 0.1, 40, 2)} --group-sensitivity 0.9": "--design-prevalence: 2 is not",
    f"{TWO.format(20, 0.1, 40, 0.1)} --minutes 0 1": "GROUP of --minutes: 0 is not",
    RISKY.format(0, 0.1): "RISK of --stratum, drains: 0 is not",
    f"{RISKY.format(5, 0.3)} --samples 5 --samples 5": "SHARE of --stratum: the shares of the strata sum to 1.2",
    RISKY.format(5, 0.1): "--surveillance-proportion: 0 shares for 2 strata",
    "freedom --prior-freedom 0.5 --round-sensitivity 7 --moment before": "--round-sensitivity: 7 is not",
    "interval --detected 9 --samples 5": "--detected: 9 is more than the 5 of --samples",
    "prevalence --detected 1 --samples 5 --validation 5 6 5 5": "D of --validation: 6 is more than the 5 of C of",
    "prevalence --detected 1 --samples 5 --prior 0 1": "--prior, first number: 0 is not",
    "pooled-prevalence --pools 5 2 3": "DETECTED of --pools: 3 is more than the 2 of POOLS of --pools",
    "most-probable-number --tubes 0 3 1": "AMOUNT of --tubes: 0 is not",
    "most-probable-number --tubes 1 3 4": "GREW of --tubes: 4 is more than the 3 of TUBES of --tubes",
    "detection-level --portions 1 3 4": "DETECTED of --portions: 4 is more than the 3 of PORTIONS of --portions",
    "large --design-prevalence 0.1 --unit-specificity 0.5 --largest-sample 3": "--system-sensitivity: no number",
}
OPTIONS = {option for command in sample_size.commands.values() for one in command.params for option in one.opts}


@pytest.mark.parametrize("typed", REFUSED)
def test_a_number_is_refused_by_the_option_it_was_typed_with(typed):
    assert printed(f"swabwright sample-size {typed}").startswith(REFUSED[typed])


@pytest.mark.parametrize("typed", REFUSED)
def test_no_refusal_speaks_of_what_cannot_be_typed(typed):
    said = printed(f"swabwright sample-size {typed}")
    assert re.findall(r"\b[a-z]+_[a-z_]+\b", said) == []
    assert set(re.findall(r"--[a-z-]+", said)) <= OPTIONS


def test_the_library_keeps_its_own_words():
    with pytest.raises(ArgumentRefused, match="population_size: 0 is not"):
        FinitePopulation.at(0, 0.1)
