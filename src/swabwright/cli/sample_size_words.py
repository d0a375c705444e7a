"""Refusals of `sample-size` in the words of its options: `--population`, where the library says population_size."""

import re
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import wraps
from typing import Any

import click

from swabwright.detection.statistics.aim import OutOfReach
from swabwright.detection.statistics.checks import ArgumentRefused

SHARED = {"population_size": "--population", "surveillance_proportions": "--surveillance-proportion"}
_TEST_GIVEN = {"contaminated": "C", "detected": "D", "uncontaminated": "U", "not_detected": "N"}
_PORTIONS = {"levels": "--portions", "amount": "LEVEL of --portions", "positives": "DETECTED of --portions"}
_TUBES = {"levels": "--tubes", "amount": "AMOUNT of --tubes", "portions": "TUBES of --tubes"}
_POOLS = {"levels": "--pools", "amount": "SIZE of --pools", "pool_size": "SIZE of --pools"}

OF_COMMAND: Mapping[str, Mapping[str, str]] = {
    "pooled": {"pools": "--samples"},
    "risk-based": {
        "strata": "--stratum",
        "relative_risk": "RISK of --stratum",
        "population_proportion": "SHARE of --stratum",
    },
    "two-stage": {
        "group_sensitivities": "--group-sensitivity",
        "minutes_per_group": "GROUP of --minutes",
        "minutes_per_unit": "UNIT of --minutes",
    },
    "prevalence": {"prior a": "--prior, first number", "prior b": "--prior, second number"},
    "freedom": {"system_sensitivity": "--round-sensitivity"},
    "pooled-prevalence": {**_POOLS, "portions": "POOLS of --pools", "positives": "DETECTED of --pools"}
    | {"samples": "POOLS of --pools", "pools": "POOLS of --pools", "detected": "DETECTED of --pools"},
    "most-probable-number": {**_TUBES, "positives": "GREW of --tubes"},
    "detection-level": {**_PORTIONS, "portions": "PORTIONS of --portions"},
}
"""What a command calls an argument that is not an option of the same name."""

GROUPS = {"population_size": "--groups", "design_prevalence": "--group-design-prevalence"}
UNITS = {"population_size": "--units", "design_prevalence": "--design-prevalence"}
VALIDATION = {name: f"{place} of --validation" for name, place in _TEST_GIVEN.items()}
"""What the populations of two stages, and the four numbers of a validation, are called."""

# A plain word is an argument only where the library's sentences put one: before the colon, or last after 'of'.
_ARGUMENT = re.compile(r"\b[a-z]+(?:_[a-z]+)+\b|^[a-z]+(?=: )|(?<= of )[a-z]+$")


def in_own_words(command: click.Command) -> click.Command:
    """The command, refusing an argument by the option that it came from."""
    run = command.callback
    own = {name: f"--{name.replace('_', '-')}" for one in command.params if (name := one.name)}
    words = {**{name: option for name, option in SHARED.items() if option in own.values()}, **own}
    words |= OF_COMMAND.get(command.name or "", {})

    @wraps(run or (lambda: None))
    def refusing(*arguments: Any, **options: Any) -> Any:
        with in_words_of_options(words):
            return run(*arguments, **options) if run else None

    command.callback = refusing
    return command


@contextmanager
def in_words_of_options(words: Mapping[str, str]) -> Iterator[None]:
    """Within it a refused argument is told by what `words` call it; others keep their names."""
    try:
        yield
    except ArgumentRefused as error:
        of, _, argument = error.argument.rpartition(": ")
        head = f"{words.get(argument, argument)}{f', {of}' if of else ''}"
        raise ArgumentRefused(head, _told(error.problem, words)) from error
    except OutOfReach as error:
        raise OutOfReach(_told(str(error), words)) from error


def _told(text: str, words: Mapping[str, str]) -> str:
    return _ARGUMENT.sub(lambda found: words.get(found.group(), found.group()), text)
