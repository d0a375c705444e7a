"""A floor drawing in metres: shapes, labels and blocks, each with its layer."""

from dataclasses import dataclass, field

from swabwright.plant.model import Point


@dataclass(frozen=True)
class Shape:
    """A line, arc or polyline, flattened; closed when its ends meet or it is drawn closed."""

    layer: str
    points: tuple[Point, ...]
    closed: bool
    centre: Point | None = None
    """Of an arc: the point it turns round (a door's hinge)."""
    of_symbol: str | None = None
    """Layer of the symbol that this is a stroke of."""


@dataclass(frozen=True)
class Label:
    """A text of the drawing, at its insertion point."""

    layer: str
    text: str
    at: Point
    height: float


@dataclass(frozen=True)
class Block:
    """An inserted symbol: where it stands, how long it is, and its attributes by tag."""

    layer: str
    name: str
    at: Point
    turned: float
    """Radians, counter-clockwise."""
    width: float
    attributes: dict[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Drawing:
    """Everything of a drawing that the import can use, and what else it holds."""

    name: str
    shapes: tuple[Shape, ...]
    labels: tuple[Label, ...]
    blocks: tuple[Block, ...]
    solids: int = 0
    """3D faces, meshes and solids, which have no outline on the floor."""
    others: dict[str, int] = field(default_factory=dict)
    """Things of other kinds, by kind."""

    def on(self, layers: tuple[str, ...]) -> "Drawing":
        """The part of the drawing on these layers."""
        return Drawing(
            self.name,
            tuple(shape for shape in self.shapes if shape.layer in layers),
            tuple(label for label in self.labels if label.layer in layers),
            tuple(block for block in self.blocks if block.layer in layers),
        )

    def layers(self) -> tuple[str, ...]:
        """The layers that hold anything, in alphabetical order."""
        named = {shape.layer for shape in self.shapes} | {label.layer for label in self.labels}
        return tuple(sorted(named | {block.layer for block in self.blocks}))
