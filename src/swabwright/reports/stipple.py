"""The stipple: exactly 1,000 dots that show where it may live."""

from collections.abc import Sequence
from hashlib import sha256

from shapely import Point
from shapely.geometry.base import BaseGeometry

from swabwright.case.plan import Believed, Stipple
from swabwright.errors import SwabwrightError
from swabwright.plant.document import Plant
from swabwright.reports.footprints import floor, footprint, is_drawn, room_polygon
from swabwright.reports.scatter import Dot, Sheet, own_dots, settle
from swabwright.reports.tokens import DOT_OF_SPACING, DOTS, MAP_MM, SPACING_MM


def stipple(plant: Plant, believed: Sequence[Believed], seed: int) -> Stipple:
    """Exactly 1,000 dots in metres, those of each place in the order of `believed`; incoming material is counted.

    A place's dots depend on the seed and on the site's key alone, save where two places meet: a recount moves
    as few as it can. A place that is too small for its dots is drawn wider than it is, and listed.
    """
    total = sum(place.dots for place in believed)
    if total != DOTS:
        raise SwabwrightError(f"the dots of the belief add to {total}; they must add to exactly {DOTS:,}")
    spacing = spacing_m(plant)
    drawn = [place for place in believed if is_drawn(place.place) and place.dots]
    placed = _placed(plant, drawn, spacing, seed)
    return Stipple(
        dots=tuple(dot for place in drawn for dot in placed[place.place]),
        not_drawn=sum(place.dots for place in believed if not is_drawn(place.place)),
        drawn_wider=tuple(p.place for p in drawn if _is_wider(plant, p.place, placed[p.place])),
        diameter_m=round(spacing * DOT_OF_SPACING, 4),
        spacing_m=spacing,
    )


def spacing_m(plant: Plant) -> float:
    """The smallest distance of two dots in metres, so that they stay countable on the map of the whole plant."""
    left, low, right, high = floor(plant).bounds
    metres_per_mm = max((right - left) / MAP_MM[0], (high - low) / MAP_MM[1])
    return round(SPACING_MM * metres_per_mm, 4)


def largest_remainder(shares: Sequence[float], total: int = DOTS) -> list[int]:
    """Whole dots for shares that add to one, so that they add to `total` (Hamilton's method of largest remainder)."""
    exact = [share * total / sum(shares) for share in shares]
    counts = [int(value) for value in exact]
    by_remainder = sorted(range(len(exact)), key=lambda i: (counts[i] - exact[i], i))
    for i in by_remainder[: total - sum(counts)]:
        counts[i] += 1
    return counts


def _placed(plant: Plant, drawn: Sequence[Believed], spacing: float, seed: int) -> dict[str, list[Dot]]:
    keys = {place.place: _key(plant, place.place, seed) for place in drawn}
    sheet, placed, whole = Sheet(spacing), {}, floor(plant)
    # the order hangs on the key, not on the count, so that a recount settles conflicts the same way as before
    for place in sorted(drawn, key=lambda p: keys[p.place]):
        area, room = footprint(plant, place.place), _room(plant, place.place)
        dots = []
        for dot in own_dots(area, room, place.dots, spacing, keys[place.place]):
            settled = settle(dot, sheet, (area, room, whole))
            sheet.add(settled)
            dots.append(settled)
        placed[place.place] = dots
    return placed


def _key(plant: Plant, place: str, seed: int) -> bytes:
    """Bytes that stand for the place whatever it is called: of its permanent key, or of its room."""
    # codes and names may change; the permanent key does not
    identity = next((site.key for site in plant.sites if site.code == place), place)
    return sha256(f"{seed}:{identity}".encode()).digest()


def _room(plant: Plant, place: str) -> BaseGeometry:
    room = next((site.room for site in plant.sites if site.code == place), place.removeprefix("room:"))
    return room_polygon(plant, room)


def _is_wider(plant: Plant, place: str, dots: Sequence[Dot]) -> bool:
    area = footprint(plant, place).buffer(0.001)
    return not all(area.covers(Point(dot)) for dot in dots)
