"""The draws of histories: multipliers, founding times, starting levels, shedding of every niche."""

import numpy as np
import numpy.typing as npt

from swabwright.compute.draws import normals, uniforms
from swabwright.compute.keys import counters, key_hashes
from swabwright.compute.philox import WordArray, philox_words
from swabwright.spread.bank import BankName
from swabwright.spread.copies import StructuralCopy
from swabwright.spread.mechanisms import MECHANISMS
from swabwright.spread.purposes import Purpose, key_of
from swabwright.spread.setting import BankSetting
from swabwright.spread.tables import Draws

FloatArray = npt.NDArray[np.float64]
Numbers = npt.NDArray[np.int64]
Named = tuple[Purpose, tuple[str, ...]]
"""A purpose, and the names of those who draw."""
COMMON = ("shedding", "growth", "cleaning", "die_off")
ALREADY = -1
"""Slot of a niche that was there before the first slot: its level is taken over, not drawn."""
HALF = float(np.sqrt(0.5))


def draw_histories(setting: BankSetting, bank: BankName, numbers: Numbers) -> Draws:
    """The draws of these histories, before their structural copy adds its own multipliers."""
    spreads = setting.spreads
    common = _common(setting, bank, numbers)
    founding, level = _founding(setting, bank, numbers)
    own = _shedding_of_sources(setting, bank, numbers)
    return Draws(
        history=numbers.astype(np.uint64),
        rate=_mechanism_multipliers(setting, bank, numbers, 0),
        fraction=_mechanism_multipliers(setting, bank, numbers, 1),
        shedding=np.exp(spreads.shedding_ln_sd * HALF * (common[:, :1] + own)),
        growth=np.exp(spreads.growth_ln_sd * common[:, 1]),
        cleaning=np.exp(spreads.cleaning_ln_sd * common[:, 2]),
        die_off=np.exp(spreads.die_off_ln_sd * common[:, 3]),
        level=level,
        founded=founding,
        kept=_kept(setting, bank, numbers),
    )


def taken(draws: Draws, which: npt.NDArray[np.intp] | slice) -> Draws:
    """The draws of some of the histories."""
    return Draws(
        history=draws.history[which],
        rate=draws.rate[which],
        fraction=draws.fraction[which],
        shedding=draws.shedding[which],
        growth=draws.growth[which],
        cleaning=draws.cleaning[which],
        die_off=draws.die_off[which],
        level=draws.level[which],
        founded=draws.founded[which],
        kept=draws.kept[which],
    )


def in_copy(draws: Draws, which: npt.NDArray[np.intp] | slice, copy: StructuralCopy) -> Draws:
    """The draws of the histories of one copy, with that copy's own shedding, growth and cleaning."""
    mine = taken(draws, which)
    return mine._replace(
        shedding=mine.shedding * copy.shedding,
        growth=mine.growth * copy.growth,
        cleaning=mine.cleaning * copy.cleaning,
    )


def multipliers_by_name(setting: BankSetting, bank: BankName, draws: Draws) -> dict[str, FloatArray]:
    """Per-history multipliers by name (`rate.splash`, `shedding` ...), for the influence of figures."""
    named = {f"rate.{name}": draws.rate[:, number] for number, name in enumerate(MECHANISMS)}
    named |= {f"fraction.{name}": draws.fraction[:, number] for number, name in enumerate(MECHANISMS)}
    shedding = np.exp(
        setting.spreads.shedding_ln_sd * HALF * _common(setting, bank, draws.history.astype(np.int64))[:, 0]
    )
    return named | {
        "shedding": shedding,
        "growth": draws.growth,
        "cleaning": draws.cleaning,
        "die_off": draws.die_off,
    }


def _words(setting: BankSetting, bank: BankName, what: Named, numbers: Numbers) -> WordArray:
    """Four words of each (history, name), shape (histories, names, 4)."""
    purpose, names = what
    hashes = key_hashes(names)[None, :]
    return philox_words(counters(hashes, numbers[:, None].astype(np.uint64), 0), key_of(setting.seed, bank, purpose))


def _common(setting: BankSetting, bank: BankName, numbers: Numbers) -> FloatArray:
    return normals(_words(setting, bank, (Purpose.HISTORY, COMMON), numbers))[:, :, 0]


def _mechanism_multipliers(setting: BankSetting, bank: BankName, numbers: Numbers, of: int) -> FloatArray:
    """exp(s z), less s^2 / 2 in the exponent where the figure is an average; of: 0 the rate, 1 the fraction."""
    names = tuple(f"mechanism:{name}" for name in MECHANISMS)
    z = normals(_words(setting, bank, (Purpose.HISTORY, names), numbers))[:, :, of]
    sd = setting.spreads.fraction_ln_sd if of else setting.spreads.rate_ln_sd
    means = [m.fraction_mean_one if of else m.rate_mean_one for m in setting.mechanisms]
    return np.asarray(np.exp(sd * z - 0.5 * sd**2 * np.array(means)), dtype=np.float64)


def _families(setting: BankSetting) -> tuple[str, ...]:
    network = setting.network
    return tuple(place.family for place in network.places) + tuple(f"line:{line}" for line in network.lines)


def _shedding_of_sources(setting: BankSetting, bank: BankName, numbers: Numbers) -> FloatArray:
    return normals(_words(setting, bank, (Purpose.SHEDDING, _families(setting)), numbers))[:, :, 0]


def _founding(
    setting: BankSetting, bank: BankName, numbers: npt.NDArray[np.int64]
) -> tuple[npt.NDArray[np.int32], FloatArray]:
    """First slot with the niche, and its level then; incoming material is there from the start, at its own unit."""
    u = uniforms(_words(setting, bank, (Purpose.FOUNDING, _families(setting)), numbers))
    spreads, clock = setting.spreads, setting.clock
    first, last = clock.founding_hours
    young = (u[:, :, 0] >= spreads.founded_before_share) & (last > first)
    hours = np.where(young, first + u[:, :, 1] * (last - first), clock.start_hours)
    starts = np.concatenate([[0.0], np.cumsum(clock.hours)])[:-1]
    founded = np.searchsorted(starts, hours).astype(np.int32)
    if clock.hours_before > 0:
        founded[hours <= -clock.hours_before] = ALREADY
    level = spreads.start_level_low + u[:, :, 2] * (spreads.start_level_high - spreads.start_level_low)
    rows = len(setting.network.places)
    founded[:, rows:], level[:, rows:] = (ALREADY if clock.hours_before > 0 else 0), 1.0
    return founded, level


def _kept(setting: BankSetting, bank: BankName, numbers: Numbers) -> FloatArray:
    """Share of every niche that the treatment leaves: one draw a (history, source), whenever it is done."""
    families = _families(setting)
    if setting.treatment is None:
        return np.ones((len(numbers), len(families)))
    return setting.treatment.kept(uniforms(_words(setting, bank, (Purpose.TREATMENT, families), numbers))[:, :, 0])
