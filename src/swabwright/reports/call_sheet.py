"""The call sheet as a page to hold beside the telephone."""

from typing import Any, Literal

from swabwright import __version__
from swabwright.case.call_sheet import CalledResult, CallSheet
from swabwright.case.words import clock, counted
from swabwright.reports.glyphs import readable
from swabwright.reports.typesetting import pdf
from swabwright.reports.wording import listed, short_date

DEFERS = (
    "Decision support, no verdict: who decides on product decides, the laboratory says what its result means, and the "
    "site's own rules and local codes come first. This sheet releases no product."
)
BY_HAND = "Names and numbers that stand in no document of this case are left open: fill them in by hand."
ASK_HOLD = "nobody has answered in the record whether product is held. Ask it first."


def call_sheet_pdf(sheet: CallSheet, paper: Literal["a4", "letter"] = "a4") -> bytes:
    """The call sheet as PDF; the same sheet gives the same bytes."""
    return pdf("call_sheet.typ", readable(call_sheet_words(sheet) | {"paper": paper}), {})


def call_sheet_words(sheet: CallSheet) -> dict[str, Any]:
    """Everything the page says, as plain data for its template."""
    as_of = f"{sheet.as_of:%Y-%m-%d %H:%M}"
    return {
        "title": "Call sheet",
        "agency": sheet.agency,
        "reference": sheet.reference,
        "plant": sheet.plant,
        "as_of": as_of,
        "computed_at": as_of,
        "draft": False,
        "foot": _foot(sheet),
        "finding": finding(sheet),
        "source": f"{sheet.laboratory}, report {sheet.accession}, {sheet.status}, authorised by {sheet.authorised_by}.",
        "results": [_row(one) for one in sheet.results],
        "to_ring": [
            {"who": one.who, "name": one.name or "", "number": one.number or "", "hours": one.out_of_hours or ""}
            for one in sheet.to_ring
        ],
        "by_hand": BY_HAND,
        "hold": [f"{line}: {ASK_HOLD}" for line in sheet.not_answered]
        + [f"{one.words} ({short_date(one.at.date())}, {clock(one.at)})." for one in sheet.hold],
        "lots": _lots(sheet),
        "may": list(sheet.may_be_said),
        "not": list(sheet.not_said),
        "defers": DEFERS,
    }  # fmt: skip


def _foot(sheet: CallSheet) -> dict[str, str]:
    return {
        "left": f"Case {sheet.reference}",
        "middle": f"Swabwright {__version__}",
        "right": f"report {sheet.report[:8]}",
    }


def finding(sheet: CallSheet) -> list[dict[str, Any]]:
    """The first sentence: what is reported, where, and that nothing waits."""
    first = sheet.results[0]
    more = len(sheet.results) - 1
    rest = f", and {counted(more, 'more result')} below" if more else ""
    return [
        {"text": first.outcome.capitalize(), "bold": True},
        {"text": f" for {first.organism}: {first.site_name}{rest}. {first.why} ", "bold": False},
        {"text": "Ring now: nothing waits for confirmation.", "bold": True},
    ]


def _row(one: CalledResult) -> dict[str, str]:
    taken = f"{short_date(one.taken_at.date())}, {clock(one.taken_at)}"
    code = f" ({one.site})" if one.site else ""
    return {
        "sample": one.sample,
        "outcome": one.outcome,
        "organism": one.organism,
        "site": f"{one.site_name}{code}",
        "zone": f"Z{one.zone}" if one.zone else "",
        "why": one.why,
        "taken": taken,
        "method": one.method,
    }


def _lots(sheet: CallSheet) -> str:
    """The lots that the plant document names, by line."""
    if not sheet.lots:
        return "The plant document names no lots of these lines. Ask which lots met the site since the last full clean."
    lines = sorted({lot.line for lot in sheet.lots})
    said = [
        f"{line}: {listed([f'{lot.code} of {short_date(lot.made_on)}' for lot in sheet.lots if lot.line == line])}"
        for line in lines
    ]
    return f"Lots that the plant document names: {'; '.join(said)}. Ask for all others since the last full clean."
