"""Which figures that nobody has confirmed move a plan's chance most."""

from dataclasses import replace

import numpy as np
import numpy.typing as npt

from swabwright.belief.believe import ENDS, Belief, at_end, believe, items_under, reread
from swabwright.belief.estimate import mean
from swabwright.belief.known import Known
from swabwright.belief.outcome import find_chances
from swabwright.belief.rows import HypothesisRows
from swabwright.detection.items import Item
from swabwright.errors import NothingFits
from swabwright.plant.effective import effective_site
from swabwright.plant.figures import Figure, Figures
from swabwright.spread.bank import ResponseBank

Array = npt.NDArray[np.float64]
ROWS, HISTORIES = 1200, 200
"""A plan's chance under changed figures is told from few rows: differences on the same rows are steady."""
GROUPS = ("recovery", "reach", "capacity", "viability", "detection", "prior", "evidence", "product_test")
Z_10_90 = 1.2816
LEAST_FREE = 1e-3
"""A history that fixes a slope all by itself leaves no residual; its error then counts as very large."""
SPREAD = "history.{}_ln_sd"
"""A multiplier that all sites share (`shedding`, `cleaning` ...) is known by the figure of its spread."""
FIGURE_OF = {"rate": "mechanism.{}.rate_per_8h", "fraction": "mechanism.{}.fraction"}


def influence(belief: Belief, items: tuple[Item, ...]) -> tuple[tuple[str, float], ...]:
    """Unconfirmed figures with the points in 100 by which they move the chance of finding, the most first.

    Figures inside the bank: regression of each history's chance on the logarithms of its stored multipliers. All
    others: the same plan read again on a few rows with the figure at the low and the high end of its range.
    """
    # differences between two readings of the same rows are far steadier than either reading
    # after results, hypotheses drawn anew would hardly explain them; those at hand already do
    small = _few_rows(belief) if belief.known.since else small_belief(belief.known)
    moved = by_multipliers(belief, items) | by_rereading(small, items)
    return tuple(sorted(moved.items(), key=lambda pair: (-pair[1], pair[0])))


def small_belief(known: Known) -> Belief:
    """A belief on the first histories of a bank, given that it lives here, for comparing figures quickly."""
    return believe(replace(known, bank=first_histories(known.bank, HISTORIES)), ROWS).living


