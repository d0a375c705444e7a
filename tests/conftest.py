"""What every test shares: builders on the path, and property tests that repeat themselves exactly."""

import sys
from pathlib import Path

from hypothesis import settings

sys.path.insert(0, str(Path(__file__).parent))

settings.register_profile("ci", derandomize=True, deadline=None)
settings.load_profile("ci")
