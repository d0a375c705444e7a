"""The generators of the examples can be imported by these tests."""

import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
for folder in (ROOT, ROOT / "examples"):
    if str(folder) not in sys.path:
        sys.path.insert(0, str(folder))
