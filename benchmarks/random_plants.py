"""Random plants as DXF and spreadsheets, made without hand edits: `random_plants.py make DIR --count 20 --seed 1`.

`--faults` adds one folder for each planted fault, with the words its refusal must hold in expected.json.
`check DIR` imports every folder of DIR, plans it, and prints what came of it.
"""

import argparse
import json
import sys
from collections.abc import Sequence
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent
sys.path[0] = str(HERE.parent)  # not this folder: its modules must not stand in for the standard library

from benchmarks.invented_plants.check import check_all  # noqa: E402  the folder's parent must be on the path first
from benchmarks.invented_plants.contents import fill  # noqa: E402
from benchmarks.invented_plants.drawing import choose_manner, draw  # noqa: E402
from benchmarks.invented_plants.faults import FAULTS, PlantedFault  # noqa: E402
from benchmarks.invented_plants.floor import make_floor  # noqa: E402
from benchmarks.invented_plants.investigation import make_investigation  # noqa: E402
from benchmarks.invented_plants.sheets import choose_sheets, write_sheets  # noqa: E402
from benchmarks.invented_plants.truth import truth_of  # noqa: E402
from swabwright.case.canonical import readable_json  # noqa: E402
from swabwright.plant.registry import load_catalogue  # noqa: E402


def make_plants(folder: Path, count: int, seed: int) -> list[Path]:
    """Folders plant-01 ... with floor.dxf, sites.*, perhaps more.xlsx, and investigation.json."""
    return [make_plant(folder / f"plant-{number:02d}", seed * 1000 + number) for number in range(1, count + 1)]


def make_faulty(folder: Path, seed: int) -> list[Path]:
    """Folders fault-1 ... of the same kind, each with one planted fault and expected.json."""
    return [
        make_plant(folder / f"fault-{number}", seed * 1000 + 500 + number, fault)
        for number, fault in enumerate(FAULTS, start=1)
    ]


def make_plant(folder: Path, seed: int, fault: PlantedFault | None = None) -> Path:
    """One plant's files; the same seed makes the same plant."""
    rng = np.random.default_rng(seed)
    folder.mkdir(parents=True, exist_ok=True)
    floor = make_floor(rng)
    contents = fill(floor, load_catalogue(), rng)
    if fault:
        floor, contents = fault.spoil((floor, contents))
        (folder / "expected.json").write_text(json.dumps({"fault": fault.name, "says": fault.says}), encoding="utf-8")
    sheets = choose_sheets(rng)
    manner = choose_manner(rng)
    pen = draw(floor, contents, manner)
    if fault:
        fault.spoil_drawing(pen, (floor, contents))
    pen.save(folder / "floor.dxf")
    write_sheets(folder, floor, contents, sheets)
    investigation = make_investigation(contents, sheets.with_lines, seed, rng)
    (folder / "truth.json").write_text(json.dumps(truth_of(floor, contents, manner)), encoding="utf-8")
    (folder / "investigation.json").write_bytes(readable_json(investigation))
    return folder


def main(arguments: Sequence[str] | None = None) -> int:
    """Make or check; 1 when a sound plant is refused, or a faulty one is not refused for its fault."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("action", choices=("make", "check"))
    parser.add_argument("folder", type=Path)
    parser.add_argument("--count", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--faults", action="store_true", help="make the faulty plants as well")
    parser.add_argument("--import-only", action="store_true", help="check without planning")
    given = parser.parse_args(arguments)
    if given.action == "check":
        return check_all(given.folder, plan=not given.import_only)
    made = make_plants(given.folder, given.count, given.seed)
    made += make_faulty(given.folder, given.seed) if given.faults else []
    print(f"{len(made)} plants made in {given.folder}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
