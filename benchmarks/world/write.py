"""Writes case folders with their truth: `python -m benchmarks.world.write DIR --count 100 --seed 1 --level 2`."""

import argparse
from collections.abc import Iterator
from pathlib import Path

from benchmarks.world.investigations import invented_investigation
from benchmarks.world.plants import make_plant
from benchmarks.world.results import reports
from benchmarks.world.truths import Truth, make_signalled_truth
from swabwright.case.canonical import readable_json
from swabwright.case.truth import Shown
from swabwright.case.truth import Truth as TruthDocument
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.model import Part
from swabwright.plant.registry import load_catalogue

TRUTHS_A_PLANT = 20
MADE_BY = "the invented world of the benchmarks, made without the engine"


def write_cases(folder: Path, count: int, seed: int, level: int, sites: int = 200) -> Iterator[Path]:
    """So many case folders below `folder`, up to twenty truths on each plant, numbered from 0001."""
    catalogue = load_catalogue()
    for number in range(count):
        plant_seed = seed * 1000 + number // TRUTHS_A_PLANT
        plant = make_plant(catalogue, seed=plant_seed, sites=sites)
        truth, line = make_signalled_truth(plant, catalogue, level=level, seed=seed * 1_000_000 + number)
        case = folder / f"{number + 1:04d}"
        documents = {
            "plant.json": plant,
            "investigation.json": invented_investigation(plant_seed, line),
            "truth.json": truth_document(truth, plant, catalogue, seed * 1_000_000 + number),
        }
        _write(case, documents)
        yield case


def truth_document(truth: Truth, plant: Plant, catalogue: Catalogue, seed: int) -> TruthDocument:
    """The truth with what every site would have shown, as it is and opened up."""
    told = reports(truth, plant, catalogue, seed).tolist()
    shows = tuple(
        Shown(site=site.code, as_is=as_is, opened=opened)
        for site, (as_is, opened) in zip(plant.sites, told, strict=True)
    )
    return TruthDocument(
        format="swabwright/truth",
        version=1,
        made_by=MADE_BY,
        level=truth.level,
        niches=tuple(plant.sites[place].code for place in truth.niches),
        shows=shows,
    )


def _write(case: Path, documents: dict[str, Part]) -> None:
    case.mkdir(parents=True)
    for name, document in documents.items():
        (case / name).write_bytes(readable_json(document))


def main() -> None:
    """Write the folders and name the last; a folder that is there already is left alone and refused."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--count", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--level", type=int, choices=(0, 1, 2), default=0)
    parser.add_argument("--sites", type=int, default=200)
    asked = parser.parse_args()
    written = list(write_cases(asked.folder, asked.count, asked.seed, asked.level, asked.sites))
    print(f"{len(written)} cases of level {asked.level} in {asked.folder}")


if __name__ == "__main__":
    main()
