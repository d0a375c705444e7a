"""A site: a place that can be sampled."""

import secrets
from typing import Literal

from pydantic import Field

from swabwright.plant.model import Metres, Part, Point, Positive, SiteCode, SiteKey, Text
from swabwright.plant.rooms import Wetness


class Stop(Part):
    """What must stand still, and who opens it, before a site can be sampled (fieldcraft rule 1)."""

    needs_line_stop: bool
    needs_isolation: bool
    mechanic: bool
    minutes_down: float = Field(ge=0, le=480)
    reclean_before_restart: bool


class Site(Part):
    """A place that can be sampled; what is None is taken from its site type."""

    key: SiteKey
    code: SiteCode
    name: Text
    """The plant's own name for it."""
    type: str
    """An id of the catalogue of site types."""
    room: str
    position: Point
    height_m: Metres = 0.0
    zone: int = Field(ge=1, le=4)
    line: str | None = None
    equipment: str | None = None
    drain: str | None = None
    overhead: str | None = None
    area_cm2: Positive | None = None
    """Area of the whole site."""
    surface: str | None = None
    wetness: Wetness | None = None
    devices: tuple[str, ...] | None = None
    spot: Text | None = None
    """The joint or crack aimed at, when it can be named."""
    stop: Stop | None = None
    """What sampling it opened up asks for."""
    stop_as_is: Stop | None = None
    """What sampling it as it stands asks for."""
    split_from: SiteKey | None = None
    """The key of the site this one was cut from; it keeps that site's random draws."""
    note: Text | None = None


Mode = Literal["as_is", "opened"]


def new_site_key() -> str:
    """A fresh permanent identity for a site: 128 random bits in hexadecimal."""
    return secrets.token_hex(16)
