"""Simulated studies: what a study of so many plants and samples would have published, were the model right."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from validation.plants import BEFORE, ROUTINE, Reading, Seen
from validation.published import Contrast, Published, Share, SiteKinds

Array = npt.NDArray[np.float64]
EVERY = SiteKinds(groups=("all",))


@dataclass(frozen=True)
class Pool:
    """Plants to draw from: the share of detections at the sites asked for, and over the whole plant."""

    asked: Array
    whole: Array
    background: float


def pool_of(seen: Sequence[Seen], kinds: SiteKinds, reading: Reading = ROUTINE) -> Pool:
    """All draws of all plants that have such a site; every site of the kinds counts alike."""
    having = [one for one in seen if sites_read(one, kinds, reading).any()]
    if not having:
        raise ValueError(f"no invented plant has a site of: {kinds.named}; ask for more plants or sites")
    asked = [one.chance[reading][sites_read(one, kinds, reading)].mean(axis=0) for one in having]
    whole = [one.chance[reading][sites_read(one, EVERY, reading)].mean(axis=0) for one in having]
    return Pool(np.concatenate(asked), np.concatenate(whole), having[0].background)


def sites_read(one: Seen, kinds: SiteKinds, reading: Reading) -> npt.NDArray[np.bool_]:
    """The sites of a plant that are of these kinds and can be sampled so."""
    return np.asarray(one.of(kinds) & ~np.isnan(one.chance[reading]).any(axis=1))


def reading_of(share: Share) -> Reading:
    """A routine square, as it stands, before the start or in production."""
    return BEFORE if share.phase == "before_start" else ROUTINE


def simulated_shares(seen: Sequence[Seen], share: Share, studies: int, seed: int) -> Array:
    """The share that each simulated study would publish, shape (studies,).

    A study draws its plants, those in which it lives by the stated presence, and counts binomially.
    """
    random = np.random.default_rng([seed, *share.id.encode()])
    pool = pool_of(seen, share.kinds, reading_of(share))
    asked, whole = _plants(pool, share, studies, random)
    if share.counts == "samples":
        return _of_samples(asked, whole, share, random)
    return _of_plants(asked, share, random)


def _plants(pool: Pool, share: Share, studies: int, random: np.random.Generator) -> tuple[Array, Array]:
    """Chance of a detection in each plant of each study, at the sites asked for and over all; (studies, plants)."""
    shape = (studies, share.plants)
    drawn = random.integers(len(pool.asked), size=shape)
    presence = random.uniform(*share.presence, size=(studies, 1))
    lives = random.random(shape) < presence
    return np.where(lives, pool.asked[drawn], pool.background), np.where(lives, pool.whole[drawn], pool.background)


def _of_samples(asked: Array, whole: Array, share: Share, random: np.random.Generator) -> Array:
    samples = share.samples or 1
    if share.chosen == "mean":
        return np.asarray(random.binomial(samples, asked.mean(axis=1)) / samples)
    # the study picked its plant by all of its samples, not by the kind of site asked for
    place = whole.argmax(axis=1) if share.chosen == "highest" else whole.argmin(axis=1)
    return np.asarray(random.binomial(samples, asked[np.arange(len(asked)), place]) / samples)


def _of_plants(asked: Array, share: Share, random: np.random.Generator) -> Array:
    found = random.binomial(share.samples_a_plant, asked)
    few = found / share.samples_a_plant < share.below
    return np.asarray((found > 0 if share.counts == "plants_with_any" else few).mean(axis=1))


def overall_ratio(seen: Sequence[Seen], published: Published, contrast: Contrast) -> float:
    """Ratio of the two mean chances over all draws and plants, given that it lives in each."""
    upper, lower = (_asked(seen, published.share(name)) for name in (contrast.upper, contrast.lower))
    return float(upper.mean() / lower.mean())


def simulated_ratios(seen: Sequence[Seen], published: Published, contrast: Contrast, studies: int) -> Array:
    """Ratio of the two shares of a contrast in simulated studies of the same plants, shape (studies,).

    Counts are left out: a share of no detections has no ratio, and the chances behind the counts do.
    """
    upper, lower = published.share(contrast.upper), published.share(contrast.lower)
    random = np.random.default_rng([*contrast.id.encode()])
    having = [one for one in seen if _has(one, upper) and _has(one, lower)]
    # of the same plants, so that draw by draw the two shares belong together
    first, second = _asked(having, upper), _asked(having, lower)
    drawn = random.integers(len(first), size=(studies, upper.plants if upper.chosen == "mean" else 1))
    return np.asarray(first[drawn].mean(axis=1) / second[drawn].mean(axis=1))


def _asked(seen: Sequence[Seen], share: Share) -> Array:
    return pool_of(seen, share.kinds, reading_of(share)).asked


def _has(one: Seen, share: Share) -> bool:
    return bool(sites_read(one, share.kinds, reading_of(share)).any())
