"""From metres in the plant to millimetres on the page, and paths as SVG writes them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from shapely import Polygon
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

Dot = tuple[float, float]


@dataclass(frozen=True)
class Frame:
    """Where the drawing lies on the page: y runs upwards in the plant and downwards on paper."""

    left_m: float
    top_m: float
    mm_per_m: float
    width_mm: float
    height_mm: float
    margin_mm: float

    def point(self, at: Dot) -> Dot:
        """A position in metres as millimetres from the picture's upper left corner."""
        x = (at[0] - self.left_m) * self.mm_per_m + self.margin_mm
        return x, (self.top_m - at[1]) * self.mm_per_m + self.margin_mm

    def points(self, path: Iterable[Dot]) -> list[Dot]:
        """A path in metres as millimetres on the page."""
        return [self.point(at) for at in path]

    def shape(self, geometry: BaseGeometry) -> BaseGeometry:
        """A shape in metres as a shape in millimetres on the page."""
        k, margin = self.mm_per_m, self.margin_mm
        # the minus turns the plant's y, which runs up, into the page's, which runs down
        return affine_transform(geometry, [k, 0, 0, -k, margin - self.left_m * k, margin + self.top_m * k])


def frame_for(area_m: BaseGeometry, room_mm: tuple[float, float], margin_mm: float = 3.8) -> Frame:
    """The frame that fits an area in metres as large as it can into `room_mm` (width and height)."""
    left, low, right, high = area_m.bounds
    width, height = right - left, high - low
    scale = min((room_mm[0] - 2 * margin_mm) / width, (room_mm[1] - 2 * margin_mm) / height)
    return Frame(left, high, scale, width * scale + 2 * margin_mm, height * scale + 2 * margin_mm, margin_mm)


def d(points: Sequence[Dot], closed: bool = False) -> str:
    """The `d` attribute of a path through the points."""
    if not points:
        return ""
    return "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in points) + ("Z" if closed else "")


def outlines(geometry: BaseGeometry) -> str:
    """The `d` attribute of every ring and line of a shape."""
    if geometry.is_empty:
        return ""
    if isinstance(geometry, Polygon):
        rings = [geometry.exterior, *geometry.interiors]
        return "".join(d(list(ring.coords)[:-1], closed=True) for ring in rings)
    if hasattr(geometry, "geoms"):
        return "".join(outlines(part) for part in geometry.geoms)
    return d([(x, y) for x, y in geometry.coords]) if geometry.geom_type != "Point" else ""
