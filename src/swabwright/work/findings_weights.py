"""What each result, each prior and each figure does to where it most likely lives."""

from collections.abc import Iterator, Mapping

import numpy as np
import numpy.typing as npt

from swabwright.case.findings import OtherPrior, RankedPlace, ResultUsed, ResultWeight, Shift
from swabwright.inference.leave_out import Without, leave_each_out
from swabwright.inference.other_priors import other_priors
from swabwright.inference.posterior import posterior
from swabwright.inference.quantities import Readings, niche_at
from swabwright.work.findings_places import Spots
from swabwright.work.findings_read import ReadStrain

Array = npt.NDArray[np.float64]
RANKED = 3
FOLLOWED = 3
"""So many of the likeliest places are followed result by result."""


def result_weights(read: ReadStrain, results: tuple[ResultUsed, ...], leading: int) -> tuple[ResultWeight, ...]:
    """What each result moves, both ways; the result that moves any place most comes first."""
    one, used = read.one, {result.sample: result for result in results}
    each = leave_each_out(one.reading, one.prior, one.after, one.observations)
    others = [at for at in by_share(read.after.share, read.spots) if at != leading]
    places = (leading, *others[: FOLLOWED - 1])
    weighed = [(_size(without), _weight(without, used, places, read.spots)) for without in each]
    return tuple(weight for _, weight in sorted(weighed, key=lambda pair: (-pair[0], pair[1].sample)))


def _size(without: Without) -> float:
    return float(np.abs(without.points).max())


def _weight(without: Without, used: Mapping[str, ResultUsed], places: tuple[int, ...], spots: Spots) -> ResultWeight:
    """places: the likeliest ones, the leading first."""
    result = used[without.sample]
    return ResultWeight(
        sample=without.sample,
        site_name=result.site_name,
        outcome=result.outcome,
        leading_points=_points(without.points, places[0]),
        raised=_shift(without.points, int(np.argmax(without.points)), spots),
        lowered=_shift(-without.points, int(np.argmin(without.points)), spots, sign=-1.0),
        leads_without=spots.every[leading_place(without.share_without, spots)].name,
        moved=tuple(_moved(without.points, at, spots) for at in places),
    )


def _points(points: Array, at: int) -> float:
    return round(float(points[at]), 2)


def _moved(points: Array, at: int, spots: Spots) -> Shift:
    return Shift(place=spots.every[at].code, name=spots.every[at].name, points=_points(points, at))


def _shift(size: Array, at: int, spots: Spots, sign: float = 1.0) -> Shift | None:
    points = round(sign * float(size[at]), 2)
    return Shift(place=spots.every[at].code, name=spots.every[at].name, points=points) if size[at] > 0 else None


def leading_place(share: Array, spots: Spots) -> int:
    """The place with the largest share; ties by code, so that no order of sites decides."""
    return by_share(share, spots)[0]


def by_share(share: Array, spots: Spots) -> list[int]:
    """Every place, the likeliest first; ties by code."""
    return sorted(range(len(share)), key=lambda at: (-share[at], spots.every[at].code))


def under_other_priors(read: ReadStrain, leading: int) -> Iterator[OtherPrior]:
    """The same results under every site alike, and under the site type alone."""
    for prior in other_priors(read.one.known, read.one.prior):
        after = posterior(read.one.reading, prior)
        readings = Readings(after, (), f"under another prior: {prior.words}; everything else as it was")
        order = by_share(after.share, read.spots)
        yield OtherPrior(
            words=prior.words,
            leading=ranked(readings, leading, read.spots),
            ranked=tuple(ranked(readings, at, read.spots) for at in order[:RANKED]),
        )


def ranked(readings: Readings, at: int, spots: Spots) -> RankedPlace:
    """A place with its chance of a niche."""
    spot = spots.every[at]
    return RankedPlace(place=spot.code, name=spot.name, niche_here=readings.told(niche_at(at)))
