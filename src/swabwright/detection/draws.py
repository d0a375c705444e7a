"""What is uncertain about a sample and a niche in each history: reach, whether its spot is hit, recovery, capacity."""

from functools import lru_cache

import numpy as np
import numpy.typing as npt

from swabwright.compute.draws import normals, uniforms
from swabwright.compute.keys import counters, key_hash, key_hashes, stream_key
from swabwright.compute.philox import WordArray, philox_words
from swabwright.detection.items import Item, ItemDraws
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.effective import site_figure
from swabwright.plant.figures import Figures
from swabwright.plant.sites import Site
from swabwright.spread.bank import ResponseBank
from swabwright.spread.purposes import BANKS

FloatArray = npt.NDArray[np.float32]
RECOVERY, REACH, CAPACITY = 48, 49, 50
"""Purposes of the random streams, apart from those of the histories."""
KEPT = 16
"""Sets of words kept in memory, 16 bytes a name and history."""
MODE_WORD = {"as_is": 0, "opened": 2}
"""First of the two words (reach, hit) of a mode in the four words of a site and history."""


def item_draws(bank: ResponseBank, plant: Plant, catalogue: Catalogue, items: tuple[Item, ...]) -> ItemDraws:
    """The draws of every history of a bank; they hang on site keys, so order and names of sites change nothing."""
    return ItemDraws(
        reach=reach_draws(bank, items, catalogue.figures),
        recovery=recovery_draws(bank, catalogue.figures),
        log10_capacity=capacity_draws(bank, plant, catalogue),
    )


def reach_draws(bank: ResponseBank, items: tuple[Item, ...], figures: Figures) -> FloatArray:
    """Share of a niche that each item gets in each history, shape (items, E): min(1, reach x u), 0 if not hit.

    u = exp(ln_sd z) and the hit are drawn once per (history, site, mode), whatever the device.
    """
    keys = tuple(sorted({item.shared_key for item in items}))
    words = dict(zip(keys, _words(bank, REACH, key_hashes(keys)), strict=True))
    ln_sd = figures.number("reach.ln_sd")
    out = np.empty((len(items), bank.histories), np.float32)
    for index, item in enumerate(items):
        # one draw for all devices of a site and mode: the niche is as deep for a swab as for a sponge
        own = words[item.shared_key]
        first = MODE_WORD[item.mode]
        share = np.minimum(1.0, item.reach * np.exp(ln_sd * normals(own[:, first])))
        out[index] = np.where(uniforms(own[:, first + 1]) < item.hit_chance, share, 0.0)
    return out


def recovery_draws(bank: ResponseBank, figures: Figures) -> FloatArray:
    """Factor on recovery in each history, shape (E,): between visits and hands, and lower in some structural copies.

    Its mean is 1 within a copy where the wet recovery is quoted as an average, else its median is.
    """
    z = normals(_words(bank, RECOVERY, key_hashes(("history",)))[0, :, 0])
    ln_sd = figures.number("recovery.ln_sd")
    shift = 0.5 * ln_sd**2 if figures["recovery.wet"].central == "mean" else 0.0
    # within a structural copy recovery is lower for all histories alike: part of what may be wrong throughout
    copies = counters(key_hashes(("copy",)), bank.copy.astype(np.uint64), 0)
    depth = uniforms(philox_words(copies, _key(bank, RECOVERY))[:, 0])
    lowest = np.log(figures.number("recovery.structural_low"))
    return np.asarray(np.exp(ln_sd * z - shift + lowest * depth), dtype=np.float32)


def capacity_draws(bank: ResponseBank, plant: Plant, catalogue: Catalogue) -> FloatArray:
    """log10 CFU of a full niche at every source in each history, shape (E, sources): N(site type, log10_sd)."""
    sites = {site.key: site for site in plant.sites}
    hashes = np.array([key_hash(_draws_key(name, sites)) for name in bank.source_names], np.uint64)
    z = normals(_words(bank, CAPACITY, hashes)[:, :, 0])
    centre = np.array([_centre(name, sites, catalogue) for name in bank.source_names])
    return np.asarray((centre[:, None] + catalogue.figures.number("capacity.log10_sd") * z).T, dtype=np.float32)


def _centre(source: str, sites: dict[str, Site], catalogue: Catalogue) -> float:
    if source in sites:
        return site_figure(sites[source], catalogue)("log10_capacity_cfu")
    kind = "incoming" if source.startswith("line:") else "rest_of_room"
    return catalogue.figures.number(f"capacity.{kind}_log10_cfu")


def _draws_key(source: str, sites: dict[str, Site]) -> str:
    site = sites.get(source)
    return (site.split_from or site.key) if site else source


def _words(bank: ResponseBank, purpose: int, hashes: npt.NDArray[np.uint64]) -> WordArray:
    return _kept_words(_key(bank, purpose), bank.histories, hashes.tobytes())


@lru_cache(maxsize=KEPT)
def _kept_words(key: tuple[int, int], histories: int, hashes: bytes) -> WordArray:
    """Words of each name and history, shape (names, histories, 4), read-only: the same plan is read many times."""
    names = np.frombuffer(hashes, np.uint64)
    words = philox_words(counters(names[:, None], np.arange(histories, dtype=np.uint64)[None, :], 0), key)
    words.flags.writeable = False
    return words


def _key(bank: ResponseBank, purpose: int) -> tuple[int, int]:
    return stream_key(bank.seed, BANKS[bank.bank], purpose)
