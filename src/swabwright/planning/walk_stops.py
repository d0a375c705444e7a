"""What the walk is made of: one stop per container, with all that its site asks for."""

from dataclasses import dataclass, replace
from typing import Literal

from swabwright.detection.items import Item
from swabwright.errors import SwabwrightError
from swabwright.planning.walk_order import OrderKey
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.effective import EffectiveSite, effective_site
from swabwright.plant.rooms import Room
from swabwright.plant.sites import Mode, Stop

EXPOSED_ROOMS, OTHER_ROOMS, DRAINS = 0, 1, 2
NOTHING_STANDS = Stop(
    needs_line_stop=False, needs_isolation=False, mechanic=False, minutes_down=0, reclean_before_restart=False
)


@dataclass(frozen=True)
class WalkStop:
    """One container to fill: a surface sample, a blank or a duplicate, at its site."""

    kind: Literal["surface", "blank", "duplicate"]
    at: EffectiveSite
    room: Room
    device: str
    mode: Mode
    minutes: float
    """At the site, opening included; walking and changes not."""
    gain: float = 0.0
    must: bool = False

    @property
    def code(self) -> str:
        """The code of the site."""
        return self.at.site.code

    @property
    def halt(self) -> Stop:
        """What must stand still for this container, and who opens it; nothing for a blank."""
        if self.kind == "blank":
            return NOTHING_STANDS
        return self.at.stop_in(self.mode)

    @property
    def drain(self) -> bool:
        """Whether the site belongs to a drain and so comes last in its hygiene class."""
        return self.at.type.holder == "drain" or self.at.site.drain is not None

    @property
    def key(self) -> OrderKey:
        """Where the stop stands in the order of work."""
        by_room = EXPOSED_ROOMS if self.room.exposed_product else OTHER_ROOMS
        pass_number = DRAINS if self.drain else by_room
        return OrderKey(self.room.hygiene_class, pass_number, self.room.id, self.at.type.rank)


class StopMaker:
    """Turns chosen items into stops of the walk."""

    def __init__(self, plant: Plant, catalogue: Catalogue) -> None:
        self._rooms = {room.id: room for room in plant.rooms}
        self._sites = {site.code: site for site in plant.sites}
        self._catalogue = catalogue

    def surface(self, item: Item, gain: float = 0.0, *, must: bool = False) -> WalkStop:
        """The stop at which a chosen item is sampled; `gain` is what it adds to the chance of finding."""
        if item.site_code not in self._sites:
            raise SwabwrightError(f"item for site '{item.site_code}', which the plant document does not hold")
        at = effective_site(self._sites[item.site_code], self._catalogue)
        return WalkStop("surface", at, self._rooms[at.site.room], item.device, item.mode, item.minutes, gain, must)


def control_at(stop: WalkStop, kind: Literal["blank", "duplicate"], minutes: float) -> WalkStop:
    """A blank opened at the site of `stop`, or a second sample beside it; it adds nothing to the chance."""
    mode: Mode = "as_is" if kind == "blank" else stop.mode
    return replace(stop, kind=kind, mode=mode, minutes=minutes, gain=0.0, must=False)
