"""A site: a place that can be sampled."""

import secrets
from typing import Literal

from pydantic import Field

from swabwright.plant.model import Metres, Part, Point, Positive, SiteCode, SiteKey, Text
from swabwright.plant.rooms import Wetness


class Stop(Part):
    """What must stand still, and who opens it, before a site can be sampled."""

    needs_line_stop: bool
    """The line must stand."""
    needs_isolation: bool
    """Locked out and tagged by the plant's authorised staff."""
    mechanic: bool
    """Plant staff open it, and put it together again."""
    minutes_down: float = Field(ge=0, le=480)
    """Minutes the line stands, putting together included."""
    reclean_before_restart: bool
    """Cleaned and disinfected again before product returns."""


class Site(Part):
    """A place that can be sampled; what is None is taken from its site type."""

    key: SiteKey
    """Permanent random identity, made once, never shown."""
    code: SiteCode
    """Short code on the drawing and in every list."""
    name: Text
    """The plant's own name for it."""
    type: str
    """An id of the catalogue of site types."""
    room: str
    """Id of its room."""
    position: Point
    """Where it is on the drawing; on a wall counts as inside."""
    height_m: Metres = 0.0
    """Above the floor."""
    zone: int = Field(ge=1, le=4)
    """Hygiene zone as the plant labels it: 1 touches food, 4 remote."""
    line: str | None = None
    """Id of the line it belongs to."""
    equipment: str | None = None
    """Id of the machine it is on."""
    drain: str | None = None
    """Id of the drain it opens into."""
    overhead: str | None = None
    """Id of the overhead thing it is on."""
    area_cm2: Positive | None = None
    """Area of the whole site."""
    surface: str | None = None
    """Material, by its id in the catalogue."""
    wetness: Wetness | None = None
    """How it is while the line runs."""
    devices: tuple[str, ...] | None = None
    """Device codes, the best first."""
    spot: Text | None = None
    """The joint or crack aimed at, when it can be named."""
    stop: Stop | None = None
    """What sampling it opened up asks for."""
    stop_as_is: Stop | None = None
    """What sampling it as it stands asks for."""
    split_from: SiteKey | None = None
    """The key of the site this one was cut from; it keeps that site's random draws."""
    note: Text | None = None
    """Anything worth seeing on the sheet."""


Mode = Literal["as_is", "opened"]


def new_site_key() -> str:
    """A fresh permanent identity for a site: 128 random bits in hexadecimal."""
    return secrets.token_hex(16)
