"""Everything the paper of a proposal says, as plain data for the template."""

from collections.abc import Iterator
from typing import Any

from swabwright.case.investigation import Investigation
from swabwright.case.next_visit import Bits, MaterialSample, NextVisit, WayGives
from swabwright.case.words import in_100, with_range
from swabwright.plant.document import Plant
from swabwright.reports.closing_words import SIMULATED
from swabwright.reports.plan_words import ORGANISMS
from swabwright.reports.sheet_words import device_name
from swabwright.reports.wording import listed, short_date

FIRST_SENTENCES = 3
"""So many of the document's sentences stand on the first page."""
TITLES = {
    "information": "this proposal: says most about where it lives",
    "find_any": "find any",
    "hit_the_niche": "hit the niche",
    "around_a_positive": "samples around a positive",
}


def next_words(document: NextVisit, plant: Plant, investigation: Investigation, first: int) -> dict[str, Any]:
    """The words of next.pdf: what to sample, what each way of choosing gives, which material to test."""
    visit = next(visit for visit in investigation.visits if visit.id == document.visit)
    strain = f"; strain {document.so_far.strain}" if document.so_far.strain else ""
    return {
        "title": f"{visit.name}, {short_date(visit.limits.starts_at.date())}: what to sample next",
        "plant": plant.name,
        "about": listed(sorted({line.product for line in plant.lines})) or "no lines drawn",
        "organism": ORGANISMS.get(investigation.organism, investigation.organism.replace("_", " ").capitalize()),
        "agency": investigation.agency,
        "reference": investigation.reference,
        "draft": True,
        "computed_at": "",
        "foot": {
            "left": f"Case {investigation.reference}, {visit.name}",
            "middle": SIMULATED,
            "right": f"drawing {document.hashes.plant[:8]}, results {document.hashes.results[:8]}",
        },
        "so_far": f"After {document.so_far.results} results, {document.so_far.detected} detected{strain}.",
        "finding": document.sentences[0],
        "besides": list(document.sentences[1:FIRST_SENTENCES]),
        "under": f"Under these assumptions, given at most two niches; {SIMULATED}.",
        "samples": list(_samples(document, first)),
        "ways": [_way(one) for one in document.ways],
        "claim": in_100(document.claim),
        "materials": [_material(one) for one in document.materials],
        "leading": [f"{one.name}, {in_100(one.share)}" for one in document.so_far.leading],
        "left_out": list(document.left_out),
        "sentences": list(document.sentences),
        "not_said": [
            "It gives no verdict on the plant, its rooms or its product; it releases no product and holds none.",
            "Site rules and the plant's own staff decide what is opened and when; the draft plan holds the walk.",
        ],
        "made_from": _made_from(document),
    }  # fmt: skip


def bits_said(bits: Bits) -> str:
    """Bits with their range: '0.6 (0.5 to 0.7)'."""
    return f"{bits.value:.2f} ({bits.low:.2f} to {bits.high:.2f})"


def _samples(document: NextVisit, first: int) -> Iterator[dict[str, str]]:
    for at, one in enumerate(document.samples):
        opened = ", opened up by plant staff" if one.mode == "opened" else ""
        yield {
            "number": str(first + at),
            "site": f"{one.site_name} ({one.site})",
            "zone": f"Z{one.zone}",
            "device": f"{device_name(one.device)}{opened}",
            "detected": with_range(one.detected),
            "bits": bits_said(one.bits),
            "why": one.chosen_for,
        }


def _way(one: WayGives) -> dict[str, Any]:
    return {
        "title": TITLES[one.way],
        "words": one.words,
        "sites": listed(list(one.sites)),
        "bits": bits_said(one.bits),
        "finding": with_range(one.chance_of_finding),
        "hitting": with_range(one.chance_of_hitting),
        "claim": with_range(one.chance_of_a_claim),
        "right": with_range(one.of_it_right),
    }


def _material(one: MaterialSample) -> dict[str, str]:
    return {
        "words": one.words,
        "before": with_range(one.incoming_before),
        "chance": with_range(one.chance_detected),
        "found": with_range(one.incoming_if_detected),
        "silent": with_range(one.incoming_if_not_detected),
    }


def _made_from(document: NextVisit) -> str:
    hashes = document.hashes
    return (
        f"Made with Swabwright {document.software_version}, model {document.model_version}, seed {document.seed}, from "
        f"investigation {hashes.investigation[:16]}, plant {hashes.plant[:16]}, figures {hashes.figures[:16]}, results "
        f"{hashes.results[:16]} (SHA-256, first 16 characters)."
    )
