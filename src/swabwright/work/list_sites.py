"""The sites of a case as a list, with what is missing or unconfirmed in its plant document."""

import json
from dataclasses import asdict, dataclass

from swabwright.case.folder import Case
from swabwright.case.words import counted
from swabwright.plant.checks import Missing, what_is_missing
from swabwright.plant.effective import effective_site
from swabwright.plant.sites import Site

HEADINGS: tuple[str, ...] = ("Code", "Zone", "Room", "The plant's own name", "Site type", "Devices", "Opened up")


@dataclass(frozen=True)
class ListedSite:
    """One site as a person reads it."""

    code: str
    name: str
    site_type: str
    room: str
    zone: int
    devices: tuple[str, ...]
    wetness: str
    area_cm2: float
    line_stop: bool
    isolation: bool
    mechanic: bool
    minutes_down: float
    unconfirmed: tuple[str, ...]
    """What rests on the site type or on the import because nobody has said it."""


@dataclass(frozen=True)
class SiteList:
    """All sites of a plant in the order of its document, and what is missing."""

    plant: str
    sites: tuple[ListedSite, ...]
    missing: tuple[Missing, ...]


def list_sites(case: Case) -> SiteList:
    """The sites of a case with their settled fields, and what its plant document lacks."""
    return SiteList(
        plant=case.plant.name,
        sites=tuple(_listed(site, case) for site in case.plant.sites),
        missing=what_is_missing(case.plant, case.catalogue),
    )


def _listed(site: Site, case: Case) -> ListedSite:
    settled = effective_site(site, case.catalogue)
    prefix = f"sites[{site.code}]."
    imported = tuple(path.removeprefix(prefix) for path in case.plant.unconfirmed if path.startswith(prefix))
    return ListedSite(
        code=site.code,
        name=site.name,
        site_type=settled.type.name,
        room=next(room.name for room in case.plant.rooms if room.id == site.room),
        zone=site.zone,
        devices=settled.devices,
        wetness=settled.wetness,
        area_cm2=settled.area_cm2,
        line_stop=settled.stop.needs_line_stop,
        isolation=settled.stop.needs_isolation,
        mechanic=settled.stop.mechanic,
        minutes_down=settled.stop.minutes_down,
        unconfirmed=(*settled.defaults, *imported),
    )


def sites_as_json(listed: SiteList) -> str:
    """The list as JSON."""
    return json.dumps(asdict(listed), indent=2, ensure_ascii=False)


def sites_as_text(listed: SiteList) -> str:
    """The list as aligned lines, with what is missing below it in sentences."""
    rows = [HEADINGS, *(_row(site) for site in listed.sites)]
    widths = [max(len(row[column]) for row in rows) for column in range(len(rows[0]))]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip() for row in rows]
    missing = [f"{entry.letter}. {entry.text}" for entry in listed.missing]
    head = f"{listed.plant}: {counted(len(listed.sites), 'site')}"
    return "\n".join([head, "", *lines, "", "What is missing", *(missing or ["Nothing that we know of."])])


def _row(site: ListedSite) -> tuple[str, ...]:
    devices = " ".join(site.devices)
    return (site.code, f"Z{site.zone}", site.room, site.name, site.site_type, devices, _opening(site))


def _opening(site: ListedSite) -> str:
    asked = (
        ("line stopped", site.line_stop),
        ("isolated by plant staff", site.isolation),
        ("mechanic", site.mechanic),
    )
    words = [word for word, needed in asked if needed]
    return f"{', '.join(words)}, {site.minutes_down:.0f} min down" if words else "-"
