"""The entry that says a plan was accepted: its visit, the hash of its file, who, on which computer."""

import getpass
import platform
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from swabwright.case.canonical import bytes_hash
from swabwright.record.journal import open_journal
from swabwright.work.record_add import NewEntry, add_to


@dataclass(frozen=True)
class Signer:
    """Who makes an entry, on which phone or computer."""

    by: str
    device: str


def this_computer(by: str | None = None, device: str | None = None) -> Signer:
    """Signer with what was not given taken from the system: its user's name, its own name."""
    name = re.sub(r"[^a-z0-9_-]+", "-", platform.node().lower()).strip("-_")[:64]
    return Signer(by or getpass.getuser(), device or name or "computer")


@contextmanager
def acceptance(case: Path, visit: str, plan: bytes, signer: Signer) -> Iterator[None]:
    """Enters the acceptance once the block has put the plan into the case; a broken record stops it before."""
    with open_journal(case) as journal:
        yield
        fields = {"visit": visit, "plan": bytes_hash(plan)}
        add_to(journal, case, NewEntry("plan_accepted", signer.by, signer.device, fields))
