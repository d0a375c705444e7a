"""The next-visit document: which samples would say most, what other choices would give, what material to test."""

from datetime import date
from typing import Literal

from pydantic import Field

from swabwright.case.plan import Believed, Chance
from swabwright.plant.model import Fraction, Identifier, Part, SiteCode, Text
from swabwright.plant.sites import Mode


class Bits(Part):
    """Bits about where it lives, with the range of the drawn outcomes and what they rest on."""

    value: float
    low: float
    high: float
    basis: Text


class SoFar(Part):
    """What the results so far leave open."""

    results: int
    detected: int
    visits: tuple[Identifier, ...]
    strain: str | None
    """Which strain is read; None: any."""
    strains: tuple[str, ...]
    """All strains that the laboratory told apart."""
    open_bits: Bits
    """Entropy of where it lives, sets of niches told apart as far as the hypotheses allow."""
    told_apart: int
    """How many sets of niches, or groups of them, are told apart."""
    leading: tuple[Believed, ...]
    """The likeliest places, the first before all."""


class NextSample(Part):
    """One proposed surface sample, and what it would say after those before it."""

    site: SiteCode
    site_name: Text
    """The plant's own name."""
    room: Text | None
    zone: int
    device: Text
    mode: Mode
    chosen_for: Literal["what it says", "finding it"]
    bits: Bits
    detected: Chance
    """That it is reported detected, false detections counted."""


class WayGives(Part):
    """One way to choose the samples, and what its choice gives."""

    way: Literal["information", "find_any", "hit_the_niche", "around_a_positive"]
    words: Text
    sites: tuple[SiteCode, ...]
    bits: Bits
    """Expected bits about where it lives, from all its samples together."""
    chance_of_finding: Chance
    chance_of_hitting: Chance
    chance_of_a_claim: Chance
    """That one site then has a chance of a niche above the figure from which it may be named."""
    of_it_right: Chance
    """That such a site is named and is a niche, if the model holds."""


class MaterialSample(Part):
    """A sample of material that tests whether it came in with material, and what it would move."""

    line: Identifier
    line_name: Text
    kind: Literal["incoming", "product"]
    words: Text
    """What to take, and how."""
    made_on: date
    """The day whose load the figures are for."""
    kg: float
    increments: int
    incoming_before: Chance
    """That it came in with material, alone or beside a niche."""
    chance_detected: Chance
    incoming_if_detected: Chance
    incoming_if_not_detected: Chance


class NextVisitHashes(Part):
    """SHA-256 of what the proposal was made from."""

    investigation: str
    plant: str
    figures: str
    results: str


class NextVisit(Part):
    """What to sample next, given everything found so far; decision support under the assumptions it prints."""

    format: Literal["swabwright/next-visit"]
    version: Literal[1]
    visit: Identifier
    investigation: Text
    plant: Text
    software_version: str
    model_version: str
    seed: int
    hashes: NextVisitHashes
    claim: Fraction
    """The chance from which a site may be named as where it most likely lives."""
    radius_m: float
    within_radius: int | None
    """Sites within that walking distance of a detected one; None where nothing was detected."""
    so_far: SoFar
    samples: tuple[NextSample, ...] = Field(min_length=1)
    nothing_stands_out: bool
    """No sample says more than chance would seem to say, so all were chosen to find it."""
    ways: tuple[WayGives, ...] = Field(min_length=1)
    materials: tuple[MaterialSample, ...]
    lacking: str | None
    """Why the answer is less sure than wished."""
    left_out: tuple[str, ...]
    """Results that were not read, and why."""
    sentences: tuple[Text, ...]
