"""What a scan looks at: detections and trials by site and period, and the distances between sites."""

from dataclasses import dataclass

import numpy as np

from swabwright.errors import SwabwrightError
from swabwright.inference.windows import Floats, Ints

MOST_COUNTED = 1_000_000
"""Samples of all sites together; each rearrangement holds them all."""


@dataclass(frozen=True)
class SitesTested:
    """What was tested: detections and trials (or exposure) by site and period, and distances between sites."""

    sites: tuple[str, ...]
    detections: Ints
    base: Floats
    """(sites, periods): trials (whole numbers) of the Bernoulli model, exposure of the Poisson model."""
    distances_m: Floats
    """(sites, sites): straight or on foot; infinite where there is no way."""
    model: str = "bernoulli"
    periods: tuple[int, ...] = ()
    """The numbers of the periods, rising; 0, 1, 2 ... when not given."""

    def period(self, place: int) -> int:
        """The number of the period in this column."""
        return self.periods[place] if self.periods else place


def check_tested(tested: SitesTested) -> None:
    """Raise SwabwrightError, with the site, where a count, an exposure or a distance cannot be what it says."""
    for name in sorted({site for site in tested.sites if tested.sites.count(site) > 1}):
        raise SwabwrightError(f"site {name}: stands more than once among the sites tested")
    for site, counts, base in zip(tested.sites, tested.detections, tested.base, strict=True):
        _check_site(site, counts, base, bernoulli=tested.model == "bernoulli")
    _check_distances(tested)
    counted = int(max(tested.detections.sum(), tested.base.sum() if tested.model == "bernoulli" else 0))
    if counted > MOST_COUNTED:
        raise SwabwrightError(f"{counted} samples in all are more than the {MOST_COUNTED} that a scan can lay anew")
    if tested.periods and len(tested.periods) != tested.base.shape[1]:
        raise SwabwrightError(f"periods: {len(tested.periods)} numbers for {tested.base.shape[1]} periods")


def _check_site(site: str, counts: Ints, base: Floats, *, bernoulli: bool) -> None:
    if (counts < 0).any() or (base < 0).any() or not np.isfinite(base).all():
        raise SwabwrightError(f"site {site}: a count or an exposure is below 0 or not a number")
    if bernoulli and (base % 1 != 0).any():
        raise SwabwrightError(f"site {site}: samples are counted whole; use the poisson model for an exposure")
    if bernoulli and (counts > base).any():
        raise SwabwrightError(f"site {site}: more detections than samples; check both columns")
    if (counts[base == 0] > 0).any():
        raise SwabwrightError(f"site {site}: detections where nothing was tested")


def _check_distances(tested: SitesTested) -> None:
    distances = tested.distances_m
    if distances.shape != (len(tested.sites), len(tested.sites)):
        raise SwabwrightError(f"distances: {distances.shape} do not fit {len(tested.sites)} sites")
    for one, row in enumerate(distances):
        # Written so that a distance that is not a number fails too.
        wrong = ~((row >= 0.0) & (np.isclose(row, distances[:, one])))
        wrong[one] |= row[one] != 0.0
        if wrong.any():
            other = tested.sites[int(np.argmax(wrong))]
            raise SwabwrightError(f"distance of site {tested.sites[one]} and site {other}: not the same both ways")
