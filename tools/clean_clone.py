"""A stranger's first minutes: clone, empty home folder, plan the example, check quickly, start again."""

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
KEPT_OUT = ("PYTHON", "VIRTUAL_ENV", "XDG_", "CONDA", "PYENV_VERSION", "PYENV_DIR")
# How this machine reaches a registry (a proxy, a certificate) is no part of the project, so it is kept.
NETWORK_SETTINGS = {"NPM_CONFIG_USERCONFIG": ".npmrc", "PIP_CONFIG_FILE": ".config/pip/pip.conf"}
PAPERS = ("plan.json", "plan.pdf", "labels.pdf", "walk.csv")
MOST_SECONDS_ADDED = 2.0


def main() -> int:
    """Walk through the stranger's steps; returns the first exit code that is not 0."""
    if not (ROOT / ".git").exists():
        print("clean clone: left out, because this folder is not a git checkout")
        return 0
    with tempfile.TemporaryDirectory(prefix="swabwright-clone-") as folder:
        return walk_through(Path(folder))


def walk_through(folder: Path) -> int:
    """Clone into `folder`, plan and check there; what is not committed is not tried."""
    clone, home, papers = folder / "clone", folder / "home", folder / "papers"
    home.mkdir()
    env = stranger(home) | trusting(folder / "gitconfig")
    for command in (
        ["git", "clone", "--quiet", str(ROOT), str(clone)],
        [str(clone / "start"), "plan", str(clone / "examples" / "juniper-lane"), "--out", str(papers)],
        [str(clone / "check"), "quick"],
    ):
        code = timed(command, env)
        if code != 0:
            return code
    # Asked last, since by now everything that a first start compiles is there.
    return missing_papers(papers) or slow_repeat(clone, env)


def stranger(home: Path) -> dict[str, str]:
    """The environment of somebody who has just arrived: empty home folder, no Python settings."""
    env = {key: value for key, value in os.environ.items() if not key.startswith(KEPT_OUT)}
    ours = str(ROOT / ".venv" / "bin")
    path = os.pathsep.join(part for part in env["PATH"].split(os.pathsep) if part != ours)
    settings = {key: str(Path.home() / file) for key, file in NETWORK_SETTINGS.items() if (Path.home() / file).exists()}
    return settings | env | {"HOME": str(home), "PATH": path}


def trusting(config: Path) -> dict[str, str]:
    """Settings that let git read a checkout which belongs to another user than the one who checks it."""
    config.write_text("[safe]\n\tdirectory = *\n", "utf-8")
    return {"GIT_CONFIG_GLOBAL": str(config)}


def timed(command: list[str], env: dict[str, str]) -> int:
    """Run one step aloud; returns its exit code."""
    begun = time.perf_counter()
    code = subprocess.run(command, env=env).returncode
    print(
        f"clean clone: {' '.join(command[:2])} ended with {code} after {time.perf_counter() - begun:.0f} s", flush=True
    )
    return code


def missing_papers(papers: Path) -> int:
    """1 if a paper is missing, and which."""
    missing = [name for name in PAPERS if not (papers / name).is_file()]
    if missing:
        print(f"clean clone: the plan left no {', '.join(missing)}")
    return int(bool(missing))


def slow_repeat(clone: Path, env: dict[str, str]) -> int:
    """1 if a repeat start adds more than two seconds to the command itself."""
    seconds = [_seconds([str(clone / "start")], env), _seconds([str(clone / ".venv" / "bin" / "swabwright")], env)]
    added = seconds[0] - seconds[1]
    print(f"clean clone: a repeat start adds {added:.2f} s")
    return int(added > MOST_SECONDS_ADDED)


def _seconds(command: list[str], env: dict[str, str]) -> float:
    begun = time.perf_counter()
    subprocess.run([*command, "--help"], env=env, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - begun


if __name__ == "__main__":
    sys.exit(main())
