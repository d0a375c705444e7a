"""What to pack: devices by kind, and what people, rooms, changes and coolers of the walk ask for."""

from collections import Counter
from collections.abc import Iterator
from math import ceil
from typing import Any

from swabwright.case.plan import KitLine
from swabwright.planning.cautions_scene import Scene, codes, meets
from swabwright.planning.clock_words import BOOTS, FULL_CHANGE, GLOVES_AND_SLEEVES
from swabwright.planning.walk import JUDGEMENT_DEVICE
from swabwright.plant.registry import data_files

FOOD_CONTACT_ZONE = 1
SITES_NAMED = 6


def kit_of(scene: Scene, judgement: int = 0) -> tuple[KitLine, ...]:
    """The kit of a visit: devices first, then the lines of kit.toml that this walk asks for.

    judgement: containers kept free for what is seen on the day; their devices are packed as well.
    """
    return (*_devices(scene, judgement), *_lines(scene, counts_of(scene, judgement)))


def counts_of(scene: Scene, judgement: int) -> dict[str, int]:
    """How many there are of each thing that kit.toml counts by."""
    people = scene.visit.limits.people_per_team
    changes = Counter(words for one in scene.timed for words in one.change_first)
    containers = len(scene.timed) + judgement
    return {
        "visit": 1,
        "person": people,
        "container": containers,
        "cooler": ceil(containers / scene.figures.number("rule.samples_per_cooler")),
        "visited_room_person": people * changes[GLOVES_AND_SLEEVES],
        "full_change_person": people * changes[FULL_CHANGE],
        "boots_change_person": people * changes[BOOTS],
        "barrier": sum(changes.values()),
        "food_contact": sum(
            one.stop.kind != "blank" and one.stop.at.site.zone == FOOD_CONTACT_ZONE for one in scene.timed
        ),
    }


def _devices(scene: Scene, judgement: int) -> Iterator[KitLine]:
    used = Counter(stop.device for stop in scene.stops)
    # What will be taken on the day is not known; a sponge fits most of it.
    free = Counter({JUDGEMENT_DEVICE: judgement}) if judgement else Counter[str]()
    for code in sorted(used | free, key=lambda code: (-used[code], code)):
        needed = used[code] + free[code]
        yield KitLine(
            item=f"{scene.catalogue.devices[code].name} ({code})",
            needed=needed,
            spare=_share(needed, scene),
            why=_why_devices(used[code], free[code]),
        )


def _why_devices(used: int, free: int) -> str:
    kept = f", {free} kept free for what is seen on the day" if free else ""
    return f"{used} on the walk, blanks and duplicates among them{kept}."


def _lines(scene: Scene, counts: dict[str, int]) -> Iterator[KitLine]:
    for entry in data_files()["kit.toml"]["lines"]:
        about = meets(entry["hazard"], scene) if "hazard" in entry else ()
        if "hazard" in entry and not about:
            continue
        times = scene.figures.number(entry["times"]) if "times" in entry else 1.0
        needed = ceil(counts[entry["per"]] * times)
        if needed:
            yield _line(entry, needed, scene)


def _line(entry: dict[str, Any], needed: int, scene: Scene) -> KitLine:
    spare = {"share": _share(needed, scene), "one": 1, "none": 0}[entry["spare"]]
    about = codes(meets(entry["hazard"], scene)) if entry.get("hazard", "any") != "any" else ()
    sites = f" ({', '.join(about[:SITES_NAMED])}{' ...' if len(about) > SITES_NAMED else ''})" if about else ""
    return KitLine(item=entry["item"], needed=needed, spare=spare, why=f"{entry['why']}{sites}")


def _share(needed: int, scene: Scene) -> int:
    return ceil(needed * scene.figures.number("rule.spare_share"))
