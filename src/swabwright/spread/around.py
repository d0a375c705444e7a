"""Splash, overspray and air: what lands around a source, thinning with distance, stopped by walls."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from swabwright.spread.drawing import Drawing, FloatArray
from swabwright.spread.places import Place
from swabwright.spread.reach import Reach, Target, same_family, with_remainder
from swabwright.spread.sight import CUT, kernel_in_sight, kernel_on_discs, visible

SPRAYED_HOLDERS = frozenset({"drain", "floor", "equipment", "wall", "mobile"})
SPLASHED_HOLDERS = frozenset({"drain", "floor"})
AIRED_HOLDERS = frozenset({"drain", "floor", "air", "overhead"})


@dataclass(frozen=True)
class Spray:
    """One mechanism that spreads around: which places it starts from, and its words."""

    mechanism: str
    starts: Callable[[Place], bool]
    verb: str


SPRAYS = (
    Spray("splash", lambda place: place.wetness == "wet" and place.holder in SPLASHED_HOLDERS, "splash from"),
    Spray("overspray", lambda place: place.wetness == "wet" and place.holder in SPRAYED_HOLDERS, "hosing of"),
    Spray("air", lambda place: place.wetness == "wet" and place.holder in AIRED_HOLDERS, "mist in the air from"),
)


def reaches_around(drawing: Drawing) -> Iterator[Reach]:
    """What every wet place splashes, is hosed and drifts onto."""
    for spray in SPRAYS:
        for row, place in enumerate(drawing.places):
            if spray.starts(place):
                yield _from_rest(drawing, spray, row) if place.is_rest else _from_site(drawing, spray, row)


def _from_site(drawing: Drawing, spray: Spray, row: int) -> Reach:
    place, kernel_m = drawing.places[row], drawing.mechanisms[spray.mechanism].kernel_m
    start = drawing.positions[row]
    rows, metres = _in_reach(drawing, row, CUT * kernel_m)
    masses = kernel_on_discs(start, drawing.positions[rows], _areas(drawing, rows), kernel_m)
    shares = masses * _height_factors(drawing, spray, row, rows) / kernel_in_sight(start, kernel_m, drawing.walls)
    targets = [
        Target(int(to), float(share), f"{spray.verb} {place.label} reaches it, {away:.1f} m away")
        for to, share, away in zip(rows, shares, metres, strict=True)
        if share > 0
    ]
    return _reach(drawing, spray, row, targets)


def _from_rest(drawing: Drawing, spray: Spray, row: int) -> Reach:
    """From somewhere in the rest of a room: every site of the room by its share of the floor."""
    place = drawing.places[row]
    rows = [to for to, other in drawing.sites() if other.room == place.room]
    whole = sum(drawing.places[to].area_m2 for to in rows) + place.area_m2
    targets = [
        Target(to, drawing.places[to].area_m2 / whole, f"{spray.verb} {place.label} reaches it, same room")
        for to in rows
    ]
    return _reach(drawing, spray, row, targets)


def _reach(drawing: Drawing, spray: Spray, row: int, targets: list[Target]) -> Reach:
    place = drawing.places[row]
    why = f"{spray.verb} {place.label} lands where nothing is drawn"
    filled = with_remainder(targets, drawing.rest_row[place.room], why)
    return Reach(row, spray.mechanism, "", f"room:{place.room}", 1.0, filled)


def _in_reach(
    drawing: Drawing, row: int, limit_m: float
) -> tuple[np.ndarray[tuple[int], np.dtype[np.intp]], FloatArray]:
    """Rows of other sites within the limit and in sight, and how far away they are."""
    place = drawing.places[row]
    away = drawing.positions - drawing.positions[row]
    metres = np.hypot(away[:, 0], away[:, 1])
    near = [
        to
        for to in np.flatnonzero(metres <= limit_m + 1.0).tolist()
        if not drawing.places[to].is_rest and not same_family(place, drawing.places[to])
    ]
    rows = np.array([to for to in near if _sees(drawing, row, to)], dtype=np.intp)
    return rows, metres[rows]


def _sees(drawing: Drawing, row: int, to: int) -> bool:
    here, there = drawing.places[row], drawing.places[to]
    if here.room == there.room:
        return bool(visible(drawing.positions[row], drawing.positions[[to]], drawing.walls)[0])
    return drawing.space.sees(here.position, there.position)


def _areas(drawing: Drawing, rows: np.ndarray[tuple[int], np.dtype[np.intp]]) -> FloatArray:
    return np.array([drawing.places[row].area_m2 for row in rows], dtype=np.float64)


def _height_factors(
    drawing: Drawing, spray: Spray, row: int, rows: np.ndarray[tuple[int], np.dtype[np.intp]]
) -> FloatArray:
    """How much less reaches things that hang higher than the source: e-fold by the mechanism's own height."""
    name = f"mechanism.{spray.mechanism}.kernel_height_m"
    higher = np.array([max(0.0, drawing.places[to].height_m - drawing.places[row].height_m) for to in rows])
    return np.asarray(np.exp(-higher / drawing.number(name)), dtype=np.float64)
