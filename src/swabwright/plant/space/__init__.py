"""The plant's floor as something to walk on and look across: rooms, doorways, shortest ways, sight."""

from swabwright.plant.space.floor import FloorSpace
from swabwright.plant.space.ways import Ways

__all__ = ["FloorSpace", "Ways"]
