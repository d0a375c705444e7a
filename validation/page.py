"""The page of the manual that shows the comparison, every row of the record included."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from validation.compare import Comparison, Kind
from validation.origins import Origins
from validation.published import DATA, Published, Settings
from validation.tables import counted, in_100, table, wrapped
from validation.variations import Varied
from validation.weights import Group, agreement

PAGE = Path(__file__).parent.parent / "docs" / "explanation" / "against-the-published-record.md"
HEAD = ("row", "sites of the model", "published", "rests on", "predicted 10 to 90", "middle", "reading", "why not")
SECTIONS: tuple[tuple[Kind, str, str], ...] = (
    ("share", "Shares of samples", "In 100 samples, those in which it was detected."),
    ("plants", "Shares of plants", "In 100 plants, those with at least one detection, or with few, as the row says."),
    (
        "contrast",
        "Contrasts within a study",
        "How many times the first share is the second. What differs between plants falls out of such a ratio. The "
        "range is that of one study; where few plants were studied it is wide, so a row also has to point the "
        "published way over all invented plants.",
    ),
    (
        "count",
        "Investigations: how many samples detected it",
        "In 100 samples of a round in which it was detected at least once, a line of the plant being implicated. "
        "Samples fall on every site; the second column says where it was found to live.",
    ),
    (
        "contact",
        "Investigations: how many of the detections lay on food contact",
        "In 100 detections of such a round; the second column says where it was found to live.",
    ),
    (
        "inside",
        "Investigations: a niche inside a closed machine",
        "One sample of the closed machine, 100 if it shows the niche. A weak test: how often it was tried is not told.",
    ),
)
ASSUMED = """
- The plants are invented, all of one kind, with every kind of site alike often. Real plants and real rounds differ.
- A study of several plants draws each from them; it lives in a plant by the stated presence, and everywhere else only
  the background of results counts. The state 'only comes in with material' is left out.
- The range runs over plants, structural copies, histories, places and strengths of niches, and the counting of
  samples. A row is in the range if it lies between the 10th and 90th of 100 simulated studies; were the model right,
  about 80 in 100 rows would.
- Studies are read on one day; real ones lasted up to four years. Repeated rounds vary less than single ones.
- The routine square and the best device of the catalogue stand for the study's own; the method of the laboratory is
  one method.
