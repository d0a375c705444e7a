"""What may not stand in a tracked file: machine paths, hosts of registries, words of nobody's concern."""

import re
import stat

import pytest
from builders.house import ROOT, texts, tracked_files

# Put together from pieces, so that this file does not find itself.
MACHINE_PATHS = [f"/{folder}/" for folder in ("wo" + "rk", "ro" + "ot", "ho" + "me", "tmp" + "/bash")]
HOSTS = ["pypi" + r"\.org", "pythonhosted" + r"\.org", "registry" + r"\.npm", "local" + r"host:\d"]
WORDS = ["seed" + " document", "tran" + "scripts?", "sub" + "agent", "chat" + "bot", "engine" + " formulation"]
FORBIDDEN = re.compile(
    rf"(?<![\w.])(?:{'|'.join(MACHINE_PATHS)})|{'|'.join(HOSTS)}|\b(?:{'|'.join(WORDS)})\b", re.IGNORECASE
)
LARGEST_BYTES = 2_000_000


def test_no_tracked_text_holds_a_machine_path_or_a_host():
    found = {f"{path}: {match.group()}" for path, text in texts() for match in FORBIDDEN.finditer(text)}
    assert found == set()


@pytest.mark.parametrize(
    "fault", ["see " + MACHINE_PATHS[0] + "notes", "https://py" + "pi.org/simple", "the seed" + " document says"]
)
def test_the_search_would_find_a_planted_fault(fault):
    assert FORBIDDEN.search(fault)


@pytest.mark.parametrize("name", ["start", "check", ".ci/run"])
def test_the_commands_can_be_run(name):
    assert (ROOT / name).stat().st_mode & stat.S_IXUSR


def test_nothing_that_set_up_makes_is_tracked():
    made = {".venv", "node_modules", "fonts", "__pycache__", "out", "dist"}
    assert [path for path in tracked_files() if made & set(path.relative_to(ROOT).parts)] == []


def test_no_tracked_file_is_large():
    assert [path for path in tracked_files() if path.stat().st_size > LARGEST_BYTES] == []