def _few_rows(belief: Belief) -> Belief:
    """Every n-th hypothesis of a belief, weights summing to 1 again."""
    every = slice(None, None, -(-len(belief.rows) // ROWS))

    def few(rows: HypothesisRows) -> HypothesisRows:
        weight = rows.weight[every] / rows.weight[every].sum()
        return HypothesisRows(rows.history[every], rows.sources[every], weight, rows.copy[every])

    return replace(belief, before=few(belief.before), rows=few(belief.rows))


def first_histories(bank: ResponseBank, count: int) -> ResponseBank:
    """The first histories of a bank as a bank of its own; nothing is copied but the views."""
    return replace(
        bank,
        copy=bank.copy[:count],
        offsets=bank.offsets[:count],
        niche=bank.niche[:count],
        product=bank.product[:count],
        founded_before=bank.founded_before[:count],
        multipliers={name: values[:count] for name, values in bank.multipliers.items()},
    )


def by_rereading(belief: Belief, items: tuple[Item, ...]) -> dict[str, float]:
    """Points by figure, for those that prior, evidence and detection rest on and that have a range."""
    base = _finding(belief, items)
    return {name: _points_over_range(belief, items, name, base) for name in figures_to_try(belief.known, items)}


def figures_to_try(known: Known, items: tuple[Item, ...], types: frozenset[str] | None = None) -> tuple[str, ...]:
    """Unconfirmed figures with a range that the plan's chance rests on outside the bank.

    types: the site types whose own figures are tried, all that are sampled when left out.
    """
    own = [name for name in _of_items(known, items) if types is None or _type_of(name) in (None, *types)]
    prefixes = (*(f"{group}." for group in GROUPS), *own)
    return tuple(
        name
        for name, figure in known.figures.items()
        if name.startswith(prefixes) and not figure.confirmed and _has_range(figure)
    )


def _type_of(name: str) -> str | None:
    """The site type whose figure this is, None for any other figure."""
    return name.split(".")[1] if name.startswith("site_type.") else None


def _of_items(known: Known, items: tuple[Item, ...]) -> tuple[str, ...]:
    setting = known.setting
    sites = {site.key: effective_site(site, setting.catalogue) for site in setting.plant.sites}
    chosen = {item.site_key: sites[item.site_key] for item in items}
    return (
        *sorted({f"device.{item.device}.relative_recovery" for item in items}),
        *sorted({f"surface.{site.surface}.relative_recovery" for site in chosen.values()}),
        *sorted({f"medium.{setting.visit.medium}.{clean.chemistry}" for clean in setting.plant.cleanings}),
        *sorted({f"site_type.{site.type.id}.reach_{item.mode}" for item in items for site in [chosen[item.site_key]]}),
        *sorted({f"site_type.{site.type.id}.log10_capacity_cfu" for site in chosen.values()}),
    )


def _has_range(figure: Figure) -> bool:
    ends = (figure.value if figure.low is None else figure.low, figure.value if figure.high is None else figure.high)
    return ends[0] < ends[1]


def _points_over_range(belief: Belief, items: tuple[Item, ...], name: str, base: float) -> float:
    found = [base]
    for end in ENDS:
        try:
            found.append(_finding(reread(belief, at_end(belief.known.figures, (name,), end)), items))
        # a figure whose extreme contradicts the facts is bounded by them; the other end still counts
        except NothingFits:
            continue
    return 100.0 * (max(found) - min(found))


def _finding(belief: Belief, items: tuple[Item, ...]) -> float:
    return mean(lambda one: find_chances(one.known, one.rows, items_under(one.known, items)), belief)


def by_multipliers(belief: Belief, items: tuple[Item, ...]) -> dict[str, float]:
    """Points by figure, for those inside the bank, from how the chance differs between its histories."""
    known = belief.known
    return moved_by_multipliers(known, find_chances(known, belief.rows, items_under(known, items)), belief.rows)


def moved_by_multipliers(known: Known, values: Array, rows: HypothesisRows) -> dict[str, float]:
    """Points by figure inside the bank, from how a chance of each row, (S,), differs between histories."""
    names = sorted(name for name in known.bank.multipliers if figure_of_multiplier(name, known.figures))
    if not names:
        return {}
    logs = np.log(np.stack([known.bank.multipliers[name].astype(np.float64) for name in names], axis=1))
    slopes = weighted_slopes(values, rows, logs)
    return {
        figure: 100.0 * abs(float(slope)) * _log_range(known.figures[figure], logs[:, place])
        for place, (name, slope) in enumerate(zip(names, slopes, strict=True))
        if (figure := figure_of_multiplier(name, known.figures)) and not known.figures[figure].confirmed
    }


def figure_of_multiplier(name: str, figures: Figures) -> str | None:
    """The figure that a stored multiplier belongs to (`rate.splash`: `mechanism.splash.rate_per_8h`), if any."""
    kind, _, mechanism = name.partition(".")
    figure = FIGURE_OF.get(kind, SPREAD).format(mechanism or kind)
    return figure if figure in figures else None


def weighted_slopes(values: Array, rows: HypothesisRows, predictors: Array) -> Array:
    """Slope of a history's mean chance on each predictor (E, P), histories weighted by evidence, shape (P,).

    Each slope is shrunk by its own standard error (root of slope squared less error squared, 0 below), so that noise
    between few histories does not look like influence.
    """
    histories = predictors.shape[0]
    weight = np.bincount(rows.history, rows.weight, histories)
    used = weight > 0
    chance = np.bincount(rows.history, rows.weight * values, histories)[used] / weight[used]
    scale = np.sqrt(weight[used] / weight[used].mean())[:, None]
    # each history weighs by its evidence, so the regression speaks of the plant that is suspected
    design = np.concatenate([np.ones((int(used.sum()), 1)), predictors[used]], axis=1) * scale
    slopes, *_ = np.linalg.lstsq(design, chance * scale[:, 0], rcond=None)
    residual = chance * scale[:, 0] - design @ slopes
    bread = np.linalg.pinv(design.T @ design)
    # residuals differ in size between histories, and few of them carry most weight: errors that assume neither
    # (White 1980, with the leverage correction HC3 of MacKinnon and White 1985)
    leverage = np.einsum("ij,jk,ik->i", design, bread, design)
    residual = residual / np.maximum(1.0 - leverage, LEAST_FREE)
    error = np.sqrt(np.diag(bread @ (design.T * residual**2) @ design @ bread))
    return np.asarray(np.sqrt(np.maximum(slopes**2 - error**2, 0.0))[1:] * np.sign(slopes[1:]))


def _log_range(figure: Figure, logs: Array) -> float:
    # the range of a spread is not the range of what it spreads
    if figure.low and figure.high and not figure.name.startswith("history."):
        return float(np.log(figure.high / figure.low))
    return float(2.0 * Z_10_90 * logs.std())
