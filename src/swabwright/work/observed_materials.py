"""Samples of product, raw material and water as tests of a line and a day."""

from collections.abc import Container
from datetime import date
from typing import Literal

from swabwright.belief.evidence import kg_made
from swabwright.detection.observed import MaterialTest
from swabwright.errors import SwabwrightError
from swabwright.plant.document import Plant
from swabwright.plant.lines import Line
from swabwright.record.sampling import Collected
from swabwright.spread.schedule import zone_of
from swabwright.work.observed_samples import LeftOut, SampleDone, Samples

MG_A_KG = 1e6
ONE_INCREMENT = 1
"""The record does not say how many; one is the more clumped reading."""
KINDS: dict[str, Literal["product", "incoming"]] = {
    "product": "product",
    "raw_material": "incoming",
    "water": "incoming",
}


def material_test(samples: Samples, done: SampleDone, days: Container[date], *, detected: bool) -> MaterialTest:
    """The sample as a test of its line and day. Raises LeftOut when line, mass or day cannot be told."""
    body = samples.view.taken[done.number].body
    line, day = line_and_day(samples.case.plant, body, done)
    if not body.mass_mg:
        raise LeftOut(f"sample {done.number}: its mass was not entered, so what it could have met is not known")
    if day not in days:
        raise LeftOut(f"sample {done.number}: the bank holds no load of {day}")
    return MaterialTest(done.number, KINDS[done.kind], line.id, day, body.mass_mg / MG_A_KG, ONE_INCREMENT, detected)


def line_and_day(plant: Plant, body: Collected, done: SampleDone) -> tuple[Line, date]:
    """The line by the lot, else by the site; the day the lot was made, else the day of sampling."""
    taken_on = done.taken_at.astimezone(zone_of(plant)).date()
    of_lot = [(line, lot.made_on) for line in plant.lines for lot in line.lots if lot.code == body.product_lot]
    of_site = [(line, taken_on) for line in plant.lines if done.site and line.id == done.site.line]
    found = (of_lot or of_site)[:1]
    if not found:
        raise LeftOut(f"sample {done.number}: neither its lot nor its site says which line it belongs to")
    line, day = found[0]
    try:
        kg_made(line, day, plant.timezone, f"sample {done.number}")
    except SwabwrightError:
        raise LeftOut(f"sample {done.number}: line '{line.id}' did not run on {day}") from None
    return line, day
