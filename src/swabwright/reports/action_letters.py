"""Actions as lettered squares: filled what we saw done, outlined what the plant says, dashed what is promised."""

from collections.abc import Iterator

from shapely import Polygon

from swabwright.case.clearance import ActionRead
from swabwright.plant.document import Plant
from swabwright.plant.model import Point
from swabwright.reports.fonts import text_width
from swabwright.reports.picture import text_svg
from swabwright.reports.spots import Badge

SIDE_MM, LETTER_MM, PAD_MM = 4.2, 2.9, 0.6
DASHES = ' stroke-dasharray="1 0.6"'
KNOWN = {
    "seen": "done, and we saw it",
    "said": "done, says the plant",
    "promised": "promised",
    "asked": "asked, not promised",
}
MOST_SITES = 3
"""An action at more sites is lettered at the first of them."""


def letter_of(at: int) -> str:
    """The letter of the action at a place in the list: A to Z, then A2 and so on."""
    again, letter = divmod(at, 26)
    return chr(ord("A") + letter) + (str(again + 1) if again else "")


def letter_svg(letter: str, known_by: str) -> tuple[str, tuple[float, float]]:
    """The square drawn around 0,0, and its size in millimetres."""
    width = max(SIDE_MM, text_width(letter, LETTER_MM, 600) + 2 * PAD_MM)
    seen, dashed = known_by == "seen", known_by in ("promised", "asked")
    edge = (
        f'<rect x="{-width / 2:.2f}" y="{-SIDE_MM / 2:.2f}" width="{width:.2f}" height="{SIDE_MM}" '
        f'fill="{"#000" if seen else "#fff"}" stroke="#000" stroke-width="0.5"'
        f"{DASHES if dashed else ''}/>"
    )
    text = text_svg(letter, (0.0, 0.0), LETTER_MM, weight=600, anchor="middle")
    return edge + (text.replace('fill="#000"', 'fill="#fff"') if seen else text), (width, SIDE_MM)


def action_badges(actions: tuple[ActionRead, ...], plant: Plant) -> tuple[Badge, ...]:
    """Each action's letter at its rooms, else at its sites."""
    made = []
    for at, action in enumerate(actions):
        svg, size = letter_svg(letter_of(at), action.known_by)
        made += [Badge(place, svg, size, 2.0) for place in _places(action, plant)]
    return tuple(made)


def _places(action: ActionRead, plant: Plant) -> Iterator[Point]:
    if action.rooms:
        for room in plant.rooms:
            if room.id in action.rooms:
                middle = Polygon(room.outline).representative_point()
                yield middle.x, middle.y
        return
    drawn = {site.code: site.position for site in plant.sites}
    places = [drawn[code] for code in action.sites if code in drawn]
    yield from places if len(places) <= MOST_SITES else places[:1]
