"""The house tests read the set-up tools as they are: by their folder, since they are no package."""

import sys

from builders.house import ROOT

sys.path.insert(0, str(ROOT / "tools"))
