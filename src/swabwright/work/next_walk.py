"""Which sets of samples a visit has room for: limits and walk together, asked for many sets."""

from collections.abc import Sequence

from swabwright.detection.items import Item
from swabwright.planning.choose_finds import Finds
from swabwright.planning.feasible import Limits
from swabwright.planning.walk import WalkPlanner
from swabwright.planning.walk_breaks import ways_through
from swabwright.planning.walk_room import WalkRoom
from swabwright.planning.walk_stops import StopMaker, WalkStop
from swabwright.work.chosen import Chosen, chosen_of
from swabwright.work.opened import OpenVisit
from swabwright.work.openings import with_openings_shared


class Visitable:
    """Answers whether items can be part of a visit that keeps every limit, walk included."""

    def __init__(self, opened: OpenVisit, finds: Finds, items: tuple[Item, ...], planner: WalkPlanner) -> None:
        self._opened, self.finds, self.items = opened, finds, items
        self._maker = StopMaker(opened.case.plant, opened.case.catalogue)
        self._must = {entry.site for entry in opened.visit.limits.must}
        self._limits = Limits(finds.problem)
        ways = ways_through(planner.windows, planner.minutes_available)
        self._room = WalkRoom([planner.going_by(windows) for windows in ways], self._stops)
        self._known: dict[frozenset[int], bool] = {}
        self.witness: tuple[int, ...] = ()
        """A set known to fit the walk, whose members serve minimums where the cheapest would not fit."""

    def may(self, places: Sequence[int]) -> bool:
        """Whether some set with these items keeps count, minutes, minimums and musts, and can be walked in time."""
        asked = frozenset(places)
        if asked not in self._known:
            self._known[asked] = any(self._room.fits(whole) for whole in self._completions(list(places)))
        return self._known[asked]

    def useful(self, places: Sequence[int], place: int) -> bool:
        """Whether an item would serve a must or a minimum that these do not meet yet."""
        return bool(self._limits.useful(places)[place])

    def _completions(self, places: list[int]) -> list[list[int]]:
        cheapest = self._limits.completion(places)
        if cheapest is None:
            return []
        known = self._by_witness(places)
        return [cheapest] if known is None or set(known) == set(cheapest) else [cheapest, known]

    def _by_witness(self, places: list[int]) -> list[int] | None:
        whole, site = list(places), self.finds.problem.site
        for one in self.witness:
            if self.useful(whole, one) and site[one] not in site[whole]:
                whole.append(one)
        return whole if self._limits.kept(whole) else None

    def settled(self, places: Sequence[int]) -> Chosen:
        """These items, which fit, as the choice of the visit with their walk."""
        walked = self._room.walk(places)
        if walked is None:
            raise ValueError("these samples do not fit the walk; ask first")
        return chosen_of(self.finds, self.items, places, walked)

    def _stops(self, places: Sequence[int]) -> list[WalkStop]:
        """The stops of items; the walk of a set does not hang on its order."""
        tie = self.finds.problem.tie
        ordered = sorted(places, key=lambda place: int(tie[place]))
        taken = with_openings_shared(self._opened.case.plant, [self.items[place] for place in ordered])
        return [self._maker.surface(item, must=item.site_code in self._must) for item in taken]
