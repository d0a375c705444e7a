"""Invented photographs: grey PNG pictures of 96 by 72 points, drawn by a few shapes; the same name, the same bytes."""

import hashlib
import struct
import zlib

WIDTH, HEIGHT = 96, 72
HORIZON = 40


def picture(name: str) -> bytes:
    """A picture of a wall, a floor, a machine and a wet patch, laid out by the name."""
    place = hashlib.sha256(name.encode()).digest()
    rows = [bytearray(_shade(x, y, place) for x in range(WIDTH)) for y in range(HEIGHT)]
    return _png(rows)


def _shade(x: int, y: int, place: bytes) -> int:
    left, top, wide, deep = place[0] % 40, 10 + place[1] % 20, 24 + place[2] % 28, 18 + place[3] % 20
    if left <= x < left + wide and top <= y < top + deep:
        seam = top + 4 + place[4] % 12
        return 40 if y in (seam, seam + 1) else 150 + place[5] % 40
    puddle_x, puddle_y = 20 + place[6] % 56, HORIZON + 14 + place[7] % 10
    if ((x - puddle_x) / 14) ** 2 + ((y - puddle_y) / 5) ** 2 < 1:
        return 205
    return 225 - y // 4 if y < HORIZON else 120 + (y - HORIZON)


def _png(rows: list[bytearray]) -> bytes:
    """Grey PNG without compression, so that no version of a compressor changes its bytes."""
    raw = b"".join(b"\x00" + bytes(row) for row in rows)
    stored = b"\x78\x01\x01" + struct.pack("<HH", len(raw), len(raw) ^ 0xFFFF) + raw
    stored += struct.pack(">I", zlib.adler32(raw))
    header = struct.pack(">IIBBBBB", WIDTH, HEIGHT, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", header) + _chunk(b"IDAT", stored) + _chunk(b"IEND", b"")


def _chunk(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))
