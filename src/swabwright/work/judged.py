"""What a choice of samples can show: its chance on other histories, the bound, the curve, what silence would mean."""

from dataclasses import dataclass

from swabwright.belief.estimate import chance_of_finding, chance_of_hitting
from swabwright.belief.presence import not_detected_means
from swabwright.case.plan import Chance, CurvePoint, Presence
from swabwright.detection.choices import item_at
from swabwright.detection.items import Item
from swabwright.planning.bound import Certificate, Prover
from swabwright.work.chosen import Chosen
from swabwright.work.curve import curve_of
from swabwright.work.simulated import Simulated


@dataclass(frozen=True)
class Judged:
    """The figures of a plan: chances with their ranges, the certificate, the curve."""

    finding: Chance
    hitting: Chance
    certificate: Certificate
    silence: Presence
    curve: tuple[CurvePoint, ...]


def judge(chosen: Chosen, reports: Simulated, step: int) -> Judged:
    """The choice made on one bank, judged on the histories and structural copies of another, at arrival times."""
    prover = Prover(chosen.problem, chosen.choice, chosen.finds)
    items = at_arrival(chosen, reports)
    finding = chance_of_finding(reports.living, items)
    return Judged(
        finding=finding,
        hitting=chance_of_hitting(reports.living, items),
        certificate=prover.certificate(chosen.choice),
        silence=not_detected_means(reports.belief, items),
        curve=curve_of(chosen, prover, finding, reports, step),
    )


def at_arrival(chosen: Chosen, reports: Simulated) -> tuple[Item, ...]:
    """The chosen samples, each read at the phase of the day in which the walk gets to it."""
    arrive_at = {one.stop.code: one.arrive_at for one in chosen.timed if one.stop.kind == "surface"}
    known = reports.belief.known
    return tuple(item_at(known.setting, item, arrive_at[item.site_code], known.bank) for item in chosen.items)
