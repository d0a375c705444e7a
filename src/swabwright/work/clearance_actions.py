"""Actions of the record as the engine reads them: which niches each one treats, when, and how that is known."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from swabwright.belief.prior import ROOM
from swabwright.case.folder import Case
from swabwright.plant.figures import Figures
from swabwright.plant.sites import Site
from swabwright.record.casework import ActionKind
from swabwright.record.course import ActionStory, actions
from swabwright.record.entry import Entry

KnownBy = Literal["seen", "said", "promised", "asked"]


@dataclass(frozen=True)
class ActionDone:
    """One action: what it treats, when it was done, and by whom that is known.

    at: None while nobody says that it is done. kind: None while nobody has named one.
    """

    name: str
    kind: ActionKind | None
    known_by: KnownBy
    at: datetime | None
    sites: tuple[Site, ...]
    rooms: tuple[str, ...]
    """Rooms treated whole, what is not drawn in them included."""
    marked_disturbing: bool
    why_unread: str | None = None
    """Why it treats no niche that the engine knows; None if it does."""

    @property
    def counts(self) -> bool:
        """Whether it can have removed anything: it was done, as somebody says, at a known site."""
        return self.at is not None and self.why_unread is None

    @property
    def seen(self) -> bool:
        """Whether one of ours has seen it done."""
        return self.known_by == "seen"

    @property
    def rebuilt(self) -> bool:
        """Whether the site is no longer the one that was sampled before."""
        return self.kind == "replaced_or_rebuilt"

    @property
    def disturbs(self) -> bool:
        """Whether it disturbed its sites, so that rounds before it do not count there."""
        return self.marked_disturbing or self.rebuilt

    @property
    def sources(self) -> tuple[str, ...]:
        """Names of the sources that it treats."""
        return (*(site.key for site in self.sites), *(f"{ROOM}{room}" for room in self.rooms))

    def chance(self, figures: Figures) -> float:
        """Chance that it removes a niche; half for what only the plant has seen, none for what is not done."""
        if not self.counts:
            return 0.0
        own = figures.number(f"clearance.gone.{self.kind or 'other'}")
        return own if self.seen else own * figures.number("clearance.said_share")


def actions_done(case: Case, entries: Sequence[Entry]) -> tuple[ActionDone, ...]:
    """Every action of the record, in order of when it was done; those not done come last."""
    found = [_action(case, story) for story in actions(entries).values()]
    return tuple(sorted(found, key=lambda one: (one.at is None, one.at.timestamp() if one.at else 0.0, one.name)))


def _action(case: Case, story: ActionStory) -> ActionDone:
    known_by, at = _known(story)
    try:
        sites, rooms, why = (*_treated(case, story), None)
    except _NothingTreated as reason:
        sites, rooms, why = (), (), str(reason)
    return ActionDone(story.action, story.kind_of_action, known_by, at, sites, rooms, story.disturbs_site, why)


def _known(story: ActionStory) -> tuple[KnownBy, datetime | None]:
    if story.seen_done_at:
        return "seen", datetime.fromisoformat(story.seen_done_at)
    if story.said_done_at:
        return "said", datetime.fromisoformat(story.said_done_at)
    return ("promised" if story.promised_at else "asked"), None


class _NothingTreated(Exception):
    """Why an action treats nothing that is drawn."""


def _treated(case: Case, story: ActionStory) -> tuple[tuple[Site, ...], tuple[str, ...]]:
    asked, plant = story.asked, case.plant
    if asked is None or not (asked.site or asked.machine or asked.room):
        raise _NothingTreated(f"action '{story.action}' names no site, machine or room, so it is not read")
    sites = {site.key: site for site in plant.sites for _ in _reasons(site, asked.site, asked.machine, asked.room)}
    rooms = tuple(room.id for room in plant.rooms if room.id == asked.room)
    if not sites and not rooms:
        raise _NothingTreated(f"action '{story.action}' is at no site that stands in the plant document; not read")
    return tuple(sites[key] for key in sorted(sites)), rooms


def _reasons(site: Site, code: str | None, machine: str | None, room: str | None) -> Iterator[str]:
    """Why an action treats a site; the narrowest of site, machine and room that is named holds."""
    if code is not None:
        if site.code == code:
            yield "site"
    elif machine is not None:
        if site.equipment == machine:
            yield "machine"
    elif site.room == room:
        yield "room"
