"""The readme's picture: the first page of the example's plan, as it stands in out/juniper-lane/plan.pdf."""

import sys
from pathlib import Path

import pypdfium2
from PIL import Image

ROOT = Path(__file__).resolve().parent.parent
PLAN = ROOT / "out" / "juniper-lane" / "plan.pdf"
PICTURE = ROOT / "docs" / "pictures" / "plan.png"
DOTS_PER_INCH = 110
POINTS_PER_INCH = 72
COLOURS = 64


def main() -> int:
    """Draw the picture anew; returns 1 if the example has not been planned yet."""
    if not PLAN.is_file():
        print("plan the example first: ./start", file=sys.stderr)
        return 1
    with pypdfium2.PdfDocument(PLAN) as plan:
        page: Image.Image = plan[0].render(scale=DOTS_PER_INCH / POINTS_PER_INCH).to_pil()
    page.quantize(COLOURS).save(PICTURE, optimize=True)
    print(f"drawn: {PICTURE}", file=sys.stderr)
    return 0


if __name__ == "__main__":
    sys.exit(main())
