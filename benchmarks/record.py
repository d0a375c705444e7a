"""Rows of the record: entries verified a second, appends that stay as quick as the first, files hashed."""

import hashlib
import secrets
import tempfile
from collections.abc import Iterable
from pathlib import Path
from time import perf_counter, process_time

from benchmarks.table import Row
from swabwright.case.canonical import bytes_hash
from swabwright.record.authority import Exhibit
from swabwright.record.entry import Statement
from swabwright.record.journal import Journal, open_journal
from swabwright.record.sampling import Marks
from swabwright.record.spelling import statement_bytes
from swabwright.record.values import NO_HASH, FileRef
from swabwright.record.verify import verify_record

TOGETHER = 100
"""Statements that a phone sends in one go."""

VERIFICATIONS = 3
"""Runs of the check, of which the quickest by the wall counts."""

MEBIBYTE = 1 << 20


class _Phone:
    """A device that states one thing after another."""

    def __init__(self) -> None:
        self.sequence, self.previous = 0, NO_HASH

    def says(self, body: Marks | Exhibit) -> Statement:
        """The next statement of this device."""
        self.sequence += 1
        statement = Statement(
            id=secrets.token_hex(16),
            device="phone-a",
            sequence=self.sequence,
            device_previous=self.previous,
            at="2026-03-05T09:30:00+01:00",
            by="Ada Lind",
            body=body,
        )
        self.previous = bytes_hash(statement_bytes(statement))
        return statement


def rows(*, full: bool) -> Iterable[Row]:
    """The rows of the record: 40,000 appends and 64 MiB in the small version, 1,000,000 and 1 GiB in the whole one."""
    with tempfile.TemporaryDirectory() as scratch:
        case = Path(scratch)
        yield _append_row(case, appends=1_000_000 if full else 40_000, part=10_000)
        yield _verify_row(case)
    with tempfile.TemporaryDirectory() as scratch:
        yield _files_row(Path(scratch), files=1024 if full else 64)


def _append_row(case: Path, appends: int, part: int) -> Row:
    """Other work on the machine lengthens the wall's seconds, not the processor's; both are told."""
    phone = _Phone()
    with open_journal(case) as journal:
        spent = [_appended(journal, phone, part) for _ in range(appends // part)]
    (first, first_wall), (last, last_wall) = spent[0], spent[-1]
    measured = f"{last / first:.2f}x ({first:.2f} and {last:.2f} s of processor, {TOGETHER} to a flush)"
    note = f"by the wall, flushes and waiting for other work included: {first_wall:.2f} and {last_wall:.2f} s"
    name = f"last {part:,} of {appends:,} appends against the first"
    return Row("R2", name, measured, "1.2x", "1.0x", last / first <= 1.2, note)


def _appended(journal: Journal, phone: _Phone, count: int) -> tuple[float, float]:
    """Processor and wall seconds of adding alone, without making the statements."""
    processor = wall = 0.0
    for _ in range(count // TOGETHER):
        said = [phone.says(Marks(kind="marks", site="S014", marks=("wet",))) for _ in range(TOGETHER)]
        began, began_wall = process_time(), perf_counter()
        journal.add_all(said)
        processor += process_time() - began
        wall += perf_counter() - began_wall
    return processor, wall


def _verify_row(case: Path) -> Row:
    """Judged by the wall, by which a person waits; the best run, as other work on the machine only lengthens it."""
    runs = [_verified(case) for _ in range(VERIFICATIONS)]
    entries, wall, processor = min(runs, key=lambda run: run[1])
    measured = f"{entries / wall:,.0f}/s by the wall, best of {VERIFICATIONS} runs"
    each = " and ".join(f"{run[1]:.2f}" for run in runs)
    note = f"by the processor {entries / processor:,.0f}/s; the runs took {each} s of the wall, judged by the quickest"
    name = f"entries verified, of {entries:,}"
    return Row("R1", name, measured, "20,000/s", "none", entries / wall >= 20_000, note)


def _verified(case: Path) -> tuple[int, float, float]:
    """Entries, wall and processor seconds of one whole check."""
    began, began_wall = process_time(), perf_counter()
    found = verify_record(case)
    return found.entries, perf_counter() - began_wall, process_time() - began


def _files_row(case: Path, files: int) -> Row:
    folder, phone = case / "files", _Phone()
    folder.mkdir()
    with open_journal(case) as journal:
        for number in range(files):
            content = secrets.token_bytes(MEBIBYTE)
            file = FileRef(sha256=bytes_hash(content), ending="bin", size_bytes=MEBIBYTE)
            (folder / file.name).write_bytes(content)
            journal.add(phone.says(Exhibit(kind="exhibit", exhibit=str(number), what="other", words="file", file=file)))
    plain = _copied(folder, case / "copy")
    began = perf_counter()
    verify_record(case)
    ratio = plain / (perf_counter() - began)
    measured = f"{ratio:.2f}x of the speed ({files / plain:,.0f} MiB/s plain)"
    return Row("R3", "files verified against a plain copy with hashing", measured, "0.8x", "none", ratio >= 0.8)


def _copied(folder: Path, copy: Path) -> float:
    copy.mkdir()
    began = perf_counter()
    for file in sorted(folder.iterdir()):
        content = file.read_bytes()
        hashlib.sha256(content).hexdigest()
        (copy / file.name).write_bytes(content)
    return perf_counter() - began
