"""The wheel carries what the papers and the catalogue need, so that it works without this folder."""

import subprocess
import sys
import zipfile

import pytest
from builders.house import ROOT, SOURCE

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run([sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", folder], cwd=ROOT, check=True)
    with zipfile.ZipFile(next(folder.glob("*.whl"))) as archive:
        yield archive


@pytest.mark.parametrize("pattern", ["*.py", "*.toml", "*.typ", "*.ttf", "*LICENSE.txt"])
def test_a_wheel_carries_every_file_of_a_kind(wheel, pattern):
    here = {f"swabwright/{path.relative_to(SOURCE)}" for path in SOURCE.rglob(pattern)}
    assert here
    assert here <= set(wheel.namelist())


def test_a_wheel_gives_the_command_and_asks_for_the_run_packages(wheel):
    names = wheel.namelist()
    text = {name.rsplit("/", 1)[-1]: wheel.read(name).decode() for name in names if ".dist-info/" in name}
    assert "swabwright = swabwright.cli.main:main" in text["entry_points.txt"]
    assert "Requires-Dist: numba" in text["METADATA"]
    assert "nodejs" not in text["METADATA"].split("\n\n")[0]
