"""What may be said in a call about a result, and what is not: by voice, before anything is confirmed."""

from collections.abc import Iterator, Sequence

from swabwright.case.call_sheet import CalledResult
from swabwright.case.words import clock
from swabwright.reports.wording import listed, short_date

NOT_SAID = (
    "Where it comes from, and whether anybody fell ill from it: the outbreak team alone speaks of that.",
    "Anything of patients, of other plants, or of samples that are not on this sheet.",
    "Nothing preliminary goes into a letter: it is said by voice, and what was answered is noted here.",
    "That product may go: an officer who is named decides on that.",
)


def _taken(one: CalledResult) -> str:
    return f"taken {short_date(one.taken_at.date())}, {clock(one.taken_at)}"


def may_be_said(results: Sequence[CalledResult], laboratory: str, lines: Sequence[str]) -> Iterator[str]:
    """Sentences for the telephone, each resting on the record; results that say the same stand in one."""
    for outcome, organism in dict.fromkeys((one.outcome, one.organism) for one in results):
        same = [one for one in results if (one.outcome, one.organism) == (outcome, organism)]
        where = "; ".join(f"{one.site_name} (sample {one.sample}, {_taken(one)})" for one in same)
        yield f"{laboratory} reports '{outcome}' for {organism}: {where}."
    if any(one.outcome == "presumptive" for one in results):
        yield "Presumptive is a screening result; confirmation is under way and can change it."
    where = f"of {listed(lines)} " if lines else ""
    yield (
        f"Product {where}that met the site since the last full clean is at stake, at the least. Tell us what is held, "
        "since which lot, and hold the rest until the officer who decides on product has spoken."
    )
    yield (
        "Please leave the site and what is around it uncleaned until we have sampled, unless waiting endangers people; "
        "no pressure hose near exposed food."
    )
