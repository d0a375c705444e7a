"""Makes examples/juniper-lane-to-the-end: the example's plant again, from the accepted plan to the last round.

Run from the project's root: .venv/bin/python examples/make_record.py
What happens stands in story/juniper-lane-to-the-end.toml, what the laboratory finds in story/outcomes.toml (drawn once
by draw_results.py from the niches in truths.toml). All of it is made up. Accepted plans are kept as they are, so the
same record comes out on any machine; a plan that is missing is made anew, which takes minutes.
"""

import shutil
from pathlib import Path

from story.tell import tell

HERE = Path(__file__).parent
NAME = "juniper-lane-to-the-end"
FROM = HERE / "juniper-lane"
DOCUMENTS = ("plant.json", "rulebook.toml", "overrides.toml")


def make(out: Path, plans: Path) -> None:
    """Write the whole case into `out`, with the accepted plans kept in `plans`."""
    out.mkdir(parents=True, exist_ok=True)
    for name in DOCUMENTS:
        shutil.copyfile(FROM / name, out / name)
    tell(NAME, out, plans, FROM / "investigation.json")


if __name__ == "__main__":
    make(HERE / NAME, HERE / NAME / "plans")
