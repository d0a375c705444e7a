"""The stipple said in words: for who cannot see it, and beside it for who can."""

from collections.abc import Sequence

from swabwright.case.plan import Believed, Stipple
from swabwright.reports.footprints import is_drawn
from swabwright.reports.wording import listed

MOST_PLACES = 3
"""So many places are named in the sentence about the dots."""


def dots_said(believed: Sequence[Believed], stipple: Stipple) -> str:
    """The places with most dots, the rest on the drawing, and what is not drawn."""
    drawn = sorted((place for place in believed if is_drawn(place.place)), key=lambda place: -place.dots)
    most, rest = drawn[:MOST_PLACES], drawn[MOST_PLACES:]
    said = [f"{place.dots} at {place.name}" for place in most if place.dots]
    said.append(f"{sum(place.dots for place in rest)} elsewhere on the drawing")
    # the drawing must not be read as more exact than it is
    wider = " Dots of a crowded site are drawn wider than it is." if stipple.drawn_wider else ""
    return f"of 1,000 dots {listed(said)}; {few(stipple.not_drawn)} not on it. No dot is not impossible.{wider}"


def few(dots: int) -> str:
    """A count of dots that stands for a chance: never none, as what is not drawn is never impossible."""
    return str(dots) if dots else "less than 1"
