"""What the catalogue holds: site types, devices, surfaces, media, organisms, with their figures."""

from dataclasses import dataclass, field

from swabwright.plant.figures import Figures
from swabwright.plant.rooms import Wetness
from swabwright.plant.sites import Stop


@dataclass(frozen=True)
class SiteType:
    """A kind of place, with defaults for its sites; its figures are `site_type.<id>.<name>`.

    Figures of every site type: `area_cm2` (whole site), `sample_area_cm2` (to take in an investigation),
    `log10_capacity_cfu`, `shed_fraction_per_8h`, `cleaning_log10_reduction`, `cleaning_difficulty` (1..5),
    `reach_as_is`, `reach_opened` (share of the protected pool a device reaches), `minutes_to_open`,
    `organism_fit_listeria`, `wetness_weight` (relative weights).
    """

    id: str
    name: str
    also_called: tuple[str, ...]
    holder: str
    """What it is part of: floor, drain, equipment, overhead, wall, mobile, hands, tool, air."""
    zones: tuple[int, ...]
    food_contact: str
    """yes, no or beside (drips or touches product indirectly)."""
    wetness: Wetness
    surface: str
    devices: tuple[str, ...]
    """Device codes, the best first."""
    rank: int
    """Order of work inside a room, 1 clean to 9 last."""
    opens: int
    """0 nothing, 1 plant staff without tools, 2 tools and isolation, 3 height, confined space or electrician."""
    stop: Stop
    """What sampling it opened up asks for."""
    stop_as_is: Stop
    """What sampling it as it stands asks for; a part that moves is stopped and isolated for that too."""
    prevalence_group: str
    """Group whose published share of positive samples checks its weight: `prevalence.<group>.share`."""
    why: str
    source: str


@dataclass(frozen=True)
class Device:
    """What samples: its figures are `device.<code>.<name>`.

    Figures: `minutes` (one sample, two people), `max_area_cm2`, `wetting_ml`, `relative_recovery` (sponge = 1).
    """

    code: str
    name: str
    shape: str
    """Mark on the drawing: square, disc_on_stick, leaf, crossed_square, boot, lozenge."""
    for_kind: str
    """surface, water, residue, product, part, air."""
    steps: tuple[str, ...]
    source: str


@dataclass(frozen=True)
class Surface:
    """A material; figure `surface.<id>.relative_recovery`: what a device recovers from it, steel = 1."""

    id: str
    name: str
    source: str


@dataclass(frozen=True)
class Medium:
    """A wetting and neutralising medium; figures `medium.<id>.<chemistry>`: share of viability kept."""

    id: str
    name: str
    source: str


@dataclass(frozen=True)
class Chemistry:
    """A residue that a device may pick up with the sample."""

    id: str
    name: str
    note: str


@dataclass(frozen=True)
class Catalogue:
    """Everything the plant's sites refer to, and the figures behind it."""

    site_types: dict[str, SiteType]
    devices: dict[str, Device]
    surfaces: dict[str, Surface]
    figures: Figures
    media: dict[str, Medium] = field(default_factory=dict)
    chemistries: dict[str, Chemistry] = field(default_factory=dict)
