"""What a choice of samples can show: its chance on other histories, the bound, the curve, what silence would mean."""

from dataclasses import dataclass

from swabwright.belief.estimate import chance_of_finding, chance_of_hitting
from swabwright.belief.presence import not_detected_means
from swabwright.case.plan import Chance, CurvePoint, Presence
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
    """The choice made on one bank, judged on the histories and structural copies of another."""
    prover = Prover(chosen.problem, chosen.choice, chosen.finds)
    finding = chance_of_finding(reports.living, chosen.items)
    return Judged(
        finding=finding,
        hitting=chance_of_hitting(reports.living, chosen.items),
        certificate=prover.certificate(chosen.choice),
        silence=not_detected_means(reports.belief, chosen.items),
        curve=curve_of(chosen, prover, finding, reports, step),
    )
