"""Reading a DXF file of any version from R12 on into a drawing, in the file's own units."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from math import radians
from pathlib import Path

from ezdxf import bbox, path, recover
from ezdxf.document import Drawing as DxfDocument
from ezdxf.entities.arc import Arc
from ezdxf.entities.dxfentity import DXFEntity
from ezdxf.entities.insert import Insert
from ezdxf.entities.mtext import MText
from ezdxf.entities.polyline import Polyline
from ezdxf.entities.text import Text
from ezdxf.filemanagement import readfile
from ezdxf.lldxf.const import DXFError
from ezdxf.math import Vec3

from swabwright.errors import SwabwrightError
from swabwright.plant.imports.drawing import Block, Drawing, Label, Shape
from swabwright.plant.model import Point

LINEWORK = ("LINE", "ARC", "CIRCLE", "LWPOLYLINE", "POLYLINE", "ELLIPSE", "SPLINE")
SOLIDS = ("3DFACE", "3DSOLID", "MESH", "BODY", "REGION", "SURFACE", "SOLID")
DAMAGED = (DXFError, OSError, ValueError, LookupError, StopIteration, RuntimeError, TypeError, AttributeError)
"""What the reading library may meet in a file that is cut short or no drawing at all."""
DEPTH = 6
"""Blocks inside blocks are followed this deep."""
FINE = 2000
"""An arc is flattened to this part of the drawing's size, well below a door's width."""


@dataclass
class _Found:
    """What has been met so far while the drawing is walked through."""

    shapes: list[Shape] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    blocks: list[Block] = field(default_factory=list)
    others: Counter[str] = field(default_factory=Counter)
    solids: int = 0


def open_dxf(file: Path) -> DxfDocument:
    """The parsed file; one that is damaged is recovered as far as it goes, and refused when that fails."""
    if not file.is_file():
        raise SwabwrightError(f"{file.name}: there is no such file; give the drawing's path")
    try:
        return readfile(file)
    except DAMAGED:
        return _recovered(file)


def _recovered(file: Path) -> DxfDocument:
    try:
        document, _ = recover.readfile(file)
    except DAMAGED as error:
        raise SwabwrightError(
            f"{file.name}: this is no DXF drawing that can be read ({error}); save it as DXF R2010"
        ) from None
    return document


def check_closed(drawing: Drawing) -> None:
    """Raises SwabwrightError when the drawing holds nothing a room could be drawn with."""
    if drawing.solids and not drawing.shapes:
        raise SwabwrightError(
            f"{drawing.name}: holds 3D faces or solids only ({drawing.solids}), no outlines; "
            "draw each room as a closed polyline on the floor"
        )
    if not any(len(shape.points) > 1 for shape in drawing.shapes):
        raise SwabwrightError(f"{drawing.name}: holds no lines at all; draw each room as a closed polyline")


def read_shapes(document: DxfDocument, name: str) -> Drawing:
    """All shapes, labels and blocks of the model space, in drawing units; a part that cannot be read is refused."""
    try:
        found = _found_in(document)
    except DAMAGED as error:
        raise SwabwrightError(
            f"{name}: part of this drawing is damaged ({error}); open it where it was drawn and save it as DXF R2010"
        ) from None
    return Drawing(
        name, tuple(found.shapes), tuple(found.labels), tuple(found.blocks), found.solids, dict(found.others)
    )


def _found_in(document: DxfDocument) -> _Found:
    found = _Found()
    space = document.modelspace()
    extents = bbox.extents(space, fast=True)
    step = max(extents.size.x, extents.size.y) / FINE if extents.has_data else 1.0
    for entity in space:
        _take(entity, found, step, DEPTH)
    return found


def _take(entity: DXFEntity, found: _Found, step: float, depth: int) -> None:
    kind = entity.dxftype()
    if kind in SOLIDS or (isinstance(entity, Polyline) and not (entity.is_2d_polyline or entity.is_3d_polyline)):
        found.solids += 1
    elif kind in LINEWORK:
        found.shapes += _shapes(entity, step)
    elif isinstance(entity, MText):
        text = entity.plain_text()
        found.labels.append(Label(entity.dxf.layer, str(text).strip(), _xy(entity.dxf.insert), entity.dxf.char_height))
    elif isinstance(entity, Text):
        at = entity.get_placement()[1]
        found.labels.append(Label(entity.dxf.layer, entity.plain_text().strip(), _xy(at), entity.dxf.height))
    elif isinstance(entity, Insert):
        _take_block(entity, found, step, depth)
    else:
        found.others[kind] += 1


def _take_block(insert: Insert, found: _Found, step: float, depth: int) -> None:
    """A symbol as such; one without attributes is also looked into, since rooms may lie in a block."""
    found.blocks.append(_block(insert))
    # A symbol with attributes is a mark; its strokes are decoration.
    if depth and not insert.attribs:
        drawn_before = len(found.shapes)
        for inner in _inside(insert):
            _take(inner, found, step, depth - 1)
        strokes = found.shapes[drawn_before:]
        found.shapes[drawn_before:] = [replace(each, of_symbol=each.of_symbol or insert.dxf.layer) for each in strokes]


def _shapes(entity: DXFEntity, step: float) -> list[Shape]:
    points = tuple((float(point.x), float(point.y)) for point in path.make_path(entity).flattening(step))
    if len(points) < 2:
        return []
    closed = bool(getattr(entity, "is_closed", False)) or points[0] == points[-1]
    centre = _xy(entity.ocs().to_wcs(entity.dxf.center)) if isinstance(entity, Arc) else None
    return [Shape(entity.dxf.layer, points, closed, centre)]


def _block(insert: Insert) -> Block:
    extents = bbox.extents(insert.virtual_entities(), fast=True)
    width = max(extents.size.x, extents.size.y) if extents.has_data else 0.0
    attributes = {attribute.dxf.tag: attribute.dxf.text.strip() for attribute in insert.attribs}
    at, turned = _xy(insert.dxf.insert), radians(insert.dxf.rotation)
    return Block(insert.dxf.layer, insert.dxf.name, at, turned, float(width), attributes)


def _inside(insert: Insert) -> Iterator[DXFEntity]:
    """The things a block is drawn with; those on layer 0 take the layer of the block, as drawings have it."""
    for entity in insert.virtual_entities():
        # Layer 0 inside a block stands for the layer the block is inserted on.
        if entity.dxf.layer == "0":
            entity.dxf.layer = insert.dxf.layer
        yield entity


def _xy(point: Vec3) -> Point:
    return (float(point.x), float(point.y))
