"""The pocket table of a plan, as bytes."""

from swabwright.detection.items import Item
from swabwright.planning.pocket import pocket_table
from swabwright.planning.walk_stops import StopMaker, WalkStop
from swabwright.work.chosen import Chosen
from swabwright.work.opened import OpenVisit


def pocket_bytes(opened: OpenVisit, chosen: Chosen, items: tuple[Item, ...]) -> bytes:
    """The table a phone re-chooses from without network: the plan's samples and their best alternates."""
    maker = StopMaker(opened.case.plant, opened.case.catalogue)

    def stop_of(place: int) -> WalkStop:
        return maker.surface(items[place])

    return pocket_table(chosen.finds, chosen.choice.items, stop_of, opened.space).to_bytes()
