"""Which of a bank's occasions a sample of the visit is read at."""

from swabwright.case.investigation import Visit
from swabwright.spread.bank import Occasion, Phase
from swabwright.spread.occasions import PHASES


def occasion_index(occasions: tuple[Occasion, ...], visit: Visit, phase: Phase) -> int:
    """Index of the occasion of a visit that has this phase, else of the one nearest to it in the day."""
    start, end = visit.limits.starts_at, visit.limits.ends_at
    inside = [index for index, one in enumerate(occasions) if start <= one.at <= end]
    if not inside:
        raise ValueError(f"the bank holds no occasion of visit '{visit.id}'")
    # a bank holds only phases that the visit touches; the next one in the day stands in
    wanted = PHASES.index(phase)
    return min(inside, key=lambda index: (abs(PHASES.index(occasions[index].phase) - wanted), index))
