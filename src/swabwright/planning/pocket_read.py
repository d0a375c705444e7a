"""The pocket table read back from its bytes, refused when they are not whole."""

import json
from collections.abc import Iterator
from typing import Any

import numpy as np
import numpy.typing as npt

from swabwright.errors import SwabwrightError
from swabwright.planning.pocket_table import MAGIC, SCALE, WEIGHTS, PocketItem, PocketTable


def read_pocket(content: bytes) -> PocketTable:
    """The table from the bytes of `PocketTable.to_bytes`."""
    if content[: len(MAGIC)] != MAGIC:
        raise SwabwrightError("these bytes are no pocket table; take the file `pocket.bin` of an accepted plan")
    start = len(MAGIC) + 4
    length = int.from_bytes(content[len(MAGIC) : start], "little")
    header = _header(content[start : start + length])
    items, rows, places = len(header["items"]), header["rows"], len(header["items"]) + 1
    parts = _parts(
        content[start + length :],
        [("<i4", rows), ("u1", items * rows), ("<u4", header["silences"]), ("<i4", places * (places - 1) // 2)],
    )
    weights, exponents, silence, upper = parts
    return PocketTable(
        items=tuple(PocketItem(**item) for item in header["items"]),
        weights=weights.astype(np.int32),
        exponents=exponents.astype(np.uint8).reshape(items, rows),
        silence=silence.astype(np.uint32),
        centimetres=_square(upper.astype(np.int32), places),
    )


def _header(content: bytes) -> dict[str, Any]:
    header: dict[str, Any] = json.loads(content)
    if (header.get("format"), header.get("version")) != ("swabwright/pocket", 1):
        raise SwabwrightError(
            f"a pocket table of version {header.get('version')} is not known here; use the program that wrote it"
        )
    if (header["scale"], header["weights"]) != (SCALE, WEIGHTS):
        raise SwabwrightError("a pocket table with other scales than this program's; use the program that wrote it")
    return header


def _parts(content: bytes, sizes: list[tuple[str, int]]) -> Iterator[npt.NDArray[np.generic]]:
    whole = sum(np.dtype(kind).itemsize * count for kind, count in sizes)
    if len(content) != whole:
        raise SwabwrightError(f"a pocket table with {len(content)} bytes after its header instead of {whole}")
    for kind, count in sizes:
        size = np.dtype(kind).itemsize * count
        yield np.frombuffer(content[:size], dtype=kind)
        content = content[size:]


def _square(upper: npt.NDArray[np.int32], places: int) -> npt.NDArray[np.int32]:
    square = np.zeros((places, places), dtype=np.int32)
    square[np.triu_indices(places, k=1)] = upper
    return square + square.T
