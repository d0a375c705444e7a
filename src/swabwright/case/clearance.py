"""The clearance document: how likely it is gone after actions and rounds, and what one more round would make it."""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime, Field

from swabwright.case.plan import Chance
from swabwright.plant.model import Fraction, Identifier, Part, SiteCode, Text
from swabwright.plant.sites import Mode


class ClearanceHashes(Part):
    """SHA-256 of everything the figures were made from."""

    investigation: str
    plant: str
    rulebook: str
    overrides: str | None
    figures: str
    record_head: str
    """Hash of the record's last entry: figures whose head is not the record's are older than it."""


class ActionRead(Part):
    """One action as it was read: what it treats, when it was done, and by whom that is known."""

    action: Identifier
    kind_of_action: Literal["surface_cleaning", "opened_and_heated", "replaced_or_rebuilt", "other"] | None
    known_by: Literal["seen", "said", "promised", "asked"]
    done_at: AwareDatetime | None
    sites: tuple[SiteCode, ...]
    rooms: tuple[Identifier, ...]
    disturbs: bool
    """Rounds before it do not count at its sites."""
    removes: Fraction
    """The chance, before any round, that it removed a niche at its sites; 0 for what is only asked or promised."""
    words: Text


class Gone(Part):
    """The chance that no niche remains anywhere, with all actions that are said done, and with those seen only."""

    all_actions: Chance
    seen_only: Chance
    difference_error: float | None = Field(default=None, ge=0)
    """Monte Carlo standard error of the difference of the two; nothing where no action is only said done."""


class Left(Part):
    """One place's share of where it is if it is not gone."""

    place: Text
    """Site code, `room:<id>` for the rest of a room, or `line:<id>` for incoming material."""
    name: Text
    """The plant's own name."""
    share: Chance


class RoundDone(Part):
    """One round sampled after the last action, and the chance after it."""

    visit: Identifier
    name: Text
    taken_on: date
    results: int = Field(ge=0)
    detected: int = Field(ge=0)
    gone: Gone


class RoundSample(Part):
    """One sample proposed for the next round, in the order of work."""

    order: int = Field(ge=1)
    site: SiteCode
    site_name: Text
    """The plant's own name."""
    room: Identifier
    zone: int
    device: Text
    mode: Mode
    arrive_at: AwareDatetime
    why: Text


class NextRound(Part):
    """The next round, planned on what may be left, under the limits of its visit."""

    visit: Identifier
    planned_for: date
    in_investigation: bool
    """Whether investigation.json holds this visit; else the last one's limits are taken on a later week."""
    chance_of_finding: Chance
    """That a sample detects it if a niche remains."""
    samples: tuple[RoundSample, ...]
    minutes: float


class RoundsAhead(Part):
    """What so many more rounds with nothing detected would make it: planned anew each time, or the first repeated."""

    rounds: int = Field(ge=1)
    samples: int = Field(ge=1)
    gone: Gone
    same_sites_again: Chance
    """All actions counted, when the first of these rounds is repeated instead."""


class Required(Part):
    """What the rulebook asks for, beside the chance; neither stands for the other."""

    rounds: int
    rounds_done: int
    """Rounds in a row, up to the last, with nothing detected since the last action."""
    source: Text
    words: Text


class Clearance(Part):
    """How likely it is gone; decision support under the assumptions it prints, never a decision to close."""

    format: Literal["swabwright/clearance"]
    version: Literal[1]
    investigation: Text
    plant: Text
    strain: str | None
    """Which strain is read; None: any."""
    other_strains: tuple[str, ...] = ()
    """Strains that have a document of their own."""
    software_version: str
    model_version: str
    seed: int
    hashes: ClearanceHashes
    as_of: AwareDatetime | None
    """When the last entry of the record was made."""
    actions: tuple[ActionRead, ...]
    before_rounds: Gone
    """Right after the last action, before any round."""
    rounds: tuple[RoundDone, ...]
    now: Gone
    if_not_gone: tuple[Left, ...] = ()
    """The likeliest places of what may be left, the first before all."""
    required: Required
    next_round: NextRound | None
    ahead: tuple[RoundsAhead, ...]
    asks: tuple[Text, ...]
    """What to ask for besides, and what happens to product made meanwhile."""
    assumptions: tuple[Text, ...]
    left_out: tuple[Text, ...]
    """Results and actions that were not read, and why."""
    lacking: str | None
    """Why the answer is less sure than wished."""
    sentences: tuple[Text, ...]
