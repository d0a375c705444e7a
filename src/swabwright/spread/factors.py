"""Compiled: what stays, what moves and what product carries off at every source in one slot.

Contact with hazard eta and carry-off by product with hazard kappa compete through the slot. Of what lies there at
its start e^{-(eta + kappa)} stays; of what is shed evenly through it (1 - e^{-(eta + kappa)}) / (eta + kappa) stays.
The rest is divided between targets and product as their hazards. With no product on the surface this is
`stay = exp(-sum of eta)`, and `(1 - stay) eta_j / sum of eta` goes to target j.
"""

# mypy: disable-error-code="no-untyped-def"

import numpy as np
from numba import njit

TINY = 1e-9
SERIES_BELOW = 1e-3
"""Below it the series is right to one in 10^9, where differences would lose digits."""


@njit(cache=True, nogil=True)
def split(eta, kappa):
    """Share that stays and share moved per unit of hazard: first of what lay there, then of what is shed."""
    hazard = eta + kappa
    if hazard < SERIES_BELOW:
        moved = 1.0 - hazard / 2 + hazard**2 / 6
        return 1.0 - hazard * moved, moved, moved, 0.5 - hazard / 6 + hazard**2 / 24
    gone = -np.expm1(-hazard)
    return 1.0 - gone, gone / hazard, gone / hazard, (1.0 - gone / hazard) / hazard


@njit(cache=True, nogil=True)
def survives_carry_off(kappa):
    """Share of what arrives evenly through the slot that product leaves on the surface."""
    return -np.expm1(-kappa) / kappa if kappa > TINY else 1.0
