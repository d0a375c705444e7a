"""What was found at each site so far, in each of some hypotheses: the past that a new sample is conditional on."""

from collections import defaultdict
from collections.abc import Sequence

import numpy as np

from swabwright.belief.known import Known
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.cells import expected_cells
from swabwright.detection.draws import item_draws
from swabwright.detection.factor import SiteResults
from swabwright.detection.observed import Observed


def past_results(
    known: Known, results: Sequence[Observed], rows: HypothesisRows, rates: dict[str, float]
) -> dict[str, SiteResults]:
    """All results by the key whose discrepancy they share, cells of each in every row; rates by batch.

    A count is read as 'detected' here: it moves where the niche is, hardly what a new sample there would show.
    """
    if not results:
        return {}
    items = tuple(one.item for one in results)
    cells = expected_cells(
        known.bank, rows, items, item_draws(known.bank, known.setting.plant, known.setting.catalogue, items)
    )
    places: dict[str, list[int]] = defaultdict(list)
    for place, one in enumerate(results):
        places[one.item.shared_key].append(place)
    found = np.array([one.detected for one in results])
    rate = np.array([1.0 - (1.0 - one.false_positive) * (1.0 - rates[one.batch]) for one in results])
    return {key: SiteResults(cells[at], found[at], rate[at]) for key, at in sorted(places.items())}
