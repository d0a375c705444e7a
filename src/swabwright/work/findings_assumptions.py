"""Which figures that nobody has confirmed move the leading place most."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from swabwright.belief.believe import ENDS, at_end
from swabwright.belief.influence import figures_to_try, first_histories, moved_by_multipliers
from swabwright.belief.prior import make_prior
from swabwright.case.findings import Assumption
from swabwright.errors import NothingFits
from swabwright.inference.founding import FIGURE, marginal_founded
from swabwright.inference.leave_out import HISTORIES_A_PAIR
from swabwright.inference.posterior import Posterior, posterior
from swabwright.inference.quantities import niche_at
from swabwright.inference.reading import Reading, read
from swabwright.plant.figures import Figures
from swabwright.work.findings_read import ReadStrain
from swabwright.work.findings_weights import leading_place
from swabwright.work.rests_on import of_figure

PRIOR = "prior."
ALL_POINTS = 100.0
LIKELY = 0.01
"""Share from which a place's own site type is worth another reading; a figure of an unlikely place moves little."""


@dataclass(frozen=True)
class _Moved:
    points: float
    leads: str | None = None


@dataclass(frozen=True)
class Influence:
    """What figures move the chance of a niche at the leading place."""

    strain: ReadStrain
    leading: int

    def assumptions(self) -> tuple[Assumption, ...]:
        """Unconfirmed figures with the points by which they move it, the most first; those of 0 left out.

        Figures of prior and detection: the results read again with the figure at each end of its range. Figures
        inside the bank: regression over its histories on their stored multipliers.
        """
        figures = self.strain.one.known.figures
        # a slope carried to the ends of a range can run past what a chance can move
        moved = {name: _Moved(min(points, ALL_POINTS)) for name, points in self._inside_the_bank().items()}
        moved |= dict(self._by_rereading()) | dict(self._founding())
        order = sorted(moved, key=lambda name: (-moved[name].points, name))
        return tuple(
            Assumption(figure=of_figure(figures[name], moved[name].points), leads_at_an_end=moved[name].leads)
            for name in order
            if round(moved[name].points, 2) > 0
        )

    @property
    def words(self) -> str:
        """How the influence of figures was reckoned."""
        return (
            f"Figures of prior and detection: read again on the first {self._count:,} histories "
            f"({self._base.effective_histories:.0f} effective), batches taken as not contaminated; figures of the "
            f"simulation: regression over all histories ({self.strain.after.effective_histories:.0f} effective). "
            "Figures of a site type: only of places where it was detected or that have a share of 1 in 100."
        )

    @property
    def _count(self) -> int:
        wanted = round(self.strain.one.opened.figures.number("findings.reread_histories"))
        return min(self.strain.one.known.bank.histories, wanted)

    def _inside_the_bank(self) -> dict[str, float]:
        after = self.strain.after
        parts = niche_at(self.leading)(after)
        by_history = parts.part / np.where(parts.whole > 0, parts.whole, 1.0)
        return moved_by_multipliers(self.strain.one.known, by_history, after.histories)

    def _founding(self) -> Iterator[tuple[str, _Moved]]:
        """How old niches are: the histories weighed again, as founding lies inside the bank."""
        figure = self.strain.one.known.figures[FIGURE]
        again = [marginal_founded(self.strain.after, end) for end in (figure.low, figure.high) if end is not None]
        found = [float(marginal[self.leading]) for marginal in again if marginal is not None]
        if found and not figure.confirmed:
            every = (float(self.strain.after.marginal[self.leading]), *found)
            yield FIGURE, _Moved(ALL_POINTS * (max(every) - min(every)))

    @cached_property
    def _reading(self) -> Reading:
        """The results on the first histories of the bank: a difference there needs no more."""
        known = self.strain.one.known
        small = replace(known, bank=first_histories(known.bank, self._count))
        return _clean(read(small, self.strain.one.observations))

    @cached_property
    def _base(self) -> Posterior:
        return posterior(self._reading, self.strain.one.prior, histories_a_pair=HISTORIES_A_PAIR)

    def _by_rereading(self) -> Iterator[tuple[str, _Moved]]:
        items = tuple(result.item for result in self.strain.one.observations.results)
        for name in figures_to_try(self.strain.one.known, items, self._types):
            yield name, self._moved(list(self._at_ends(name)))

    @property
    def _types(self) -> frozenset[str]:
        """Types of the sites that matter: likely ones, and those where something was detected."""
        found = {one.item.site_key for one in self.strain.one.observations.results if one.detected}
        share = dict(zip(self.strain.one.known.bank.source_names, self.strain.after.share, strict=True))
        sites = self.strain.one.known.setting.plant.sites
        return frozenset(site.type for site in sites if site.key in found or share[site.key] >= LIKELY)

    def _at_ends(self, name: str) -> Iterator[Posterior]:
        for end in ENDS:
            try:
                yield self._again(
                    at_end(self.strain.one.known.figures, (name,), end), reread=not name.startswith(PRIOR)
                )
            # a figure whose extreme contradicts the facts is bounded by them; the other end still counts
            except NothingFits:
                continue

    def _again(self, figures: Figures, *, reread: bool) -> Posterior:
        known = self._reading.known.under(figures)
        prior = make_prior(known.setting.plant, known.setting.catalogue, known.bank.source_names)
        # figures of the prior alone leave what the results say of each hypothesis as it was
        own = _clean(read(known, self.strain.observe_under(figures))) if reread else self._reading
        return posterior(own, prior, histories_a_pair=HISTORIES_A_PAIR)

    def _moved(self, ends: list[Posterior]) -> _Moved:
        spots = self.strain.spots
        found = [float(after.marginal[self.leading]) for after in (self._base, *ends)]
        usual = {self.leading, leading_place(self._base.share, spots)}
        others = [place for after in ends if (place := leading_place(after.share, spots)) not in usual]
        return _Moved(ALL_POINTS * (max(found) - min(found)), spots.every[others[0]].name if others else None)


def _clean(reading: Reading) -> Reading:
    """The reading with all batches taken as not contaminated."""
    return replace(reading, states=reading.states[:1])
