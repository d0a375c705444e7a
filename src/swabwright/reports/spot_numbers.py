"""The number beside a mark, with its zone and its word; in a box where it is proposed."""

from swabwright.reports.captions import NUMBER_GAP_MM, NUMBER_MM, ZONE_MM
from swabwright.reports.fonts import text_width
from swabwright.reports.picture import label_svg, text_svg
from swabwright.reports.placing import Label, Paper, around
from swabwright.reports.spots import Shown

BOX_EDGE_MM, BOX_PAD_MM = 0.4, 0.55
UNDER_MM = 0.34
"""How far the small word stands below the number's middle, as a share of the difference of their sizes."""


def spot_number(stop: Shown, paper: Paper) -> str:
    """Number, zone and word where they cover least; the position is then taken."""
    if stop.spot.boxed:
        return _boxed(stop, paper)
    number, small = stop.spot.number, _small(stop)
    ahead = text_width(number, NUMBER_MM, 600) + NUMBER_GAP_MM
    label = _taken(stop, paper, (ahead + text_width(small, ZONE_MM), NUMBER_MM * 0.78))
    x, y = label.middle
    beside = Label((x + ahead / 2, y + (NUMBER_MM - ZONE_MM) * UNDER_MM), label.width - ahead, label.height)
    return label_svg(small, beside, ZONE_MM, 400) + label_svg(number, label, NUMBER_MM)


def _small(stop: Shown) -> str:
    zone = f"Z{stop.spot.mark.zone}" if stop.spot.mark.zone else ""
    return " ".join(part for part in (zone, stop.spot.word) if part)


def _boxed(stop: Shown, paper: Paper) -> str:
    width = text_width(stop.spot.number, NUMBER_MM, 600) + 2 * BOX_PAD_MM
    height = NUMBER_MM + BOX_PAD_MM
    x, y = _taken(stop, paper, (width, height)).middle
    edge = (
        f'<rect x="{x - width / 2:.2f}" y="{y - height / 2:.2f}" width="{width:.2f}" height="{height:.2f}" '
        f'fill="#fff" stroke="#000" stroke-width="{BOX_EDGE_MM}"/>'
    )
    return edge + text_svg(stop.spot.number, (x, y), NUMBER_MM, weight=600, anchor="middle")


def _taken(stop: Shown, paper: Paper, size: tuple[float, float]) -> Label:
    label, _ = paper.best(around(stop.at, stop.radius_mm, size, stop.stick_mm))
    paper.texts.append(label.box)
    return label
