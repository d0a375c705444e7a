"""The typefaces of the papers: taken from locked packages, laid beside the page templates with their licences."""

import json
import shutil
from pathlib import Path

import stamps
from machine import tool_environment
from packages import VENV
from steps import ROOT, Trouble, run, step

WEB = ROOT / "web"
FONTS = ROOT / "src" / "swabwright" / "reports" / "fonts"
SOURCES = (WEB / "package.json", WEB / "package-lock.json", WEB / ".npmrc")


def wanted(manifest: str) -> dict[str, list[str]]:
    """Files wanted from each package, as web/package.json lists them under `typefaces`."""
    typefaces: dict[str, list[str]] = json.loads(manifest)["typefaces"]
    return typefaces


def laid_name(package: str, file: str) -> str:
    """The name under which a package's file is laid down; a licence carries its package's name."""
    name = Path(file).name
    return name if name.endswith(".ttf") else f"{package.rsplit('/', 1)[-1]}-LICENSE.txt"


def is_set_up() -> bool:
    """True if every typeface of the list lies where the papers look for it."""
    files = wanted(SOURCES[0].read_text("utf-8"))
    laid = all((FONTS / laid_name(package, file)).is_file() for package, names in files.items() for file in names)
    return laid and stamps.is_current("typefaces", stamps.fingerprint(SOURCES))


def set_up() -> None:
    """Fetch the typefaces and lay them down, unless a stamp says that it is done."""
    if is_set_up():
        return
    with step("typefaces, about 25 MB the first time"):
        # Typefaces are plain files, so no package may run anything; what is in the cache is not asked for again.
        npm: list[Path | str] = [VENV / "bin" / "npm", "ci", "--prefer-offline", "--ignore-scripts", "--no-progress"]
        run(npm, tool_environment(VENV), WEB)
        _lay_down(wanted(SOURCES[0].read_text("utf-8")))
    stamps.put("typefaces", stamps.fingerprint(SOURCES))


def _lay_down(files: dict[str, list[str]]) -> None:
    FONTS.mkdir(parents=True, exist_ok=True)
    for package, names in files.items():
        for file in names:
            source = WEB / "node_modules" / package / file
            if not source.is_file():
                raise Trouble(f"{package} holds no {file}", "mend the list 'typefaces' in web/package.json")
            shutil.copyfile(source, FONTS / laid_name(package, file))
