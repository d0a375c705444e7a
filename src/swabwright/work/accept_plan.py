"""Accepting a draft: its hashes are checked, its chance is computed once on histories that nobody has seen."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from swabwright.belief.estimate import chance_of_finding
from swabwright.case.folder import Case
from swabwright.case.plan import Chance, Plan
from swabwright.case.words import with_range
from swabwright.detection.choices import item_at
from swabwright.detection.items import Item
from swabwright.errors import DocumentRefused, Fault, SwabwrightError
from swabwright.plant.reading import read_document
from swabwright.work.draft_faults import draft_faults
from swabwright.work.drafts import PLAN_FILE, POCKET_FILE, accepted_files
from swabwright.work.record_accept import Signer, acceptance, this_computer
from swabwright.work.simulated import Simulated
from swabwright.work.storage import write_draft
from swabwright.work.summary import summary
from swabwright.work.unseen import unseen


@dataclass(frozen=True)
class Accepted:
    """An accepted plan as it stands in the case, and what to tell the person."""

    plan: Plan
    sentences: tuple[str, ...]


def accept_plan(
    case: Case,
    draft: Path,
    *,
    cache_folder: Path | None,
    say: Callable[[str], None],
    paper: Literal["a4", "letter"] = "a4",
    signer: Signer | None = None,
) -> Accepted:
    """Take a draft into the plans of its case, its papers printed anew, and enter that in the record; refused, with
    nothing written, when anything has changed since. Without a `signer` it is this computer's user.
    """
    plan_file = draft / PLAN_FILE if draft.is_dir() else draft
    plan, pocket = _read(plan_file)
    faults = draft_faults(case, plan, pocket)
    if faults:
        raise DocumentRefused(str(plan_file), faults)
    judges = unseen(case, plan, cache_folder, say)
    accepted = _with_chance(plan, chance_of_finding(judges.living, _items(plan, judges, plan_file)))
    say("Setting the papers")
    folder = case.path / "plans"
    files = accepted_files(accepted, pocket, case, paper=paper)
    with acceptance(case.path, plan.visit, files[f"{plan.visit}.json"], signer or this_computer()):
        write_draft(folder, files)
    return Accepted(accepted, tuple(_sentences(accepted, folder)))


def _read(plan_file: Path) -> tuple[Plan, bytes]:
    pocket_file = plan_file.with_name(POCKET_FILE)
    for file in (plan_file, pocket_file):
        if not file.is_file():
            raise SwabwrightError(f"no file {file}; a draft is the folder that `swabwright plan --out` wrote")
    return read_document(Plan, plan_file.read_text(encoding="utf-8"), plan_file.name), pocket_file.read_bytes()


def _items(plan: Plan, simulated: Simulated, plan_file: Path) -> tuple[Item, ...]:
    """The planned surface samples as items of a bank, each at the phase of the day in which it is taken."""
    known = simulated.belief.known
    offered = {(item.site_key, item.device, item.mode): item for item in simulated.items}
    planned = [(place, sample) for place, sample in enumerate(plan.samples) if sample.kind == "surface"]
    faults = [
        Fault(f"samples[{place}]", f"{s.site} cannot be sampled {s.mode.replace('_', ' ')} with {s.device}; plan again")
        for place, s in planned
        if (s.site_key, s.device, s.mode) not in offered
    ]
    if faults:
        raise DocumentRefused(str(plan_file), faults)
    return tuple(
        item_at(known.setting, offered[str(s.site_key), s.device, s.mode], s.arrive_at, known.bank) for _, s in planned
    )


def _with_chance(plan: Plan, finding: Chance) -> Plan:
    """The plan with its chance computed anew, in its curve and its sentences too."""
    surfaces = sum(sample.kind == "surface" for sample in plan.samples)
    curve = tuple(
        point.model_copy(update={"chance": finding}) if point.samples == surfaces else point for point in plan.curve
    )
    accepted = plan.model_copy(update={"chance_of_finding": finding, "curve": curve})
    return accepted.model_copy(update={"sentences": summary(accepted)})


def _sentences(plan: Plan, folder: Path) -> Iterator[str]:
    yield (
        f"Accepted: {folder / plan.visit}.json, and the papers without DRAFT beside it: {plan.visit}.pdf, "
        f"{plan.visit}.labels.pdf and {plan.visit}.walk.csv."
    )
    yield (
        "On histories used for nothing before, these samples find it, if it lives in this plant, with a chance of "
        f"{with_range(plan.chance_of_finding)}, under these assumptions."
    )
    yield "The plan is frozen now; what is done on the floor is recorded beside it, never in it."
