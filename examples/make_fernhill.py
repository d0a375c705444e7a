"""Makes examples/fernhill-dairy: an invented dairy of one line, visited once, in which nothing is detected.

Run from the project's root: PYTHONPATH=. .venv/bin/python examples/make_fernhill.py
The floor is drawn by benchmarks.world, as for any invented plant; rooms and product get a dairy's names. What happens
stands in story/fernhill-dairy.toml. The accepted plan is kept; where it is missing it is made anew.
"""

import json
from pathlib import Path

from benchmarks.world.plants import make_plant
from story.tell import tell

from swabwright.case.canonical import readable_json
from swabwright.plant.document import Plant
from swabwright.plant.lines import Line
from swabwright.plant.registry import load_catalogue

HERE = Path(__file__).parent
NAME = "fernhill-dairy"
SEED, SITES = 58, 36
STANDS = {
    "agreed_stops": [
        {
            "starts_at": "2026-06-09T09:05:00+00:00",
            "ends_at": "2026-06-09T10:50:00+00:00",
            "agreed_by": "dairy manager, by telephone",
        }
    ],
    "lots": [{"code": "FH-0608", "made_on": "2026-06-08"}],
    "product": "soft cheese, cut and packed",
}
ROOMS = {
    "hall": "Packing hall",
    "raw": "Milk reception",
    "preparation": "Make room",
    "cooking": "Brine room",
    "chill": "Ripening store",
    "boots": "Boot change",
    "wash": "Mould wash",
    "store": "Finished store",
    "waste": "Waste",
}


def make(out: Path, plans: Path) -> None:
    """Write the whole case into `out`, with the accepted plan kept in `plans`."""
    out.mkdir(parents=True, exist_ok=True)
    (out / "plant.json").write_bytes(readable_json(dairy()))
    tell(NAME, out, plans, HERE / "story" / f"{NAME}.json")


def dairy() -> Plant:
    """An invented floor under a dairy's names."""
    plant = make_plant(load_catalogue(), seed=SEED, sites=SITES, lines=1)
    rooms = tuple(room.model_copy(update={"name": ROOMS[room.id]}) for room in plant.rooms)
    lines = tuple(
        Line.model_validate_json(json.dumps({**line.model_dump(mode="json"), **STANDS})) for line in plant.lines
    )
    sites = tuple(site.model_copy(update={"name": _named(site.name, site.room)}) for site in plant.sites)
    return plant.model_copy(
        update={"name": "Fernhill Dairy (invented)", "rooms": rooms, "lines": lines, "sites": sites}
    )


def _named(name: str, room: str) -> str:
    """The site's name with the dairy's name of the room, where it begins with one."""
    return name.replace(room.capitalize(), ROOMS[room], 1) if name.startswith(room.capitalize()) else name


if __name__ == "__main__":
    make(HERE / NAME, HERE / NAME / "plans")
