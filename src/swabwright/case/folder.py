"""The case folder: the documents of one investigation, read strictly and together."""

from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path

from swabwright.case.canonical import bytes_hash
from swabwright.case.checks import investigation_faults
from swabwright.case.investigation import Investigation, Visit
from swabwright.case.plan import Plan
from swabwright.errors import DocumentRefused, SwabwrightError, did_you_mean
from swabwright.plant.catalogue import Catalogue
from swabwright.plant.document import Plant
from swabwright.plant.figures import Figures
from swabwright.plant.reading import read_document, read_plant
from swabwright.plant.registry import load_catalogue
from swabwright.plant.rulebook import read_overrides, read_rulebook, rulebook_text


@dataclass(frozen=True)
class Case:
    """One investigation with its plant, figures and accepted plans, as the folder at `path` holds them."""

    path: Path
    investigation: Investigation
    plant: Plant
    catalogue: Catalogue
    """With the figures of this case: the rulebook's copy and every override applied."""
    rulebook_hash: str
    overrides_hash: str | None
    accepted: tuple[Plan, ...]

    @property
    def figures(self) -> Figures:
        """The figures of this case."""
        return self.catalogue.figures

    @cached_property
    def numbers_taken(self) -> frozenset[str]:
        """Sample numbers that accepted plans have used up, spares included."""
        return frozenset(
            number
            for plan in self.accepted
            for number in (*(sample.sample_number for sample in plan.samples), *plan.spare_numbers)
        )

    def visit(self, visit_id: str | None) -> Visit:
        """The visit called `visit_id`; without a name, the first that has no accepted plan."""
        visits = self.investigation.visits
        if visit_id is None:
            planned = {plan.visit for plan in self.accepted}
            return next((visit for visit in visits if visit.id not in planned), visits[-1])
        for visit in visits:
            if visit.id == visit_id:
                return visit
        raise SwabwrightError(f"no visit '{visit_id}'{did_you_mean(visit_id, [visit.id for visit in visits])}")

    def next_visit(self) -> Visit:
        """The first visit that has no accepted plan; refused when every one has, as none is ever rewritten."""
        visit = self.visit(None)
        if visit.id in {plan.visit for plan in self.accepted}:
            raise SwabwrightError(
                f"every visit of investigation.json has an accepted plan, '{visit.id}' the last; add the next one "
                "under visits, or name one with --visit to see what else could have been planned"
            )
        return visit


def read_case(path: Path) -> Case:
    """The case in the folder at `path`; refused with every fault found, each with its place and remedy."""
    catalogue, rulebook_hash, overrides_hash = _catalogue_of(path)
    plant = read_plant(_text(path / "plant.json"), catalogue)
    investigation = read_document(Investigation, _text(path / "investigation.json"), "investigation.json")
    faults = investigation_faults(investigation, plant, catalogue)
    if faults:
        raise DocumentRefused("investigation.json", faults)
    accepted = tuple(
        read_document(Plan, _text(file), f"plans/{file.name}") for file in sorted((path / "plans").glob("*.json"))
    )
    return Case(path, investigation, plant, catalogue, rulebook_hash, overrides_hash, accepted)


def case_figures(path: Path) -> Figures:
    """The figures of the case at `path`: catalogue, its copy of the rulebook, and every override."""
    return _catalogue_of(path)[0].figures


def _text(path: Path) -> str:
    if not path.parent.is_dir():
        raise SwabwrightError(f"no folder {path.parent}; a case is a folder with plant.json and investigation.json")
    if not path.is_file():
        raise SwabwrightError(f"{path.parent} has no {path.name}; a case needs plant.json and investigation.json")
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError as error:
        raise SwabwrightError(f"{path} is not UTF-8 text (byte {error.start}); save it again as UTF-8") from error


def _catalogue_of(path: Path) -> tuple[Catalogue, str, str | None]:
    """The shipped catalogue under the case's own rulebook and overrides, with the hashes of both."""
    catalogue = load_catalogue()
    rulebook_file, overrides_file = path / "rulebook.toml", path / "overrides.toml"
    rulebook = _text(rulebook_file) if rulebook_file.exists() else rulebook_text()
    figures = Figures({**catalogue.figures, **read_rulebook(rulebook)})
    overrides = _text(overrides_file) if overrides_file.exists() else None
    if overrides is not None:
        figures = figures.changed(read_overrides(overrides, figures))
    overrides_hash = None if overrides is None else bytes_hash(overrides.encode())
    return replace(catalogue, figures=figures), bytes_hash(rulebook.encode()), overrides_hash
