"""The 16-bit logarithm code of loads: 0 is none, else 2**((code - 57344) / 2048) CFU per unit of capacity.

Steps of 0.034 %, so the error stays below 0.02 %, from 3.7e-9 to 16; a half-precision float would lose small loads.
"""

# mypy: disable-error-code="no-untyped-def"

import numpy as np
from numba import njit

ZERO_OF_CODE = 57344
STEPS_PER_DOUBLING = 2048
LARGEST_CODE = 65535


LARGEST = np.float32(2.0 ** ((LARGEST_CODE - ZERO_OF_CODE + 0.5) / STEPS_PER_DOUBLING))
TABLE_BITS = 12
MANTISSA_BITS = 23
REST_BITS = MANTISSA_BITS - TABLE_BITS
EXPONENT_OF_ONE = 127
_KNOTS = np.log2(1.0 + np.arange(2**TABLE_BITS + 1) / 2**TABLE_BITS) * STEPS_PER_DOUBLING
STEPS_AT = _KNOTS[:-1].copy()
"""Code steps of the mantissa's leading bits; the bits after them are interpolated (error below 0.0001 of a step)."""
STEPS_BETWEEN = np.diff(_KNOTS) / 2**REST_BITS


@njit(cache=True, nogil=True)
def encode_bits(bits):
    """The code of a positive load given as the bits of its single-precision number; LARGEST and less only."""
    exponent = np.int64(bits >> MANTISSA_BITS) - EXPONENT_OF_ONE
    knot = (bits >> REST_BITS) & (2**TABLE_BITS - 1)
    steps = STEPS_AT[knot] + (bits & (2**REST_BITS - 1)) * STEPS_BETWEEN[knot]
    return max(np.int64(1), exponent * STEPS_PER_DOUBLING + np.int64(steps + 0.5) + ZERO_OF_CODE)


@njit(cache=True, nogil=True)
def encode(loads):
    """The codes of positive loads (n,), and how many were too large to be held (then the largest code)."""
    bits, codes, too_large = loads.view(np.int32), np.empty(loads.shape[0], np.uint16), 0
    for n in range(loads.shape[0]):
        codes[n] = LARGEST_CODE if loads[n] >= LARGEST else encode_bits(bits[n])
        too_large += loads[n] >= LARGEST
    return codes, too_large
