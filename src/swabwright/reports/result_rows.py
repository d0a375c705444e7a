"""Every result that was read as a row: beside the mark, on the container, where, and what came back."""

from collections.abc import Sequence

from swabwright.case.findings import Findings
from swabwright.reports.sampled import Sampled

OUTCOMES = {"detected": "detected", "presumptive": "presumptive", "not_detected": "not detected"}


def result_rows(found: Findings, sampled: Sequence[Sampled]) -> list[dict[str, str]]:
    """The rows in order of work, samples of material last."""
    taken = {sample.number: (at, sample) for at, sample in enumerate(sampled)}
    rows = sorted(
        found.results, key=lambda used: (taken[used.sample][0] if used.sample in taken else len(taken), used.sample)
    )
    return [
        {
            "order": taken[used.sample][1].order if used.sample in taken else "",
            "sample": used.sample,
            "site": f"{used.site_name} ({used.site})" if used.site else used.site_name,
            "zone": f"Z{taken[used.sample][1].zone}" if used.sample in taken else "",
            "outcome": OUTCOMES[used.outcome],
        }
        for used in rows
    ]
