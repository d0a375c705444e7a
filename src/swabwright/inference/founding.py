"""The same results had more or fewer niches been there before the first result: histories weighed again."""

import numpy as np
import numpy.typing as npt

from swabwright.inference.posterior import Posterior

Array = npt.NDArray[np.float64]
FIGURE = "history.founded_before_share"


def marginal_founded(after: Posterior, share: float) -> Array | None:
    """Chance of a niche at each source, (sources,), had this share of niches been founded before the first occasion.

    A niche founded before the first occasion counts share / usual share as much, one founded later the same of the
    rest; of a pair only the niche that is asked about is weighed. None where all niches were there in time, so that
    nothing tells the two apart.
    """
    bank, usual = after.known.bank, after.known.figures.number(FIGURE)
    first = min(range(len(bank.occasions)), key=lambda at: bank.occasions[at].at)
    before = bank.founded_before[:, first, :]
    rows = len(bank.row_names)
    if before[:, :rows].all() or not 0.0 < usual < 1.0:
        return None
    factor = np.where(before, share / usual, (1.0 - share) / (1.0 - usual))
    # incoming material is there from the start in every history
    factor[:, rows:] = 1.0
    single, paired = after.single * factor, after.paired * factor
    return np.asarray((single + paired).sum(axis=0) / (single.sum() + 0.5 * paired.sum()))
