"""Files of a record: kept whole under their hash, and there before an entry names them."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from swabwright.case.writing import write_all
from swabwright.errors import DocumentRefused, Fault, SwabwrightError
from swabwright.record.entry import Statement
from swabwright.record.verify import file_hash


def file_reference(file: Path) -> dict[str, Any]:
    """How an entry names the file: hash, ending and size; refused when there is none."""
    if not file.is_file():
        raise SwabwrightError(f"no file {file}")
    ending = file.suffix.removeprefix(".").lower() or "bin"
    return {"sha256": file_hash(file), "ending": ending, "size_bytes": file.stat().st_size}


def keep_file(case: Path, file: Path, ending: str | None = None) -> None:
    """Copy the bytes as they are into files/, whole or not at all; `ending` as the entry that names it says."""
    reference = file_reference(file)
    name = f"{reference['sha256']}.{ending or reference['ending']}"
    if (case / "files" / name).exists():
        return
    try:
        write_all(case / "files", {name: file.read_bytes()})
    except OSError as error:
        raise SwabwrightError(f"cannot keep {file} in {case / 'files'}: {error}") from error


def check_files(case: Path, statement: Statement, coming: Mapping[str, Any] | None = None) -> None:
    """Refuse a statement that names a file which the case does not hold, other than the one that comes with it."""
    kept_soon = None if coming is None else coming["sha256"]
    faults = [
        Fault("body", f"no file files/{file.name} in the case; give the file itself with --file")
        for file in statement.body.files()
        if file.sha256 != kept_soon and not (case / "files" / file.name).is_file()
    ]
    if faults:
        raise DocumentRefused("entry", faults)
