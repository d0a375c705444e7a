"""Whatever is typed, there is a sentence or a refusal that names what is wrong; never a crash, never nonsense."""

import json

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from swabwright.cli.sample_size import sample_size
from swabwright.detection.statistics.aim import OutOfReach
from swabwright.detection.statistics.checks import ArgumentRefused

ODD_SHARES = st.sampled_from([0.0, 1.0, -0.1, 1.5, 95.0, 1e-9, 1 - 1e-12, float("nan"), float("inf")])
SHARES = st.integers(0, 11).flatmap(lambda n: ODD_SHARES if n == 0 else st.floats(0.001, 0.999))
GOOD = st.floats(0.5, 0.999)
LEVELS = st.integers(0, 11).flatmap(lambda n: st.sampled_from([0.0, 1.0, 95.0]) if n == 0 else GOOD)
COUNTS = st.integers(0, 11).flatmap(lambda n: st.sampled_from([-1, 1000]) if n == 0 else st.integers(0, 60))
ODD_AMOUNTS = st.sampled_from([0.0, -1.0, 1e-200, 1e200, float("nan")])
AMOUNTS = st.integers(0, 11).flatmap(lambda n: ODD_AMOUNTS if n == 0 else st.floats(0.001, 1000.0))
LEFT_OUT = {
    "cut_point",
    "largest_sample",
    "samples",
    "minutes",
    "wanted",
    "group_sensitivity",
    "surveillance_proportion",
}


def options(**values):
    """Each option with a value drawn for it; those that may be missing are sometimes left out."""
    named = {f"--{name.replace('_', '-')}": (name, value) for name, value in values.items()}
    always = {option: value for option, (name, value) in named.items() if name not in LEFT_OUT}
    return st.fixed_dictionaries(
        always, optional={option: value for option, (name, value) in named.items() if name in LEFT_OUT}
    )


def typed(command, chosen):
    arguments = [command, "--json"]
    for name, value in chosen.items():
        rows = value if isinstance(value, list) else [value]
        for row in rows:
            arguments += [name, *map(str, row if isinstance(row, tuple) else (row,))]
    return CliRunner().invoke(sample_size, arguments)


def holds_together(result):
    """The result is a refusal in words, or JSON whose chances are chances and whose intervals hold their value."""
    if result.exit_code == 2 or isinstance(result.exception, ArgumentRefused | OutOfReach):
        return True
    assert result.exception is None, result.exception
    answers = json.loads(result.output)
    assert "nan" not in result.output.lower()
    return all(map(is_sound, answers.values()))


def is_sound(answer):
    # A mean may lie outside a narrow interval with equal tails; a median may not.
    interval, value = answer.get("interval"), answer.get("median", answer["value"])
    if interval and None not in (interval["low"], interval["high"], value):
        return interval["low"] - 1e-9 <= value <= interval["high"] + 1e-9
    return value is None or value >= 0


AIM = {
    "system_sensitivity": SHARES,
    "system_specificity": SHARES,
    "cut_point": COUNTS,
    "largest_sample": st.integers(1, 80),
    "samples": COUNTS,
    "design_prevalence": SHARES,
    "unit_sensitivity": st.one_of(GOOD, SHARES),
    "unit_specificity": st.one_of(GOOD, st.just(1.0), SHARES),
}
RESULT = {"detected": COUNTS, "level": LEVELS, "method": st.sampled_from(["wilson", "jeffreys", "agresti-coull"])}
TUBES = st.lists(st.tuples(AMOUNTS, COUNTS, COUNTS), min_size=1, max_size=4)
POOLS = st.lists(st.tuples(COUNTS, st.integers(0, 80), COUNTS), min_size=1, max_size=3)
STRATA = st.lists(st.tuples(st.sampled_from(["drains", "wheels"]), AMOUNTS, SHARES), min_size=1, max_size=3)
CALCULATION = st.sampled_from(["exact", "approximate"])
TYPED = {
    "large": options(**AIM),
    "finite": options(**AIM, population=st.integers(0, 80), calculation=CALCULATION),
    "pooled": options(**AIM, pool_size=COUNTS),
    "interval": options(**RESULT, samples=COUNTS),
    "prevalence": options(
        detected=st.integers(0, 30),
        level=LEVELS,
        samples=st.integers(25, 200),
        unit_sensitivity=GOOD,
        unit_specificity=GOOD,
        prior=st.tuples(AMOUNTS, AMOUNTS),
    ),
    "pooled-prevalence": options(pools=POOLS, level=LEVELS, unit_sensitivity=st.one_of(st.just(1.0), GOOD)),
    "most-probable-number": options(tubes=TUBES, level=LEVELS),
    "detection-level": options(portions=TUBES, level=LEVELS),
    "risk-based": options(
        stratum=STRATA,
        design_prevalence=SHARES,
        samples=st.lists(COUNTS, max_size=3),
        surveillance_proportion=st.lists(SHARES, max_size=3),
        system_sensitivity=SHARES,
    ),
    "two-stage": options(
        groups=st.integers(0, 30),
        group_design_prevalence=SHARES,
        units=st.integers(0, 30),
        design_prevalence=SHARES,
        unit_sensitivity=SHARES,
        group_sensitivity=SHARES,
        minutes=st.tuples(AMOUNTS, AMOUNTS),
        system_sensitivity=SHARES,
        calculation=CALCULATION,
    ),
    "freedom": options(
        prior_freedom=SHARES,
        round_sensitivity=st.lists(SHARES, min_size=1, max_size=3),
        introduction=st.lists(SHARES, min_size=1, max_size=3),
        moment=st.sampled_from(["before", "after"]),
        wanted=SHARES,
    ),
}


def test_every_command_is_tried():
    assert set(TYPED) == set(sample_size.commands)


@pytest.mark.parametrize("command", sorted(TYPED))
@settings(max_examples=120)
@given(data=st.data())
def test_there_is_a_sound_answer_or_a_refusal(command, data):
    assert holds_together(typed(command, data.draw(TYPED[command])))
