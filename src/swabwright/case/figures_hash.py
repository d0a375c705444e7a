"""One hash for all figures a plan rests on."""

import hashlib
import json

from swabwright.plant.figures import Figures


def figures_hash(figures: Figures) -> str:
    """SHA-256 of every figure's name and value, in name order."""
    spelled = json.dumps([[name, figures[name].value] for name in sorted(figures)], separators=(",", ":"))
    return hashlib.sha256(spelled.encode()).hexdigest()
