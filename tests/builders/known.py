"""What is known of the tiny plant: an investigation, an invented bank over its sources, the catalogue."""

from datetime import UTC, date, datetime
from typing import Any

from builders.banks import random_bank
from builders.plants import tiny_plant

from swabwright.belief.known import Known
from swabwright.case.investigation import (
    EarlierResult,
    Implicated,
    Investigation,
    Limits,
    Presence,
    ProductTest,
    Visit,
)
from swabwright.detection.choices import Setting
from swabwright.plant.document import Plant
from swabwright.plant.registry import load_catalogue
from swabwright.plant.space import FloorSpace
from swabwright.spread.bank import BankName, Occasion, ResponseBank
from swabwright.spread.build import build_bank
from swabwright.spread.network import contact_network
from swabwright.spread.occasions import timeline_of, visit_occasions
from swabwright.spread.setting import Subject, bank_setting

STARTS, ENDS = datetime(2026, 3, 5, 8, tzinfo=UTC), datetime(2026, 3, 5, 12, tzinfo=UTC)
EARLIER = datetime(2026, 3, 3, 10, tzinfo=UTC)


def visit(**changes: Any) -> Visit:
    """A Thursday-morning visit to the tiny plant, two people, cold transport, D/E broth; limits may be changed too."""
    limits: dict[str, Any] = {"samples": 6, "starts_at": STARTS, "ends_at": ENDS, "people_per_team": 2}
    limits |= {"laboratory_takes": 40} | {key: changes.pop(key) for key in tuple(changes) if key in Limits.model_fields}
    usual: dict[str, Any] = {"id": "visit-1", "name": "First visit", "lead": "L. Ortega", "medium": "de_broth"}
    usual |= {"hours_to_laboratory": 20.0, "transport_temperature_c": 4.0, "limits": Limits(**limits)}
    return Visit(**{**usual, **changes})


def investigation(**changes: Any) -> Investigation:
    """Line A implicated for three days; no test and no earlier result unless given."""
    usual: dict[str, Any] = {"name": "Trout (invented)", "reference": "T-1", "agency": "Invented agency", "seed": 7}
    usual |= {"organism": "listeria_monocytogenes", "signal_on": date(2026, 3, 4), "visits": (visit(),)}
    usual |= {"presence": Presence(lives_here=0.7, set_by="L. Ortega")}
    usual |= {
        "implicated": (
            Implicated(line="line-a", first_day=date(2026, 3, 2), last_day=date(2026, 3, 4), said_by="outbreak team"),
        )
    }
    return Investigation(format="swabwright/investigation", version=1, **{**usual, **changes})


def plant_bank(plant: Plant, occasions: tuple[Occasion, ...], **changes: Any) -> ResponseBank:
    """An invented bank over a plant's sites, the rest of its rooms and its lines."""
    rows = tuple(site.key for site in plant.sites) + tuple(f"room:{room.id}" for room in plant.rooms)
    lines = tuple(line.id for line in plant.lines)
    return random_bank(
        **{
            "histories": 100,
            "rooms": len(plant.rooms),
            "sites": len(plant.sites),
            "occasion_count": len(occasions),
            "occasions": occasions,
            "row_names": rows,
            "source_names": rows + tuple(f"line:{line}" for line in lines),
            "lines": lines,
            **changes,
        }
    )


def tiny_known(**changes: Any) -> Known:
    """The tiny plant, its investigation and an invented bank read at the visit and at an earlier moment."""
    plant = changes.pop("plant", None) or tiny_plant()
    one = changes.pop("investigation", None) or investigation()
    catalogue = load_catalogue()
    occasions = (
        *visit_occasions(one.visits[0], plant, catalogue.figures.number("rule.hours_after_line_start")),
        Occasion("earlier sample", EARLIER, "rulebook_hour"),
    )
    return Known(one, Setting(plant, catalogue, one.visits[0]), plant_bank(plant, occasions, **changes))


def simulated_known(plant: Plant, one: Investigation, histories: int, bank: BankName = "A") -> Known:
    """What is known of a plant with a bank that is really simulated from its drawing."""
    catalogue = load_catalogue()
    timeline = timeline_of(one, one.visits[0], plant, catalogue.figures.number("rule.hours_after_line_start"))
    network = contact_network(plant, catalogue, FloorSpace(plant))
    subject = Subject(organism=one.organism, seed=one.seed)
    responses = build_bank(bank_setting(network, plant, catalogue, timeline, subject), bank=bank, histories=histories)
    return Known(one, Setting(plant, catalogue, one.visits[0]), responses)


def product_test(result: str = "not_detected", **changes: Any) -> ProductTest:
    """One test of 0.125 kg in five increments of line A's product of 3 March."""
    usual: dict[str, Any] = {"line": "line-a", "made_on": date(2026, 3, 3), "kg_tested": 0.125, "increments": 5}
    return ProductTest(result=result, method="ISO 11290-1", said_by="the plant", **{**usual, **changes})  # type: ignore[arg-type]


def earlier_result(site: str = "S003", result: str = "not_detected", **changes: Any) -> EarlierResult:
    """An earlier sponge at a site, two days before the visit."""
    usual: dict[str, Any] = {"taken_at": EARLIER, "device": "SP", "said_by": "the plant"}
    return EarlierResult(site=site, result=result, **{**usual, **changes})  # type: ignore[arg-type]
