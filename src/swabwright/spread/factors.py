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


@njit(cache=True, nogil=True)
def split_of_old(eta, kappa):
    """Of what lay there: share that stays, share moved per unit of hazard."""
    hazard = eta + kappa
    if hazard < TINY:
        return 1.0, 1.0
    stays = np.exp(-hazard)
    return stays, (1.0 - stays) / hazard


@njit(cache=True, nogil=True)
def split_of_fresh(eta, kappa):
    """Of what is shed evenly through the slot: share that stays, share moved per unit of hazard."""
    hazard = eta + kappa
    if hazard < 1e-4:
        return 1.0 - hazard / 2, 0.5 - hazard / 6
    stays = -np.expm1(-hazard) / hazard
    return stays, (1.0 - stays) / hazard


@njit(cache=True, nogil=True)
def survives_carry_off(kappa):
    """Share of what arrives evenly through the slot that product leaves on the surface."""
    return -np.expm1(-kappa) / kappa if kappa > TINY else 1.0
