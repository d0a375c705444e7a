"""Which figures that nobody has confirmed move the leading place most."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np

from swabwright.belief.believe import ENDS, at_end
from swabwright.belief.influence import figures_to_try, first_histories, moved_by_multipliers
from swabwright.case.findings import Assumption
from swabwright.errors import NothingFits
from swabwright.inference.posterior import Posterior
from swabwright.inference.quantities import niche_at
from swabwright.work.findings_read import ReadStrain
from swabwright.work.findings_weights import leading_place
from swabwright.work.read_case import read_bank
from swabwright.work.rests_on import of_figure


@dataclass(frozen=True)
class _Moved:
    points: float
    leads: str | None = None


def assumptions(read: ReadStrain, leading: int) -> tuple[Assumption, ...]:
    """Unconfirmed figures with the points by which they move the leading place, the most first; those of 0 left out.

    Figures of prior and detection: the results read again on the first histories of the bank with the figure at each
    end of its range. Figures inside the bank: regression over its histories on their stored multipliers.
    """
    figures = read.one.known.figures
    moved = {name: _Moved(points) for name, points in _inside_the_bank(read, leading).items()}
    moved |= dict(_by_rereading(_small(read), leading))
    order = sorted(moved, key=lambda name: (-moved[name].points, name))
    return tuple(
        Assumption(figure=of_figure(figures[name], moved[name].points), leads_at_an_end=moved[name].leads)
        for name in order
        if round(moved[name].points, 2) > 0
    )


def _inside_the_bank(read: ReadStrain, leading: int) -> dict[str, float]:
    parts = niche_at(leading)(read.after)
    by_history = parts.part / np.where(parts.whole > 0, parts.whole, 1.0)
    return moved_by_multipliers(read.one.known, by_history, read.after.histories)


def _small(read: ReadStrain) -> ReadStrain:
    """The same results on the first histories of the bank: a difference there needs no more."""
    one, bank = read.one, read.one.known.bank
    count = min(bank.histories, round(one.opened.figures.number("findings.reread_histories")))
    small = bank if count == bank.histories else first_histories(bank, count)
    return replace(read, one=read_bank(one.opened, small, one.observations))


def _by_rereading(read: ReadStrain, leading: int) -> Iterator[tuple[str, _Moved]]:
    items = tuple(result.item for result in read.one.observations.results)
    base = read.after
    for name in figures_to_try(read.one.known, items):
        yield name, _moved(base, list(_at_ends(read, name)), leading, read)


def _at_ends(read: ReadStrain, name: str) -> Iterator[Posterior]:
    for end in ENDS:
        try:
            yield read.under(at_end(read.one.known.figures, (name,), end)).after
        # a figure whose extreme contradicts the facts is bounded by them; the other end still counts
        except NothingFits:
            continue


def _moved(base: Posterior, ends: list[Posterior], leading: int, read: ReadStrain) -> _Moved:
    found = [float(after.marginal[leading]) for after in (base, *ends)]
    usual = leading_place(base.share, read.spots)
    others = [place for after in ends if (place := leading_place(after.share, read.spots)) != usual]
    return _Moved(100.0 * (max(found) - min(found)), read.spots.every[others[0]].name if others else None)
