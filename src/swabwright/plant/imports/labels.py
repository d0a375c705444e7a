"""Names of drawn things from the texts of the drawing."""

import re
from collections.abc import Sequence

from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as ShapelyPoint

from swabwright.plant.imports.drawing import Block, Label

NOT_A_NAME = re.compile(r"^[\W\d_]*(?:m2|m²|sqm|sq\.? ?ft|mm|cm|m|ft)?\W*$", re.IGNORECASE)
"""A text of figures and a unit only: an area, a dimension, a number."""


def name_inside(outline: Polygon, labels: Sequence[Label]) -> str | None:
    """The name written inside an outline: the largest text that is more than a figure, its first line."""
    inside = [label for label in labels if outline.covers(ShapelyPoint(label.at)) and name_of(label)]
    if not inside:
        return None
    # Room names are written larger than machine names and areas; of equals the leftmost.
    return name_of(min(inside, key=lambda label: (-label.height, label.at)))


def name_beside(path: LineString, labels: Sequence[Label], reach_m: float) -> str | None:
    """The name written nearest to a drawn way, within reach of it."""
    near = [(path.distance(ShapelyPoint(label.at)), label.text, name_of(label)) for label in labels if name_of(label)]
    best = min(near, default=None)
    return best[2] if best and best[0] <= reach_m else None


def name_of(label: Label) -> str | None:
    """The first line of a text that is a name and no figure."""
    for line in label.text.splitlines():
        text = " ".join(line.split())
        if text and not NOT_A_NAME.match(text):
            return text
    return None


def tag_labels(blocks: Sequence[Block]) -> list[Label]:
    """The attributes of symbols as texts at the symbol, the first attribute counting as the largest."""
    return [
        Label(block.layer, text, block.at, block.width / rank)
        for block in blocks
        for rank, text in enumerate(block.attributes.values(), start=1)
        if text
    ]
