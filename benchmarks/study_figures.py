"""The figures of the study that set the bars, in place of the product's defaults."""

import tomllib
from dataclasses import replace
from pathlib import Path

from swabwright.plant.catalogue import Catalogue
from swabwright.plant.figures import Figures

STUDY = Path(__file__).resolve().parent / "study.toml"


def with_study_figures(catalogue: Catalogue, *, may_be_wrong: bool = False) -> Catalogue:
    """The catalogue with the study's figures; one that the product does not know is refused by name.

    may_be_wrong: with the wider misfit by which the study read truths that are bent away from the model.
    """
    tables: dict[str, dict[str, float]] = tomllib.loads(STUDY.read_text(encoding="utf-8"))
    values = tables["figures"] | (tables["figures_when_the_model_may_be_wrong"] if may_be_wrong else {})
    unknown = sorted(set(values) - set(catalogue.figures))
    if unknown:
        raise ValueError(f"study.toml names figures that the product does not have: {', '.join(unknown)}")
    changed = {name: replace(catalogue.figures[name], value=value) for name, value in values.items()}
    figures = {name: changed.get(name, figure) for name, figure in catalogue.figures.items()}
    return replace(catalogue, figures=Figures(figures))
