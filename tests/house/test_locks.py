"""Lock files fix every package by hash and tie nobody to one registry."""

import json
import re

import pytest
from builders.house import ROOT

PYTHON_LOCKS = ("requirements.lock", "requirements-dev.lock")
ADDRESS = re.compile("|".join((r"https?:", r"git\+", "file:", "--index" + "-url", "--find" + "-links")))


def entries(name):
    return dict(re.findall(r"^([a-z0-9._-]+)==(\S+)", (ROOT / name).read_text("utf-8"), re.MULTILINE))


@pytest.mark.parametrize("name", [*PYTHON_LOCKS, "web/package-lock.json"])
def test_a_lock_holds_no_address(name):
    assert not ADDRESS.search((ROOT / name).read_text("utf-8"))


@pytest.mark.parametrize("name", PYTHON_LOCKS)
def test_every_locked_python_package_has_a_hash(name):
    blocks = re.split(r"\n(?=[a-z0-9])", (ROOT / name).read_text("utf-8").strip())
    assert [block.split()[0] for block in blocks if "--hash=sha256:" not in block] == []


def test_every_locked_typeface_package_has_a_checksum():
    packages = json.loads((ROOT / "web/package-lock.json").read_text("utf-8"))["packages"]
    assert [name for name, entry in packages.items() if name and not entry["integrity"].startswith("sha512-")] == []


def test_the_dev_lock_contains_the_run_lock():
    assert entries("requirements.lock").items() <= entries("requirements-dev.lock").items()


@pytest.mark.parametrize("kind", ["requirements", "requirements-dev"])
def test_every_required_package_is_locked(kind):
    wanted = re.findall(r"^[A-Za-z0-9._-]+", (ROOT / f"{kind}.in").read_text("utf-8"), re.MULTILINE)
    names = {name.lower().replace("_", "-") for name in wanted if not name.startswith("-")}
    assert names <= entries(f"{kind}.lock").keys()
