"""The findings document: where the record says that it lives, how sure, and what that rests on."""

from datetime import date
from typing import Literal

from pydantic import AwareDatetime, Field

from swabwright.case.plan import Believed, Chance, Presence, RestsOn, Stipple
from swabwright.plant.model import Part, Text

Outcome = Literal["detected", "presumptive", "not_detected"]
Support = Literal["site", "machine", "room", "incoming", "none"]


class FindingsHashes(Part):
    """SHA-256 of everything the findings were made from."""

    investigation: str
    plant: str
    rulebook: str
    overrides: str | None
    figures: str
    record_head: str
    """Hash of the record's last entry: findings whose head is not the record's are older than it."""


class ResultUsed(Part):
    """One result that was read: of a surface, of product, or of what came in."""

    sample: Text
    kind: Literal["surface", "product", "incoming"]
    site: str | None
    site_name: Text
    """The plant's own name of the site; of a material, the line and the day."""
    outcome: Outcome
    batch: str | None
    """Samples that were handled together, and may have been contaminated together."""


class BlankCount(Part):
    """The blanks of one batch, and the chance that handling put the organism on its samples."""

    batch: Text
    detected: int = Field(ge=0)
    not_detected: int = Field(ge=0)
    contaminated: Chance
    words: Text


class PlaceFinding(Part):
    """What is believed of one place: a site, the rest of a room, or incoming material of a line."""

    place: Text
    """Site code, `room:<id>` or `line:<id>`."""
    name: Text
    room: str | None
    machine: str | None
    niche_here: Chance
    """That a niche is here, alone or with another."""
    share: Chance
    """Its share of the niches: adds to 1 over all places; what ranks and dots follow."""
    remains_if_removed: Chance
    """That a niche remains in the plant if what is here is truly removed."""
    another_too: Chance
    """If a niche is here, that there is a second one elsewhere."""


class GroupFinding(Part):
    """What is believed of a machine or a room."""

    group: Text
    """Id of the machine or the room."""
    name: Text
    niche_within: Chance
    """That at least one niche is in it; of a room, the part of it that nobody has drawn included."""
    share: Chance
    """Its share of the niches."""


class CredibleSet(Part):
    """The fewest places that hold a randomly chosen niche with the asked chance."""

    places: tuple[Text, ...] = Field(min_length=1)
    asked: float
    """In 100."""
    chance: Chance
    words: Text


class Shift(Part):
    """A place and by how many points in 100 its chance of a niche moves; the plus sign is up."""

    place: Text
    name: Text
    points: float


class ResultWeight(Part):
    """What one result does: the findings with it against those without it."""

    sample: Text
    site_name: Text
    outcome: Outcome
    leading_points: float
    """By how many points it moves the leading place."""
    raised: Shift | None
    """The place that it raises most; None where it raises none."""
    lowered: Shift | None
    leads_without: Text
    """Name of the place that would lead without it."""
    moved: tuple[Shift, ...] = ()
    """What it does to each of the three likeliest places."""


class RankedPlace(Part):
    """A place with its chance of a niche."""

    place: Text
    name: Text
    niche_here: Chance


class OtherPrior(Part):
    """The same results under another prior; nothing else is changed."""

    words: Text
    leading: RankedPlace
    """The place that leads in these findings, under the other prior."""
    ranked: tuple[RankedPlace, ...]
    """The places that lead under the other prior."""


class Assumption(Part):
    """A figure nobody has confirmed, and what it moves over its range."""

    figure: RestsOn
    """Its influence is in points of 100 on the chance that a niche is at the leading place."""
    leads_at_an_end: str | None
    """Name of another place that leads at one end of its range, if any."""


class HardToExplain(Part):
    """Detections at one site, and the chance that no niche accounts for them: background, or a false result."""

    samples: tuple[Text, ...]
    site: str
    site_name: Text
    unexplained: Chance


class Way(Part):
    """One way in which it may have come to a site."""

    mechanism: Text
    """A mechanism of the contact network, `own` (a niche there), `other` (no drawn contact) or `unexplained`."""
    words: Text
    chance: Chance


class WaysTo(Part):
    """The last step by which it came to a site where it was detected; the chances add to 1."""

    site: str
    site_name: Text
    ways: tuple[Way, ...]


class Reading(Part):
    """How well the simulation bears the findings."""

    bank: str
    histories: int
    effective_histories: float
    leading_share_error_points: float
    """Standard error of the largest share, in points of 100, from the number of histories."""
    lacking: str | None
    """Why the answer is less sure than wished; None if it is not."""


class Findings(Part):
    """Where one strain lives, by the record and under the assumptions that are named."""

    format: Literal["swabwright/findings"]
    version: Literal[1]
    investigation: Text
    reference: Text
    plant: Text
    strain: str | None
    """None: any strain."""
    as_of: AwareDatetime
    """When the last entry that was read was made."""
    visits: tuple[Text, ...]
    first_sample_on: date | None
    last_sample_on: date | None
    software_version: str
    model_version: str
    seed: int
    hashes: FindingsHashes
    results: tuple[ResultUsed, ...]
    left_out: tuple[str, ...]
    """Results and samples that were not read, each with its reason."""
    taken_on_trust: tuple[str, ...]
    """What the reading of the results rests on."""
    blanks: tuple[BlankCount, ...]
    found: Text
    """What may be said of the strain beside those of patients: no more than the laboratory said."""
    support: Support
    """How far the chance carries a claim: to a site, a machine, a room, incoming material, or to none of them yet."""
    supported: str | None
    """Place, machine id or room id that `support` speaks of."""
    claim_needs: float
    """Chance in 100 above which a place is named as where it most likely lives."""
    prior_set_by: Text
    prior_words: Text
    tested_on: Text
    places: tuple[PlaceFinding, ...] = Field(min_length=1)
    """The likeliest first."""
    machines: tuple[GroupFinding, ...]
    rooms: tuple[GroupFinding, ...]
    not_on_the_drawing: Chance
    incoming_material: Chance
    two_niches: Chance
    credible_set: CredibleSet
    presence: Presence | None
    """When nothing is detected: the chance that it lives here, before and after."""
    weights: tuple[ResultWeight, ...]
    """The weightiest result first."""
    other_priors: tuple[OtherPrior, ...]
    assumptions: tuple[Assumption, ...]
    """The most influential first."""
    assumptions_words: Text
    """How the influence of figures was reckoned."""
    hardest: tuple[HardToExplain, ...]
    """The three detections that are hardest to explain; fewer if there are fewer."""
    ways: tuple[WaysTo, ...]
    ways_words: Text
    """How the ways were reckoned, and what they do not tell."""
    reading: Reading
    believed: tuple[Believed, ...]
    stipple: Stipple
    sentences: tuple[str, ...]
    """The summary, in order of importance."""
