"""Answers of the trade's statistics as a sentence or as JSON."""

import json
from dataclasses import fields, is_dataclass
from math import isfinite
from typing import Any, Protocol

import numpy as np


class Told(Protocol):
    """Whatever says its result in one sentence."""

    @property
    def sentence(self) -> str:
        """The result as it is said."""
        ...


def answers_as_text(*answers: Told) -> str:
    """The sentences, one a line."""
    return "\n".join(answer.sentence for answer in answers)


def answers_as_json(**answers: Told) -> str:
    """The answers by name, every field of each; a number without end is null, its sentence says so."""
    return json.dumps({name: _plain(answer) for name, answer in answers.items()}, indent=2, ensure_ascii=False)


def _plain(value: Any) -> Any:
    if is_dataclass(value):
        # Curves are for drawing; they would bury the numbers.
        named = ((field.name, getattr(value, field.name)) for field in fields(value))
        return {name: _plain(one) for name, one in named if not isinstance(one, np.ndarray)}
    if isinstance(value, tuple | list):
        return [_plain(one) for one in value]
    return None if isinstance(value, float) and not isfinite(value) else value
