"""Everything the findings' papers say, as plain data for the template."""

from collections.abc import Iterator
from typing import Any

from swabwright.case.findings import Findings
from swabwright.case.investigation import Investigation
from swabwright.case.plan import Chance
from swabwright.case.words import out_of_100, with_range
from swabwright.plant.document import Plant
from swabwright.reports.closing_words import believed_rows
from swabwright.reports.dots_words import dots_said, few
from swabwright.reports.findings_tables import tables
from swabwright.reports.plan_words import ORGANISMS
from swabwright.reports.wording import listed, short_date

RANKED = 4
"""So many places are ranked on the first page; what is not drawn and incoming material always follow."""
RANKED_NOTE = (
    "Under these assumptions, given at most two niches. Beside each: low to high, whichever way we set what we could "
    "not measure. These are shares of the niches, as the dots are."
)


def findings_words(found: Findings, plant: Plant, investigation: Investigation) -> dict[str, Any]:
    """The words of findings.pdf: the finding, the ranking, what moved it, what it rests on, what it does not say."""
    return {
        "title": f"Findings, samples to {short_date(found.last_sample_on or found.as_of.date())}",
        "plant": plant.name,
        "about": listed(sorted({line.product for line in plant.lines})) or "no lines drawn",
        "organism": ORGANISMS.get(investigation.organism, investigation.organism.replace("_", " ").capitalize()),
        "agency": investigation.agency,
        "reference": investigation.reference,
        "draft": True,
        "computed_at": f"{found.as_of:%Y-%m-%d %H:%M}",
        "foot": _foot(found),
        "found": found.sentences[0],
        "finding": found.sentences[1],
        "besides": found.sentences[2] if found.presence else "",
        "ranked": list(_ranked(found)),
        "ranked_note": RANKED_NOTE,
        "dots": f"Where it may live, after these results: {dots_said(found.believed, found.stipple)}",
        "boxes_alt": f"Boxes of 5, 50 and 200 dots; {few(found.stipple.not_drawn)} of 1,000 not on the drawing.",
        "not_said": not_said(found),
        "sentences": list(found.sentences),
        "believed": believed_rows(found.believed),
    } | tables(found)  # fmt: skip


def _foot(found: Findings) -> dict[str, str]:
    return {
        "left": f"Case {found.reference}, findings",
        "middle": found.tested_on,
        "right": f"drawing {found.hashes.plant[:8]}",
    }


def _ranked(found: Findings) -> Iterator[dict[str, str]]:
    """The likeliest sites beside all that is not drawn and all that comes in, the largest share first."""
    sites = [place for place in found.places if ":" not in place.place][:RANKED]
    rows = [
        (place.share, f"At {place.name} ({place.place}).",
         f"A niche here, alone or with another: {with_range(place.niche_here)}.")
        for place in sites
    ]  # fmt: skip
    rows.append((found.not_on_the_drawing, "Not on the drawing, in the rest of a room.", "Kept open on purpose."))
    rows.append((found.incoming_material, "Came in with material.", "Only samples of material can settle it."))
    yield from (_row(*row) for row in sorted(rows, key=lambda row: -row[0].value))


def _row(chance: Chance, where: str, more: str) -> dict[str, str]:
    span = f"{out_of_100(chance.low)} to {out_of_100(chance.high)}"
    return {"figure": out_of_100(chance.value), "span": span, "where": where, "more": more}


def not_said(found: Findings) -> list[str]:
    """What findings do not say."""
    return [
        "They give no verdict on the plant, its rooms or its product; they release no product and hold none.",
        "They say where it lives in this plant, not who fell ill from what: of that only the outbreak team speaks.",
        "'Not detected' at a site does not mean that it is not there. A site without a dot is not an impossible one.",
        f"The figures hold under these assumptions and given at most two niches; the model was {found.tested_on}.",
    ]
