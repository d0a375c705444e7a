"""Actions and the moments of the course line, as folds."""

from collections.abc import Iterable
from dataclasses import dataclass

from swabwright.record.casework import (
    ActionAsked,
    ActionKind,
    ActionPromised,
    ActionSaidDone,
    ActionSeenDone,
    Decision,
    PlanAccepted,
)
from swabwright.record.entry import Entry
from swabwright.record.laboratory import ReportReceived
from swabwright.record.sampling import Collected
from swabwright.record.standing import standing
from swabwright.record.transport import HandOver, LaboratoryReceipt, Waybill


@dataclass
class ActionStory:
    """One action asked of the plant: when each step was entered; None when it was not."""

    action: str
    asked: ActionAsked | None = None
    asked_at: tuple[str, ...] = ()
    """Asked, and asked again."""
    promised_at: str | None = None
    said_done_at: str | None = None
    seen_done_at: str | None = None
    disturbs_site: bool = False
    kind_of_action: ActionKind | None = None
    """As the last step that names one says: seen before said, said before promised, promised before asked."""
    named_by: type | None = None
    """The kind of step that names it."""


@dataclass(frozen=True)
class CourseMoment:
    """A knot of the course line: what, when, by which entry."""

    knot: str
    at: str
    entry: int


def actions(entries: Iterable[Entry]) -> dict[str, ActionStory]:
    """Every action with the time of each of its steps."""
    found: dict[str, ActionStory] = {}
    for entry in standing(entries):
        body, at = entry.statement.body, entry.statement.at
        if isinstance(body, ActionAsked | ActionPromised | ActionSaidDone | ActionSeenDone):
            _step(found.setdefault(body.action, ActionStory(body.action)), body, at)
    return found


def _step(story: ActionStory, body: ActionAsked | ActionPromised | ActionSaidDone | ActionSeenDone, at: str) -> None:
    match body:
        case ActionAsked():
            story.asked = story.asked or body
            story.asked_at = (*story.asked_at, at)
        case ActionPromised():
            story.promised_at = at
        case ActionSaidDone():
            story.said_done_at = body.done_at or at
        case ActionSeenDone():
            story.seen_done_at = body.done_at or at
            story.disturbs_site |= body.disturbs_site
    if body.kind_of_action and _STEPS.index(type(body)) >= _STEPS.index(story.named_by or ActionAsked):
        story.kind_of_action, story.named_by = body.kind_of_action, type(body)


_STEPS: tuple[type, ...] = (ActionAsked, ActionPromised, ActionSaidDone, ActionSeenDone)

_KNOTS = {
    PlanAccepted: "Planned",
    Collected: "Sampled",
    HandOver: "Handed over",
    Waybill: "Handed over",
    LaboratoryReceipt: "At the laboratory",
    ReportReceived: "Reported",
    ActionAsked: "Action asked",
    ActionSeenDone: "Action seen done",
}


def course(entries: Iterable[Entry]) -> tuple[CourseMoment, ...]:
    """The first moment of every knot, in the order of the record."""
    found: dict[str, CourseMoment] = {}
    for entry in standing(entries):
        knot = _knot(entry)
        if knot is not None:
            found.setdefault(knot, CourseMoment(knot, entry.statement.at, entry.number))
    return tuple(found.values())


def _knot(entry: Entry) -> str | None:
    body = entry.statement.body
    if isinstance(body, Decision):
        return "Decision to close" if body.about == "close" else None
    return _KNOTS.get(type(body))
