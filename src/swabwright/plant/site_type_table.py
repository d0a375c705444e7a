"""Site types as they stand in the data file, with their figures."""

from collections.abc import Mapping
from typing import Any

from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.catalogue import SiteType
from swabwright.plant.figures import Figure
from swabwright.plant.scales import scaled_figures
from swabwright.plant.sites import Stop

WORDS = ("name", "holder", "food_contact", "wetness", "surface", "rank", "opens", "prevalence_group", "why", "source")


def read_site_types(data: Mapping[str, Any]) -> tuple[dict[str, SiteType], dict[str, Figure]]:
    """All site types by id, and their figures `site_type.<id>.<name>`."""
    stops = {name: Stop(**stop) for name, stop in data["stops"].items()}
    types = {name: _site_type(name, entry, stops) for name, entry in data["site_types"].items()}
    figures: dict[str, Figure] = {}
    for name, entry in data["site_types"].items():
        figures |= scaled_figures(f"site_type.{name}", entry, data["scales"])
    return types, figures


def _site_type(name: str, entry: Mapping[str, Any], stops: Mapping[str, Stop]) -> SiteType:
    missing = [word for word in WORDS if word not in entry]
    if missing:
        raise SwabwrightError(f"site type '{name}' lacks {', '.join(missing)}; write it in the data file")
    return SiteType(
        id=name,
        also_called=tuple(entry.get("also_called", ())),
        zones=tuple(entry["zones"]),
        devices=tuple(entry["devices"]),
        stop=_stop(name, entry["stop"], stops),
        stop_as_is=_stop(name, entry["stop_as_is"], stops),
        **{word: entry[word] for word in WORDS},
    )


def _stop(name: str, stop: str, stops: Mapping[str, Stop]) -> Stop:
    if stop not in stops:
        raise SwabwrightError(f"site type '{name}': no stop '{stop}'{did_you_mean(stop, list(stops))}")
    return stops[stop]
