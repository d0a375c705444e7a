"""Simulated investigations: so many samples in a plant where it lives, at a place like the one that was found."""

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from validation.plants import OPENED, SOUGHT, Seen
from validation.published import Round, SiteKinds
from validation.studies import EVERY, sites_read

Array = npt.NDArray[np.float64]
CONTACT = SiteKinds(zones=(1,))


def living_at(one: Seen, niche: SiteKinds) -> npt.NDArray[np.bool_]:
    """Draws in which a niche lies at a site of these kinds, shape (draws,); all draws where every site is meant."""
    if niche.every:
        return np.ones(len(one.niches), np.bool_)
    of_kind = np.append(one.of(niche), False)
    # index -1, no niche on a site, reads the entry that was appended
    return np.asarray(of_kind[one.niches].any(axis=1))


def simulated_counts(seen: Sequence[Seen], told: Round, studies: int, seed: int) -> Array:
    """Share of samples that detect it in rounds of that size, shape (up to studies,); rounds without any left out.

    Samples fall on any site that can be sampled as it stands; a published round is one in which it was detected.
    """
    samples = told.samples or 1
    random = np.random.default_rng([seed, *told.id.encode()])
    shares = np.concatenate([_share(one, EVERY)[living_at(one, told.niche)] for one in seen])
    found = random.binomial(samples, random.choice(shares, size=studies))
    return np.asarray(found[found > 0] / samples)


def simulated_on_contact(seen: Sequence[Seen], told: Round, studies: int, seed: int) -> Array:
    """Share of the detections that lie on food contact, in rounds with as many detections, shape (studies,)."""
    random = np.random.default_rng([seed, *told.id.encode()])
    parts, weights = [], []
    for one in seen:
        living = living_at(one, told.niche)
        parts.append(_sum(one, CONTACT)[living] / _sum(one, EVERY)[living])
        # a plant with more detections is likelier to have been the one that was published
        weights.append(_sum(one, EVERY)[living])
    weight = np.concatenate(weights)
    drawn = random.choice(np.concatenate(parts), size=studies, p=weight / weight.sum())
    return np.asarray(random.binomial(told.detected or 1, drawn) / (told.detected or 1))


def at_the_niche(seen: Sequence[Seen], told: Round) -> tuple[Array, Array]:
    """Chance of a detection at the niche itself, sampled closed and opened up, one entry per draw and niche."""
    closed, opened = [], []
    for one in seen:
        both = one.of(told.niche) & sites_read(one, EVERY, SOUGHT) & sites_read(one, EVERY, OPENED)
        draws, turns = np.nonzero(np.append(both, False)[one.niches])
        sites = one.niches[draws, turns]
        closed.append(one.chance[SOUGHT][sites, draws])
        opened.append(one.chance[OPENED][sites, draws])
    return np.concatenate(closed), np.concatenate(opened)


def _share(one: Seen, kinds: SiteKinds) -> Array:
    return np.asarray(one.chance[SOUGHT][sites_read(one, kinds, SOUGHT)].mean(axis=0))


def _sum(one: Seen, kinds: SiteKinds) -> Array:
    return np.asarray(one.chance[SOUGHT][sites_read(one, kinds, SOUGHT)].sum(axis=0))
