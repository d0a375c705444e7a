"""Which results moved it: a row a result with its mark, its site and its bars."""

from collections.abc import Sequence
from typing import Any

from swabwright.case.findings import Findings, ResultWeight
from swabwright.reports.evidence_bars import Bar, bar_svg, bars_of, columns, longest_bar
from swabwright.reports.findings_scene import WEIGHTS, SiteSeen, fill_of
from swabwright.reports.mark_pictures import mark_height_mm, mark_picture
from swabwright.reports.marks import Mark
from swabwright.reports.sampled import Sampled
from swabwright.reports.scene_key import mark_file

OUTCOMES = {"detected": "detected", "presumptive": "presumptive", "not_detected": "not detected"}
NO_BARS = "No result makes one of these places more than 1.15 times as likely, or less; none has a bar."


def evidence_table(found: Findings, seen: Sequence[SiteSeen]) -> tuple[dict[str, Any], dict[str, str]]:
    """The words of the table, and its pictures by file name."""
    weights = found.weights[:WEIGHTS]
    bars = [bars_of(found, weight) for weight in weights]
    longest = longest_bar([bar for row in bars for bar in row])
    taken = {sample.number: sample for one in seen for sample in one.samples}
    rows = [_row(at, weight, taken.get(weight.sample)) for at, weight in enumerate(weights)]
    pictures = {f"bar-{at}-{n}.svg": bar_svg(bar, longest) for at, row in enumerate(bars) for n, bar in enumerate(row)}
    for row, made in zip(rows, bars, strict=True):
        row["bars"] = [{"picture": f"bar-{row['at']}-{n}.svg", "alt": _alt(bar)} for n, bar in enumerate(made)]
    marks = [_mark(taken[weight.sample], weight) for weight in weights if weight.sample in taken]
    pictures |= {mark_file(mark): mark_picture(mark) for mark in marks}
    words = {"evidence": rows, "columns": list(columns(found)), "longest": longest_words(longest, taken)}
    return words, pictures


def _mark(sample: Sampled, weight: ResultWeight) -> Mark:
    return Mark(sample.device, 0, fill_of(weight.outcome))


def _row(at: int, weight: ResultWeight, sample: Sampled | None) -> dict[str, Any]:
    mark = _mark(sample, weight) if sample else None
    return {
        "at": at,
        "mark": mark_file(mark) if mark else "",
        "height": mark_height_mm(mark) * 0.7 if mark else 0.0,
        "order": sample.order if sample else "",
        "site": weight.site_name,
        "outcome": OUTCOMES[weight.outcome],
    }


def _alt(bar: Bar | None) -> str:
    if bar is None:
        return "no bar"
    return f"{'more' if bar.log_times > 0 else 'less'} likely: {bar.shift.points:+.1f} points in 100"


def longest_words(bar: Bar | None, taken: dict[str, Sampled]) -> str:
    """The longest bar in words; every figure in it stands in the findings."""
    if bar is None:
        return NO_BARS
    sample = taken.get(bar.weight.sample)
    which = f"sample {sample.order}" if sample else f"sample {bar.weight.sample}"
    less = "lower" if bar.shift.points > 0 else "higher"
    return (
        f"Log scale. The longest bar is {which}, {bar.weight.site_name}: without it the chance of a niche at "
        f"{bar.shift.name} would be {abs(bar.shift.points):.1f} points in 100 {less}. Under 1.15 times no bar."
    )
