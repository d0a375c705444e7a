"""Behind ./start and ./check: sets up what is missing, then hands over to the command."""

import os
import subprocess
import sys
from collections.abc import Sequence
from typing import NoReturn

import kernels
import packages
import stages
import typefaces
from machine import alone
from steps import ROOT, Trouble, say

EXAMPLE = ("plan", "examples/juniper-lane", "--out", "out/juniper-lane")
CHECKS = "./check [quick|all|bench [--full]]"


def set_up(kind: str) -> None:
    """Everything the command needs: packages of this kind (`run` or `dev`), typefaces, compiled kernels."""
    if packages.is_set_up(kind) and typefaces.is_set_up() and kernels.is_set_up():
        return
    # Whoever waited here finds the stamps of the other and passes by.
    with alone():
        packages.set_up(kind)
        typefaces.set_up()
        kernels.set_up()


def hand_over(command: list[str]) -> NoReturn:
    """Become the command: its signals, streams and exit code are then its own."""
    os.execv(command[0], command)


def start(arguments: Sequence[str]) -> int:
    """Run swabwright; without arguments plan the example and say where its papers lie."""
    set_up("run")
    if not arguments:
        return plan_the_example()
    if list(arguments) == ["docs"]:
        return subprocess.run([packages.PYTHON, ROOT / "tools" / "manual.py"]).returncode
    hand_over([str(packages.PYTHON), str(packages.COMMAND), *arguments])


def plan_the_example() -> int:
    """Plan the invented smokehouse that comes with the project."""
    say("Planning the example: ./start " + " ".join(EXAMPLE))
    code = subprocess.run([packages.PYTHON, packages.COMMAND, *EXAMPLE], cwd=ROOT).returncode
    papers = ROOT / EXAMPLE[-1]
    if code == 0:
        say(f"\nThe papers lie in {papers}:")
        for paper in sorted(papers.glob("*.*")):
            say(f"  {paper.name}")
        say("Your own plant: ./start plan FOLDER --out PAPERS (the manual: ./start docs)")
    return code


def check(arguments: Sequence[str]) -> int:
    """Check the house: `quick`, `all` (also without a word) or `bench`."""
    which, *rest = arguments or ["all"]
    if which == "bench" and rest in ([], ["--full"]):
        set_up("dev")
        return stages.bench(rest)
    if which not in stages.STAGES or rest:
        raise Trouble(f"no check is called '{' '.join(arguments)}'", CHECKS)
    set_up("dev")
    return stages.check(which)


def main() -> int:
    """`setup.py start|check [arguments]`."""
    command, *arguments = sys.argv[1:]
    try:
        return {"start": start, "check": check}[command](arguments)
    except Trouble as trouble:
        say(f"{command}: stopped. {trouble}\n{trouble.remedy}")
        return 1
    except KeyboardInterrupt:
        say(f"{command}: stopped by you; what was finished is kept")
        return 130


if __name__ == "__main__":
    sys.exit(main())
