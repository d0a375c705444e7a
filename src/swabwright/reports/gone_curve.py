"""The chance that it is gone as a curve: before any round, after each, and what more of them would make it."""

from dataclasses import dataclass

from shapely import box

from swabwright.case.clearance import Clearance, Gone
from swabwright.case.words import out_of_100
from swabwright.reports.action_letters import letter_of, letter_svg
from swabwright.reports.fonts import text_width
from swabwright.reports.frame import outlines
from swabwright.reports.hatch import hatched
from swabwright.reports.picture import picture, text_svg
from swabwright.reports.tokens import HAIR_MM
from swabwright.reports.wording import short_date

SIZE_MM = (170.0, 62.0)
PLOT = box(9.0, 4.0, 168.0, 41.0)
TEXT_MM, FIGURE_MM = 2.5, 3.1
HEAVY_MM, SEEN_MM = 0.75, 0.32
HATCH_MM = 1.6
UNDER_MM = 3.4
LETTERS_MM, BETWEEN_MM = 4.8, 1.5


@dataclass(frozen=True)
class Step:
    """One stretch of the curve: its figure with and without unseen actions, and the words under it."""

    gone: Gone
    words: tuple[str, ...]
    is_ahead: bool = False


def gone_svg(document: Clearance) -> str:
    """Heavy what counts all actions, thin what counts those seen only, hatched how far off, dashed what is ahead."""
    steps = steps_of(document)
    wide = (PLOT.bounds[2] - PLOT.bounds[0]) / len(steps)
    layers = [_axes(), *(_band(step, at, wide) for at, step in enumerate(steps))]
    layers += [_seen(step, at, wide) for at, step in enumerate(steps)]
    layers += [_line(steps, wide), *(_words(step, at, wide) for at, step in enumerate(steps))]
    layers += [_letters(document, wide), _now(steps, wide)]
    return picture(layers, SIZE_MM)


def steps_of(document: Clearance) -> list[Step]:
    """Every stretch of the curve from left to right."""
    steps = [Step(document.before_rounds, ("before any round",))]
    for number, done in enumerate(document.rounds, 1):
        found = f"{done.detected} detected" if done.detected else "nothing detected"
        steps.append(
            Step(done.gone, (f"after round {number}", short_date(done.taken_on), f"{done.results} results", found))
        )
    for one in document.ahead:
        more = "1 more round" if one.rounds == 1 else f"{one.rounds} more rounds"
        steps.append(Step(one.gone, (more, f"{one.samples} samples", "if nothing detected"), is_ahead=True))
    return steps


def _y(chance: float) -> float:
    _, top, _, bottom = PLOT.bounds
    return bottom - (bottom - top) * chance


def _axes() -> str:
    left, _, right, _ = PLOT.bounds
    lines = "".join(f'<path d="M{left} {_y(c):.2f}H{right}" stroke="#000" stroke-width="0.3"/>' for c in (0.0, 1.0))
    ticks = [text_svg(f"{100 * c:.0f}", (left - 1.2, _y(c)), TEXT_MM, anchor="end") for c in (0.0, 0.5, 1.0)]
    return lines + "".join(ticks)


def _span(at: int, wide: float) -> tuple[float, float]:
    left = PLOT.bounds[0] + at * wide
    return left, left + wide


def _band(step: Step, at: int, wide: float) -> str:
    left, right = _span(at, wide)
    chance = step.gone.all_actions
    area = box(left + 0.4, _y(chance.high), right - 0.4, max(_y(chance.low), _y(chance.high) + 0.2))
    return f'<path d="{outlines(hatched(area, HATCH_MM))}" fill="none" stroke="#000" stroke-width="{HAIR_MM}"/>'


def _seen(step: Step, at: int, wide: float) -> str:
    """The level that counts only what was seen done, where it is another."""
    seen, every = step.gone.seen_only.value, step.gone.all_actions.value
    if out_of_100(seen) == out_of_100(every):
        return ""
    left, right = _span(at, wide)
    line = f'<path d="M{left:.2f} {_y(seen):.2f}H{right:.2f}" stroke="#000" stroke-width="{SEEN_MM}"/>'
    return line + text_svg(out_of_100(seen), (right - 1.0, _y(seen) + 2.2), TEXT_MM, anchor="end", halo=True)


def _line(steps: list[Step], wide: float) -> str:
    parts = []
    for at, step in enumerate(steps):
        left, right = _span(at, wide)
        level = _y(step.gone.all_actions.value)
        rise = (
            f"M{left:.2f} {_y(steps[at - 1].gone.all_actions.value):.2f}V{level:.2f}"
            if at
            else f"M{left:.2f} {level:.2f}"
        )
        dashes = ' stroke-dasharray="1.6 1"' if step.is_ahead else ""
        parts.append(f'<path d="{rise}H{right:.2f}"{dashes}/>')
    return f'<g fill="none" stroke="#000" stroke-width="{HEAVY_MM}">{"".join(parts)}</g>'


def _words(step: Step, at: int, wide: float) -> str:
    left, right = _span(at, wide)
    middle, bottom = (left + right) / 2, PLOT.bounds[3]
    chance = step.gone.all_actions
    figure = text_svg(out_of_100(chance.value), (middle, _y(chance.value) - 2.6), FIGURE_MM, weight=700,
                      anchor="middle", halo=True)  # fmt: skip
    lines = [
        text_svg(
            words, (middle, bottom + 2.6 + row * UNDER_MM), TEXT_MM, weight=600 if is_head else 400, anchor="middle"
        )
        for row, (words, is_head) in enumerate(_under(step, wide))
    ]
    return figure + "".join(lines)


def _under(step: Step, wide: float) -> list[tuple[str, bool]]:
    """The lines under a stretch, broken where it is narrow; the first words are its head."""
    lines: list[tuple[str, bool]] = []
    for at, words in enumerate(step.words):
        line = ""
        for word in words.split():
            longer = f"{line} {word}".strip()
            if line and text_width(longer, TEXT_MM, 600) > wide - BETWEEN_MM:
                lines.append((line, at == 0))
                longer = word
            line = longer
        lines.append((line, at == 0))
    return lines


def _letters(document: Clearance, wide: float) -> str:
    """What was done before the first stretch, as letters under it; many are named by the first and the last."""
    done = [(letter_of(at), one.known_by) for at, one in enumerate(document.actions) if one.removes > 0]
    middle, top = PLOT.bounds[0] + wide / 2, PLOT.bounds[3] + 3.8 + len(_under(steps_of(document)[0], wide)) * UNDER_MM
    if len(done) * LETTERS_MM > wide:
        return text_svg(f"{done[0][0]} to {done[-1][0]}", (middle, top), TEXT_MM, anchor="middle")
    first = middle - LETTERS_MM * (len(done) - 1) / 2
    placed = [
        f'<g transform="translate({first + place * LETTERS_MM:.2f} {top:.2f})">{letter_svg(*one)[0]}</g>'
        for place, one in enumerate(done)
    ]
    return "".join(placed)


def _now(steps: list[Step], wide: float) -> str:
    """The line between what was and what may come."""
    past = sum(not step.is_ahead for step in steps)
    x = PLOT.bounds[0] + past * wide
    if past == len(steps):
        return ""
    line = f'<path d="M{x:.2f} {PLOT.bounds[1] - 1.5}V{PLOT.bounds[3]}" stroke="#000" stroke-width="0.42"/>'
    return line + text_svg("now", (x - 1.0, PLOT.bounds[1] - 1.2), TEXT_MM, weight=600, anchor="end")
