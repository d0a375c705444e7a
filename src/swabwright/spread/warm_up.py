"""The smallest plant there can be, simulated once: everything that a bank needs is compiled by then."""

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta

from swabwright.plant.document import Plant
from swabwright.plant.lines import Line
from swabwright.plant.registry import load_catalogue
from swabwright.plant.rooms import Room
from swabwright.plant.sites import Site
from swabwright.plant.space import FloorSpace
from swabwright.plant.times import Period
from swabwright.spread.bank import Occasion, ResponseBank
from swabwright.spread.build import Workshop, build_bank
from swabwright.spread.network import contact_network
from swabwright.spread.occasions import Timeline
from swabwright.spread.setting import Subject, bank_setting

DAY = date(2026, 3, 4)
SQUARE = ((0.0, 0.0), (6.0, 0.0), (6.0, 6.0), (0.0, 6.0))


def warm_up() -> ResponseBank:
    """A bank of two histories of a one-room plant with two sites."""
    plant, catalogue = one_room(), load_catalogue()
    visit = datetime.combine(DAY, time(9), UTC)
    occasion = Occasion("visit", visit, "rulebook_hour")
    timeline = Timeline((occasion,), (visit, visit + timedelta(hours=2)), (DAY,), (DAY,), visit)
    network = contact_network(plant, catalogue, FloorSpace(plant))
    setting = bank_setting(network, plant, catalogue, timeline, Subject("listeria_monocytogenes", 1))
    small = replace(setting, spreads=replace(setting.spreads, copies=1))
    return build_bank(small, bank="A", histories=2, workshop=Workshop(workers=1))


def one_room() -> Plant:
    """A room with a line, a blade and a drain."""
    shift = Period(days=("wed",), starts_at=time(6), ends_at=time(14))
    return Plant(
        format="swabwright/plant",
        version=1,
        name="One room",
        ecology="wet",
        timezone="Etc/UTC",
        base=(1.0, 1.0),
        rooms=(
            Room(
                id="room",
                name="Room",
                outline=SQUARE,
                hygiene_class=1,
                exposed_product=True,
                wetness="wet",
                temperature_c=8.0,
            ),
        ),
        lines=(
            Line(
                id="line",
                name="Line",
                product="product",
                path=((1.0, 3.0), (5.0, 3.0)),
                kg_per_hour=100.0,
                raw_material_may_carry=True,
                runs=(shift,),
            ),
        ),
        sites=(
            _site(1, "slicer_blade", (2.0, 3.0), zone=1, line="line"),
            _site(2, "drain_channel", (4.0, 2.0), zone=3, line=None),
        ),
    )


def _site(number: int, kind: str, position: tuple[float, float], *, zone: int, line: str | None) -> Site:
    return Site(
        key=f"{number:032x}",
        code=f"S{number:03d}",
        name=kind,
        type=kind,
        room="room",
        position=position,
        zone=zone,
        line=line,
    )
