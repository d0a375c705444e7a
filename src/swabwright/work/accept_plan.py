"""Accepting a draft: its hashes are checked, its chance is computed once on histories that nobody has seen."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from swabwright.belief.estimate import chance_of_finding
from swabwright.case.canonical import bytes_hash, document_hash, readable_json
from swabwright.case.figures_hash import figures_hash
from swabwright.case.folder import Case
from swabwright.case.plan import Plan
from swabwright.case.words import with_range
from swabwright.detection.choices import item_at
from swabwright.detection.items import Item
from swabwright.errors import DocumentRefused, Fault, SwabwrightError
from swabwright.plant.reading import read_document
from swabwright.work.drafts import PLAN_FILE, POCKET_FILE
from swabwright.work.opened import open_visit
from swabwright.work.simulated import Simulated, simulate
from swabwright.work.storage import write_draft


@dataclass(frozen=True)
class Accepted:
    """An accepted plan as it stands in the case, and what to tell the person."""

    plan: Plan
    sentences: tuple[str, ...]


def accept_plan(case: Case, draft: Path, *, cache_folder: Path | None, say: Callable[[str], None]) -> Accepted:
    """Take a draft into the plans of its case; refused, with nothing written, when anything has changed since."""
    plan_file = draft / PLAN_FILE if draft.is_dir() else draft
    plan, pocket = _read(plan_file)
    faults = tuple(_faults(case, plan, pocket))
    if faults:
        raise DocumentRefused(str(plan_file), faults)
    opened = open_visit(case, case.visit(plan.visit))
    unseen = simulate(opened, "C", cache_folder, say)
    accepted = plan.model_copy(update={"chance_of_finding": chance_of_finding(unseen.living, _items(plan, unseen))})
    write_draft(
        case.path / "plans", {f"{plan.visit}.json": readable_json(accepted), f"{plan.visit}.pocket.bin": pocket}
    )
    return Accepted(accepted, tuple(_sentences(accepted, case.path / "plans" / f"{plan.visit}.json")))


def _read(plan_file: Path) -> tuple[Plan, bytes]:
    pocket_file = plan_file.with_name(POCKET_FILE)
    for file in (plan_file, pocket_file):
        if not file.is_file():
            raise SwabwrightError(f"no file {file}; a draft is the folder that `swabwright plan --out` wrote")
    return read_document(Plan, plan_file.read_text(encoding="utf-8"), plan_file.name), pocket_file.read_bytes()


def _faults(case: Case, plan: Plan, pocket: bytes) -> Iterator[Fault]:
    again = f"plan again with `swabwright plan {case.path}`"
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
    if plan.hashes.pocket_table != bytes_hash(pocket):
        yield Fault("hashes.pocket_table", f"{POCKET_FILE} is not the one made with this draft; {again}")
    if plan.visit in {accepted.visit for accepted in case.accepted}:
        yield Fault("visit", f"'{plan.visit}' has an accepted plan already, and accepted plans are never rewritten")
    used = case.numbers_taken & {sample.sample_number for sample in plan.samples}
    if used:
        yield Fault("samples", f"sample numbers {', '.join(sorted(used))} stand in an accepted plan already; {again}")


def _items(plan: Plan, simulated: Simulated) -> tuple[Item, ...]:
    """The planned surface samples as items of a bank, each at the phase of the day in which it is taken."""
    known = simulated.belief.known
    arrive_at = {(s.site_key, s.device, s.mode): s.arrive_at for s in plan.samples if s.kind == "surface"}
    return tuple(
        item_at(known.setting, item, arrive_at[item.site_key, item.device, item.mode], known.bank)
        for item in simulated.items
        if (item.site_key, item.device, item.mode) in arrive_at
    )


def _sentences(plan: Plan, place: Path) -> Iterator[str]:
    yield f"Accepted: {place}."
    yield (
        "On histories used for nothing before, these samples find it, if it lives in this plant, with a chance of "
        f"{with_range(plan.chance_of_finding)}, under these assumptions."
    )
    yield "The plan is frozen now; what is done on the floor is recorded beside it, never in it."
