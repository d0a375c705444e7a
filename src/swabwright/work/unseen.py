"""The hypotheses on which an accepted plan is judged once: histories that nobody has seen, results so far included."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from swabwright.case.folder import Case
from swabwright.case.plan import Plan
from swabwright.errors import DocumentRefused, Fault
from swabwright.spread.bank import BankName
from swabwright.work.after_results import simulated_after
from swabwright.work.next_results import ResultsSoFar, results_hash, results_so_far
from swabwright.work.observed_strains import Strain
from swabwright.work.opened import open_visit
from swabwright.work.simulated import Simulated, simulate, simulated_bank

BANK_OF_ACCEPTANCE: BankName = "C"


def unseen(case: Case, plan: Plan, cache_folder: Path | None, say: Callable[[str], None]) -> Simulated:
    """The belief of a plan on the third bank; after the results, where the plan goes by results.

    Refused when those results are not the ones that the record holds now.
    """
    visit = case.visit(plan.visit)
    if plan.hashes.results is None:
        return simulate(open_visit(case, visit), BANK_OF_ACCEPTANCE, cache_folder, say)
    so_far = results_so_far(case, visit)
    strain = _strain_of(so_far, plan, cache_folder, say)
    return simulated_after(replace(so_far, asked=strain).read(BANK_OF_ACCEPTANCE, cache_folder, say))


def _strain_of(so_far: ResultsSoFar, plan: Plan, cache_folder: Path | None, say: Callable[[str], None]) -> Strain:
    """The strain whose results the plan goes by."""
    histories = round(so_far.opened.figures.number("inference.histories"))
    bank = simulated_bank(so_far.opened, BANK_OF_ACCEPTANCE, cache_folder, say, histories=histories)
    for strain, observations in so_far.results(bank).by_strain.items():
        if results_hash(observations, strain) == plan.hashes.results:
            return strain
    again = f"make it again with `swabwright next {so_far.opened.as_read.path} {plan.visit}`"
    raise DocumentRefused(
        "plan.json", [Fault("hashes.results", f"results have come in or changed since this draft was made; {again}")]
    )
