"""QR and Code 128 of a sample number, each with its quiet zone, in millimetres."""

import segno
from barcode.codex import Code128

from swabwright.reports.picture import picture

QR_MODULE_MM = 0.58
QR_QUIET = 4
"""Quiet zone of a QR code in modules (ISO/IEC 18004)."""
BAR_MODULE_MM = 0.29
BAR_HEIGHT_MM = 6.6
BAR_QUIET = 10
"""Quiet zone of a Code 128 in modules at either end (ISO/IEC 15417)."""


def qr_svg(number: str) -> str:
    """A QR code (ISO/IEC 18004), error correction level Q, quiet zone included."""
    # a fixed level keeps every label of a visit at one size
    matrix = segno.make(number, error="q", micro=False, boost_error=False).matrix
    m, cells = QR_MODULE_MM, []
    for row, line in enumerate(matrix):
        cells += [
            f"M{(col + QR_QUIET) * m:.2f} {(row + QR_QUIET) * m:.2f}h{m}v{m}h-{m}z" for col, on in enumerate(line) if on
        ]
    side = (len(matrix) + 2 * QR_QUIET) * m
    return picture([f'<path d="{"".join(cells)}" fill="#000"/>'], (side, side))


def code_128_svg(number: str) -> str:
    """A Code 128 (ISO/IEC 15417), quiet zones included."""
    modules = Code128(number).build()[0]
    m, bars, start = BAR_MODULE_MM, [], 0
    while start < len(modules):
        end = start
        while end < len(modules) and modules[end] == modules[start]:
            end += 1
        if modules[start] == "1":
            bars.append(
                f"M{(start + BAR_QUIET) * m:.3f} 0h{(end - start) * m:.3f}v{BAR_HEIGHT_MM}h-{(end - start) * m:.3f}z"
            )
        start = end
    return picture([f'<path d="{"".join(bars)}" fill="#000"/>'], ((len(modules) + 2 * BAR_QUIET) * m, BAR_HEIGHT_MM))
