"""The comparison stands beside the package, at the project's root; its tests reach it there."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))