- Listeria spp. counts other species too, so such a row is a ceiling: a prediction may lie anywhere below it.
"""


FAR_TOO_LOW = 3.0
"""Published shares this many times the predicted ones are said in words."""


@dataclass(frozen=True)
class Outcome:
    """Everything that the page shows."""

    settings: Settings
    rows: tuple[Comparison, ...]
    groups: tuple[Group, ...]
    varied: tuple[Varied, ...]
    origins: Origins


def fingerprint(folder: Path = DATA) -> str:
    """A short hash of the data files, by which a page tells that it was written from these very files."""
    texts = b"".join(path.name.encode() + path.read_bytes() for path in sorted(folder.glob("*.toml")))
    return sha256(texts).hexdigest()[:16]


def page(published: Published, outcome: Outcome) -> str:
    """The whole page in Markdown."""
    parts = [
        _opening(outcome.settings),
        f"## What comes out\n\n{summary(outcome)}\n{_what_follows(outcome.groups)}",
        *(_section(kind, title, words, published, outcome.rows) for kind, title, words in SECTIONS),
        _weights(outcome.groups),
        _varied(outcome),
        _reasons(published),
        _not_compared(published),
        f"## What the comparison itself assumes\n{ASSUMED}",
        _sources(published),
    ]
    return "\n".join(parts)


def summary(outcome: Outcome) -> str:
    """What fits and what does not, in sentences."""
    plain = [row for row in outcome.rows if not row.ceiling]
    ceilings = [row for row in outcome.rows if row.ceiling]
    said = agreement(outcome.groups)
    lines = [
        _fitting("published shares of samples", _of(plain, "share")),
        _fitting("shares that are only a ceiling (a weak test)", ceilings),
        _fitting("shares of plants", _of(plain, "plants")),
        _fitting("contrasts within a study", _of(plain, "contrast")),
        _fitting("rounds of an investigation, by their counts", _of(plain, "count")),
        _fitting("rounds, by the share of detections on food contact", _of(plain, "contact")),
        _fitting("niches inside a closed machine (a weak test)", _of(plain, "inside")),
        f"By groups of site types, the prior weights rank as the published shares do with {said.of_weights:.2f}, the "
        f"predicted shares with {said.of_predictions:.2f} (Spearman's rank correlation, at most 1).",
        f"In scale they differ: the published share of a group is {said.published_over_predicted:.0f} times the "
        "predicted one (middle of the groups, plants of this size).",
        _rests_on(outcome.origins),
    ]
    return "\n".join(wrapped(line, "- ") for line in lines)


def _rests_on(parts: Origins) -> str:
    return (
        f"With a line implicated and every site sampled once, {100 * parts.at_niche:.0f} in 100 predicted detections "
        f"lie on a niche itself, {100 * parts.carried:.0f} on sites that it was carried to, and "
        f"{100 * parts.background:.0f} are background."
    )


def _what_follows(groups: Sequence[Group]) -> str:
    if agreement(groups).published_over_predicted < FAR_TOO_LOW:
        return ""
    words = (
        "What follows for use: which kinds of sites come first rests on weights that the record supports in rank, "
        "hands and wheels apart. How many samples of a round detect it is predicted far too low. A chance of finding "
        "therefore counts mostly samples on the niche itself; in a plant where it has spread widely, fewer "
        "samples find it, and a round with nothing detected would say more than is claimed. For one hidden niche, the "
        "hard case that a plan is made for, the record tells no count that could confirm or correct the figure."
    )
    return f"\n{wrapped(words)}\n"


def _fitting(noun: str, rows: Sequence[Comparison]) -> str:
    fitting = sum(row.fits for row in rows)
    sides = [f"{words} for {number}" for words, number in _misfits(rows).items() if number]
    return f"{counted(fitting, len(rows), noun)} fit{'; ' if sides else ''}{', '.join(sides)}."


def _misfits(rows: Sequence[Comparison]) -> dict[str, int]:
    return {
        "predicted lower": sum(not row.in_range and row.published > row.high for row in rows),
        "predicted higher": sum(not row.in_range and row.published < row.low for row in rows),
        "the other way": sum(row.in_range and row.other_way for row in rows),
    }


def _of(rows: Iterable[Comparison], kind: Kind) -> list[Comparison]:
    return [row for row in rows if row.kind == kind]


def _opening(settings: Settings) -> str:
    paragraphs = (
        "This page is written by `python -m validation` from the files in `validation/data`; do not edit it here. "
        f"Fingerprint of those files: `{fingerprint()}`.",
        "Before any sample, the model says how likely a detection is at each kind of site. Published studies and "
        "investigations say how often there was one. This page sets the two side by side, row by row, and lists what "
        "does not fit with the reason as far as it is known. Figures are in 100 unless a row says otherwise.",
        f"It rests on {settings.plants} invented plants of {settings.sites} sites, {settings.histories} histories "
        f"each, and {settings.studies:,} simulated studies a row.",
    )
    return "\n\n".join(["# Against the published record", *map(wrapped, paragraphs)]) + "\n"


def _section(kind: Kind, title: str, words: str, published: Published, rows: Sequence[Comparison]) -> str:
    shown = table(HEAD, (_line(row, published) for row in _of(rows, kind)))
    return f"## {title}\n\n{wrapped(words)}\n\n{shown}"


def _line(row: Comparison, published: Published) -> tuple[str, ...]:
    said = (lambda value: f"{value:.1f} x") if row.kind == "contrast" else in_100
    why = "" if row.fits else ", ".join(name.replace("_", " ") for name in published.why(row.id))
    figure = f"at most {said(row.published)}" if row.ceiling else said(row.published)
    predicted = f"{said(row.low)} to {said(row.high)}"
    return (f"`{row.id}`", row.sites, figure, row.counted, predicted, said(row.middle), row.support, why)


def _weights(groups: Sequence[Group]) -> str:
    rows = (
        (
            group.name.replace("_", " "),
            f"{group.weight:.2f}",
            in_100(group.published),
            in_100(group.predicted),
            group.source,
        )
        for group in groups
    )
    shown = table(("group", "prior weight", "published in 100", "predicted in 100", "source"), rows)
    return f"## Prior weights by group of site types\n\nThe heaviest first; it lives in the plant.\n\n{shown}"


def _varied(outcome: Outcome) -> str:
    rows = (
        (one.what, *(in_100(share) for share in (one.every, one.drain, one.contact, one.implicated)))
        for one in outcome.varied
    )
    shown = table(("variation", "every site", "drains", "food contact", "every site, a line implicated"), rows)
    words = (
        "The chance, in 100, that one sample detects it in a plant where it lives: routine samples, and in the last "
        f"column those of an investigation; mean over {outcome.settings.plants_varied} plants, "
        f"{outcome.settings.sites} sites each unless the row says otherwise. The changed figures are assumptions, "
        "tried and not proposed."
    )
    return f"## What would move the prediction\n\n{wrapped(words)}\n\n{shown}"


def _reasons(published: Published) -> str:
    named = ((reason.id.replace("_", " ").capitalize(), wrapped(reason.why)) for reason in published.reasons)
    return "\n".join(["## Why rows do not fit\n", *(f"### {name}\n\n{why}\n" for name, why in named)])


def _not_compared(published: Published) -> str:
    rows = [(f"`{one.id}`", one.what, in_100(one.share), one.no_counterpart) for one in published.shares]
    rounds = [(f"`{one.id}`", one.what, one.told, one.not_compared) for one in published.rounds]
    shown = table(("row", "what", "published", "why not compared"), (row for row in rows + rounds if row[3]))
    return (
        f"## Not compared\n\nRows of the record that nothing in the model stands for, or that tell no count.\n\n{shown}"
    )


def _sources(published: Published) -> str:
    shares = ((f"`{one.id}`", one.what, one.conditions, one.presence_source, one.source) for one in published.shares)
    rounds = ((f"`{one.id}`", one.what, one.told, one.source) for one in published.rounds)
    words = (
        "Figures were read on a page or in an abstract; none was confirmed in the full paper. Companies, brands and "
        "people are left out, and addresses that carry them."
    )
    return (
        f"## Sources\n\n{wrapped(words)}\n\n"
        f"{table(('row', 'what', 'conditions', 'presence by', 'source'), shares)}\n"
        f"{table(('investigation', 'what', 'told', 'source'), rounds)}"
    )
