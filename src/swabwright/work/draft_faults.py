"""What keeps a draft from being accepted: the case has moved on, or the draft is not what was written."""

from collections.abc import Iterator

from swabwright.case.canonical import bytes_hash, document_hash
from swabwright.case.figures_hash import figures_hash
from swabwright.case.folder import Case
from swabwright.case.plan import Plan
from swabwright.errors import Fault
from swabwright.spread.setting import MODEL_VERSION
from swabwright.work.drafts import POCKET_FILE


def draft_faults(case: Case, plan: Plan, pocket: bytes) -> tuple[Fault, ...]:
    """Every reason why this draft of the case cannot be accepted, each with its remedy; empty when there is none."""
    command = f"plan {case.path}" if plan.hashes.results is None else f"next {case.path} {plan.visit}"
    again = f"plan again with `swabwright {command}`"
    if plan.visit in {accepted.visit for accepted in case.accepted}:
        return (Fault("visit", f"'{plan.visit}' has an accepted plan already, and accepted plans are never rewritten"),)
    return (*_case_faults(case, plan, again), *_draft_faults(case, plan, pocket, again))


def _case_faults(case: Case, plan: Plan, again: str) -> Iterator[Fault]:
    expected = {
        "investigation": document_hash(case.investigation),
        "plant": document_hash(case.plant),
        "rulebook": case.rulebook_hash,
        "overrides": case.overrides_hash,
        "figures": figures_hash(case.figures),
    }
    for name, value in expected.items():
        if getattr(plan.hashes, name) != value:
            yield Fault(f"hashes.{name}", f"the case's {name} has changed since this draft was made; {again}")
    if plan.model_version != str(MODEL_VERSION):
        yield Fault("model_version", f"made with model {plan.model_version}, this program has {MODEL_VERSION}; {again}")


def _draft_faults(case: Case, plan: Plan, pocket: bytes, again: str) -> Iterator[Fault]:
    if plan.hashes.pocket_table != bytes_hash(pocket):
        yield Fault("hashes.pocket_table", f"{POCKET_FILE} is not the one made with this draft; {again}")
    numbers = [sample.sample_number for sample in plan.samples]
    for path, used in (("samples", numbers), ("spare_numbers", plan.spare_numbers)):
        twice = case.numbers_taken & set(used)
        if twice:
            words = ", ".join(sorted(twice))
            yield Fault(path, f"sample numbers {words} stand in an accepted plan already; {again}")
