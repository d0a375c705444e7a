"""Whether invented plants import and plan, and faulty ones are refused for their fault: one line each."""

import json
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

from benchmarks.invented_plants.truth import differences
from swabwright.case.folder import read_case
from swabwright.errors import SwabwrightError
from swabwright.plant.document import Plant
from swabwright.plant.registry import load_catalogue
from swabwright.work.import_plant import ImportRequest, import_files, refuse
from swabwright.work.plan_case import plan_case


@dataclass(frozen=True)
class Checked:
    """What came of one folder."""

    folder: str
    good: bool
    says: str


def import_folder(folder: Path) -> Plant:
    """The plant imported from a folder's files, also written to its plant.json. Raises SwabwrightError when refused."""
    sites = next(path for path in sorted(folder.glob("sites.*")))
    further = tuple(path for path in (folder / "more.xlsx",) if path.exists())
    outcome = import_files(ImportRequest(sites, folder / "floor.dxf", folder / "plant.json", further), load_catalogue())
    refuse(outcome)
    if outcome.plant is None:
        raise AssertionError("a refusal names no fault")
    return outcome.plant


def check_folder(folder: Path, plan: bool) -> Checked:
    """Import one folder and hold it against the truth, plan it when asked; a faulty one must be refused."""
    expected = folder / "expected.json"
    words = json.loads(expected.read_text(encoding="utf-8"))["says"] if expected.exists() else None
    started = perf_counter()
    try:
        plant = import_folder(folder)
        wrong = differences(plant, json.loads((folder / "truth.json").read_text(encoding="utf-8")))
        said = f"{len(plant.sites)} sites imported" + "".join(f"; {each}" for each in wrong)
        said += _planned(folder) if plan else ""
    except SwabwrightError as error:
        lines = str(error).splitlines()
        good = words is not None and all(any(word in line for line in lines) for word in words)
        return Checked(folder.name, good, f"refused: {lines[0]}" + (f" (+{len(lines) - 1})" if len(lines) > 1 else ""))
    return Checked(folder.name, words is None and not wrong, f"{said}, {perf_counter() - started:.1f} s")


def _planned(folder: Path) -> str:
    """What the plan of a folder's first visit says. Raises SwabwrightError when it cannot be planned."""
    case = read_case(folder)
    plan = plan_case(case, case.visit(None), cache_folder=None, say=lambda _: None).plan
    surfaces = sum(sample.kind == "surface" for sample in plan.samples)
    return f"; {surfaces} surfaces chosen, chance {plan.chance_of_finding.value:.2f}, gap {plan.gap:.3f}"


def check_all(folder: Path, plan: bool) -> int:
    """Print one line for each folder; 0 when at least nine in ten sound ones pass and every faulty one is refused."""
    checked: list[Checked] = []
    for each in sorted(path for path in folder.iterdir() if (path / "floor.dxf").exists()):
        checked.append(check_folder(each, plan))
        print(f"{'ok ' if checked[-1].good else 'NOT'}  {each.name:10}  {checked[-1].says}", flush=True)
    sound = [each.good for each in checked if each.folder.startswith("plant")]
    faulty = [each.good for each in checked if each.folder.startswith("fault")]
    print(f"{sum(sound)} of {len(sound)} sound plants pass, {sum(faulty)} of {len(faulty)} faults are named")
    return 0 if all(faulty) and sum(sound) >= 0.9 * len(sound) else 1
