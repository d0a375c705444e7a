"""Bodies of the case: actions, accepted plans, decisions, copies from paper, entries superseded."""

from typing import Literal

from swabwright.plant.model import Identifier, SiteCode, Text
from swabwright.record.values import Body, Digest, EntryId, FileRef, Moment, Words

ActionKind = Literal["surface_cleaning", "opened_and_heated", "replaced_or_rebuilt", "other"]
"""What an action does to a niche: the surface cleaned, the machine opened and heated or steamed, a part replaced or
a floor rebuilt, or anything else."""


class ActionAsked(Body):
    """An action asked of the plant: the condition found, the outcome wanted, on which basis."""

    kind: Literal["action_asked"]
    action: Identifier
    weight: Literal["order", "requirement", "advice"]
    legal_basis: Text
    kind_of_action: ActionKind | None = None
    site: SiteCode | None = None
    machine: Identifier | None = None
    """The machine, when the action is at all sites of it."""
    room: Identifier | None = None
    """The room, when the action is at all sites of it."""
    condition_found: Words
    outcome_wanted: Words
    due: Moment | None = None


class ActionPromised(Body):
    """The plant says what it will do, and by when."""

    kind: Literal["action_promised"]
    action: Identifier
    promised_by: Text
    method: Words
    kind_of_action: ActionKind | None = None
    due: Moment | None = None


class ActionSaidDone(Body):
    """The plant says that an action is done; nobody of ours has seen it."""

    kind: Literal["action_said_done"]
    action: Identifier
    said_by: Text
    kind_of_action: ActionKind | None = None
    done_at: Moment | None = None


class ActionSeenDone(Body):
    """An action was seen done, by whom."""

    kind: Literal["action_seen_done"]
    action: Identifier
    seen_by: Text
    kind_of_action: ActionKind | None = None
    """What was really done; holds before what was asked or promised."""
    done_at: Moment | None = None
    """When it was done, if not when it was entered."""
    disturbs_site: bool = False
    """Whether it disturbed the site, as building work does; clearance rounds count only after it."""
    photographs: tuple[FileRef, ...] = ()


class PlanAccepted(Body):
    """A plan was accepted and is frozen: its visit and the hash of its file."""

    kind: Literal["plan_accepted"]
    visit: Identifier
    plan: Digest


class Decision(Body):
    """A signed decision: what, on which grounds."""

    kind: Literal["decision"]
    about: Literal["close", "product", "visit", "transport_fault", "other"]
    words: Words
    signed_by: Text


class CopiedFromPaper(Body):
    """An entry made later from a sheet: who copied, which entry, and the photograph of the sheet."""

    kind: Literal["copied_from_paper"]
    entry: EntryId
    copied_by: Text
    written_at: Moment
    file: FileRef


class Superseded(Body):
    """An earlier entry no longer counts, because ...; it stays in the record and is shown."""

    kind: Literal["superseded"]
    entry: EntryId
    reason: Words
