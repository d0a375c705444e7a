"""One visit to an invented plant: its accepted plan, and what a story tells of the day."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from typing import Any

from story.scribe import Event

from swabwright.case.folder import Case
from swabwright.case.investigation import Visit
from swabwright.case.plan import Plan, PlannedSample
from swabwright.record.ground import Ground, SiteAsks
from swabwright.spread.schedule import zone_of
from swabwright.work.record_ground import ground_of

Told = dict[str, Any]


@dataclass(frozen=True)
class Day:
    """A case on the day of a visit, and what is told of it."""

    case: Case
    told: Told

    @cached_property
    def visit(self) -> Visit:
        """The visit of the investigation."""
        return self.case.visit(self.told["visit"])

    @cached_property
    def plan(self) -> Plan:
        """Its accepted plan."""
        return next(plan for plan in self.case.accepted if plan.visit == self.visit.id)

    @cached_property
    def ground(self) -> Ground:
        """What the plant's sites ask for."""
        return ground_of(self.case)

    def asks(self, site: str) -> SiteAsks:
        """Zone, line and stops of a site."""
        return self.ground.sites[site]

    def local(self, moment: datetime) -> datetime:
        """The moment on the plant's clock, to the second."""
        return moment.astimezone(zone_of(self.case.plant)).replace(microsecond=0)

    def taken_at(self, sample: PlannedSample) -> datetime:
        """When a planned sample is in its container."""
        return self.local(sample.arrive_at + timedelta(minutes=sample.minutes))

    @cached_property
    def ends(self) -> datetime:
        """When the planned walk ends."""
        return self.local(self.plan.walk.ends_at)

    @cached_property
    def added(self) -> tuple[tuple[str, Told], ...]:
        """What was added on the day, each with the spare number that it takes."""
        return tuple(zip(self.plan.spare_numbers, self.told.get("added", ()), strict=False))

    @property
    def numbers(self) -> dict[str, str]:
        """Numbers of the visit by site; a second sample of a site is called `again`, a blank by its place."""
        found: dict[str, str] = {}
        for sample in self.plan.samples:
            name = sample.site or f"blank {sample.order}"
            found[f"{name} again" if name in found else name] = sample.sample_number
        return found | {one["name"]: number for number, one in self.added}

    @property
    def taken(self) -> tuple[str, ...]:
        """Numbers that are in a container at the end of the day, in the order of the walk."""
        missing = self.told.get("not_taken", {})
        planned = [one.sample_number for one in self.plan.samples if one.site is None or one.site not in missing]
        return (*planned, *(number for number, _ in self.added))


def raw_events(
    told: list[Told], walk_ends: datetime | None = None, pictures: dict[str, bytes] | None = None
) -> Iterator[Event]:
    """Events that the story tells field by field, at a time or so many minutes after the walk."""
    for one in told:
        fields = dict(one)
        later, kind = fields.pop("after_walk_minutes", None), fields.pop("kind")
        written = fields.pop("at", None)
        at = walk_ends + timedelta(minutes=later) if walk_ends and later else datetime.fromisoformat(written)
        who = {"by": fields.pop("by", ""), "on": fields.pop("on", ""), "named": fields.pop("named", "")}
        words = fields.pop("file_words", None)
        file = None if words is None else (words.encode(), "txt")
        shown = fields.pop("picture", None)
        if shown is not None and pictures is not None:
            file = (pictures[shown], "png")
        yield Event(at, kind, fields, file=file, **who)
