"""Where numbers and names stand: the free one of several positions."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import shapely
from shapely import MultiLineString, Point, Polygon, STRtree, box
from shapely.geometry.base import BaseGeometry

from swabwright.reports.frame import Dot

DIRECTIONS: tuple[Dot, ...] = ((1, 0), (-1, 0), (0, -1), (0, 1), (0.8, -0.8), (-0.8, -0.8), (0.8, 0.8), (-0.8, 0.8))
"""Eight positions around a mark: beside it first, corners last."""
COVERS_LINE, COVERS_MARK, COVERS_TEXT, COVERS_WALL, COVERS_FIXTURE = 3.0, 30.0, 30.0, 4.0, 0.8
STEP = 0.02


@dataclass(frozen=True)
class Label:
    """A text's box on paper: its middle, width and height in millimetres."""

    middle: Dot
    width: float
    height: float

    @property
    def box(self) -> Polygon:
        """The box that the text fills."""
        x, y = self.middle
        return box(x - self.width / 2, y - self.height / 2, x + self.width / 2, y + self.height / 2)


@dataclass
class Paper:
    """What already lies on the paper, and how bad it is to cover it."""

    bounds: Polygon
    lines: MultiLineString
    marks: list[BaseGeometry]
    walls: BaseGeometry
    fixtures: BaseGeometry
    texts: list[BaseGeometry] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Makes the index of what may be covered."""
        self._segments = list(self.lines.geoms)
        self._lines = STRtree(self._segments)
        self._marks = STRtree(self.marks)
        shapely.prepare(self.walls)
        shapely.prepare(self.fixtures)

    def cost(self, area: Polygon) -> float:
        """Zero where nothing is covered; otherwise how much, weighted by what."""
        lines = sum(self._segments[i].intersection(area).length for i in self._lines.query(area, "intersects"))
        marks = sum(self.marks[i].intersection(area).area for i in self._marks.query(area, "intersects"))
        texts = sum(text.intersection(area).area for text in self.texts if text.intersects(area))
        wall = self.walls.intersection(area).area if self.walls.intersects(area) else 0.0
        outside = 0.0 if self.bounds.contains(area) else area.difference(self.bounds).area
        fixture = self.fixtures.intersection(area).length if self.fixtures.intersects(area) else 0.0
        covered = COVERS_FIXTURE * fixture + COVERS_MARK * marks + COVERS_TEXT * (texts + outside) + COVERS_WALL * wall
        return float(COVERS_LINE * lines + covered)

    def best(self, candidates: Sequence[Label]) -> tuple[Label, float]:
        """The candidate that covers least, the first of equals, with its cost."""
        # the small step makes the choice the same on every machine when two cost alike
        costs = [self.cost(label.box) + STEP * i for i, label in enumerate(candidates)]
        chosen = min(range(len(candidates)), key=costs.__getitem__)
        return candidates[chosen], costs[chosen] - STEP * chosen


def around(centre: Dot, radius: float, size: Dot, below: float = 0.0) -> list[Label]:
    """The eight positions of a text of `size` around a mark; `below` is the stick under it."""
    width, height = size
    labels = []
    # nearest positions first; farther ones are only for a crowd
    for gap in (0.25, 1.1, 2.2):
        for across, down in DIRECTIONS:
            # a stick points straight down, so a number below it stands under its end
            reach = radius + gap + (below if down > 0 and not across else 0.0)
            shift = reach if across == 0 or down == 0 else reach * 0.72 / 0.8
            x = centre[0] + across * shift + (width / 2) * (across > 0) - (width / 2) * (across < 0)
            y = centre[1] + down * shift + (height / 2) * (down > 0) - (height / 2) * (down < 0)
            labels.append(Label((x, y), width, height))
    return labels


def inside(area: BaseGeometry, size: Dot) -> Iterator[Label]:
    """Positions of a text of `size` within a room: along its top and bottom, then lines between."""
    width, height = size
    left, top, right, bottom = area.bounds
    # names of rooms are looked for in the corners first
    rows = [top + 1.2, bottom - 1.2 - height]
    rows += [top + (bottom - top) * k / 12 for k in range(1, 12)]
    for y in rows:
        for k in range(17):
            x = left + 1.3 + (right - left - 2.6 - width) * k / 16
            label = Label((x + width / 2, y + height / 2), width, height)
            if area.contains(label.box):
                yield label


def disc(at: Dot, radius: float, below: float = 0.0) -> BaseGeometry:
    """The paper that a mark fills, its stick included."""
    shape = Point(at).buffer(radius)
    return shape.union(box(at[0] - 0.8, at[1], at[0] + 0.8, at[1] + radius + below)) if below else shape
