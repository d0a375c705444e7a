"""A belief: hypothesis rows of one bank, weighted by prior and facts, that can be read again with other figures."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from math import fsum
from typing import Literal

import numpy as np
import numpy.typing as npt

from swabwright.belief.evidence import all_facts, weigh
from swabwright.belief.known import Known
from swabwright.belief.mixture import mixed_rows
from swabwright.belief.prior import LINE, Prior, make_prior
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.choices import make_item
from swabwright.detection.items import Item
from swabwright.plant.effective import effective_site
from swabwright.plant.figures import Figures

End = Literal["low", "high"]
ENDS: tuple[End, End] = ("low", "high")
RECOVERY = ("recovery.wet", "recovery.damp", "recovery.dry")
UNIFORM = "prior.uniform_share"


@dataclass(frozen=True)
class Belief:
    """What is believed on one bank: the prior, the rows weighted by it (`before`) and by the facts too (`rows`)."""

    known: Known
    prior: Prior
    before: HypothesisRows
    rows: HypothesisRows

    @cached_property
    def living(self) -> "Belief":
        """The belief given that a niche is in the plant, drawn or not: incoming material alone gets no weight."""
        incoming = incoming_sources(self.known)
        sources = self.before.sources
        lives = np.asarray(((sources >= 0) & ~incoming[sources]).any(axis=1))
        return replace(self, before=_only(self.before, lives), rows=_only(self.rows, lives))

    @cached_property
    def readings(self) -> tuple[tuple[str, "Belief"], ...]:
        """The same rows with recovery low and high, and with less and more of the prior even; each named."""
        figures = self.known.figures
        named = [(f"recovery {end}", at_end(figures, RECOVERY, end)) for end in ENDS]
        # the two readings that a range must always survive: how much is recovered, how far the prior is trusted
        evens = [at_end(figures, (UNIFORM,), end) for end in ENDS]
        named += [(f"{even.number(UNIFORM) * 100:.0f} in 100 of the prior even", even) for even in evens]
        return tuple((words, reread(self, changed)) for words, changed in named)


def believe(known: Known, count: int, possible: npt.NDArray[np.bool_] | None = None) -> Belief:
    """The belief with about `count` rows; `possible` (sources,) restricts where niches may be.

    Facts that no row explains are refused by name (NothingFits).
    """
    plain = make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)
    prior = plain if possible is None else plain.given(possible)
    before = mixed_rows(known, prior, count)
    return Belief(known, prior, before, weigh(before, all_facts(known, before)))


def reread(belief: Belief, figures: Figures) -> Belief:
    """The same rows read with other figures of prior, evidence and detection; the bank stays as it is."""
    known = belief.known.under(figures)
    plain = make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)
    # a belief restricted to some sources stays restricted to them
    prior = plain.given(belief.prior.weight > 0)
    # the rows were proposed under the old prior, so each moves by the ratio of new to old
    weight = belief.before.weight * prior.of_sets(belief.before.sources) / belief.prior.of_sets(belief.before.sources)
    before = replace(belief.before, weight=weight / fsum(weight))
    return Belief(known, prior, before, weigh(before, all_facts(known, before)))


def items_under(known: Known, items: tuple[Item, ...]) -> tuple[Item, ...]:
    """The same samples with the figures of `known`: their recovery, reach and chance to hit are made again."""
    sites = {site.key: site for site in known.setting.plant.sites}
    return tuple(
        replace(
            make_item(
                known.setting,
                effective_site(sites[item.site_key], known.setting.catalogue),
                (item.mode, item.device),
                item.occasion,
            ),
            row=item.row,
        )
        for item in items
    )


def incoming_sources(known: Known) -> npt.NDArray[np.bool_]:
    """Which sources are incoming material, shape (sources,)."""
    return np.array([name.startswith(LINE) for name in known.bank.source_names])


def at_end(figures: Figures, names: Sequence[str], end: End) -> Figures:
    """The figures with some of them at the `low` or `high` end of their range; one without a range stays."""
    ends = {name: figures[name].low if end == "low" else figures[name].high for name in names}
    changed = {name: replace(figures[name], value=value) for name, value in ends.items() if value is not None}
    return Figures({name: changed.get(name, figure) for name, figure in figures.items()})


def _only(rows: HypothesisRows, kept: npt.NDArray[np.bool_]) -> HypothesisRows:
    weight = np.where(kept, rows.weight, 0.0)
    return replace(rows, weight=weight / weight.sum())
