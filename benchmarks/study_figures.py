"""The figures of the study that set the bars, in place of the product's defaults."""

import tomllib
from dataclasses import replace
from pathlib import Path

from swabwright.plant.catalogue import Catalogue
from swabwright.plant.figures import Figures

STUDY = Path(__file__).resolve().parent / "study.toml"


def with_study_figures(catalogue: Catalogue) -> Catalogue:
    """The catalogue with the study's figures; one that the product does not know is refused by name."""
    values: dict[str, float] = tomllib.loads(STUDY.read_text(encoding="utf-8"))["figures"]
    unknown = sorted(set(values) - set(catalogue.figures))
    if unknown:
        raise ValueError(f"study.toml names figures that the product does not have: {', '.join(unknown)}")
    changed = {name: replace(catalogue.figures[name], value=value) for name, value in values.items()}
    figures = {name: changed.get(name, figure) for name, figure in catalogue.figures.items()}
    return replace(catalogue, figures=Figures(figures))
