"""Invented plants as the comparison with the record sees them, made by hand: chances that one can work out."""

from typing import Any

import numpy as np
from validation.plants import READINGS, Seen

DRAWS = 50


def seen_plant(chances: dict[str, float], **changes: Any) -> Seen:
    """A plant with one site per type, each with the same chance in every draw and reading; zone 1 is food contact.

    chances: by `group` or `group:zone`; the site's type is called like its group.
    """
    named = [(*name.split(":"), "3")[:2] for name in chances]
    array = np.repeat(np.array([list(chances.values())]).T, DRAWS, axis=1)
    usual: dict[str, Any] = {
        "types": tuple(group for group, _ in named),
        "groups": tuple(group for group, _ in named),
        "zones": tuple(int(zone) for _, zone in named),
        "chance": dict.fromkeys(READINGS, array),
        "niches": np.full((DRAWS, 3), -1, np.int32),
        "background": 0.01,
    }
    return Seen(**{**usual, **changes})
