"""The one spelling of statements and entries, and their hashes (RFC 8785, SHA-256)."""

import json
from typing import Any

import rfc8785

from swabwright.case.canonical import bytes_hash
from swabwright.record.entry import Statement

HEAD = b'"format":"swabwright/entry",'
# Made once: a record of a year is spelled again entry by entry whenever it is checked.
_SPELLED = json.JSONEncoder(sort_keys=True, separators=(",", ":"), ensure_ascii=False)


def statement_bytes(statement: Statement) -> bytes:
    """The canonical bytes of a statement; fields without a value are left out."""
    return rfc8785.dumps(statement.model_dump(mode="json", exclude_none=True))


def spelled_again(value: Any) -> bytes:
    """The canonical bytes of parsed JSON that holds whole numbers and ASCII field names only, quickly.

    For such values the standard library's sorted, compact spelling is that of RFC 8785.
    """
    return _SPELLED.encode(value).encode()


def entry_line(number: int, previous: str, statement: bytes) -> tuple[bytes, str]:
    """The canonical line of an entry, without line end, and its hash."""
    rest = f'"number":{number},"previous":"{previous}","statement":'.encode() + statement + b',"version":1}'
    digest = bytes_hash(b"{" + HEAD + rest)
    return b"{" + HEAD + f'"hash":"{digest}",'.encode() + rest, digest
