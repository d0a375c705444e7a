"""A caution that states a fact, in the words of cautions.toml."""

from collections.abc import Sequence

from swabwright.case.plan import PlanWarning
from swabwright.plant.registry import data_files

LONGEST = 400
CUT = " ..."


def fact_warning(name: str, sites: Sequence[str] = (), **facts: object) -> PlanWarning:
    """The caution `facts.<name>` with its facts filled in, about these sites."""
    entry = data_files()["cautions.toml"]["facts"][name]
    text = entry["text"].format(**facts)
    return PlanWarning(kind=entry["kind"], text=_at_most(text), sites=tuple(dict.fromkeys(sites)))


def _at_most(text: str) -> str:
    return text if len(text) <= LONGEST else f"{text[: LONGEST - len(CUT)].rsplit(',', 1)[0]}{CUT}"
