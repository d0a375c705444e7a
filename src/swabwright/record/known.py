"""Which statements the record holds: entry number and hash by statement id, as flat bytes.

A million small objects would make every collection of unused memory slower; these tables hold none to look at.
"""

_HASH_BYTES = 32


class Known:
    """Statements taken so far, found again by their id."""

    def __init__(self) -> None:
        self._places: dict[bytes, int] = {}
        self._hashes = bytearray()
        self._numbers: list[int] = []

    def get(self, statement_id: str) -> tuple[int, str] | None:
        """Entry number and statement hash of this id; None when it is new."""
        place = self._places.get(bytes.fromhex(statement_id))
        if place is None:
            return None
        start = place * _HASH_BYTES
        return self._numbers[place], self._hashes[start : start + _HASH_BYTES].hex()

    def put(self, statement_id: str, number: int, statement_hash: str) -> None:
        """Remember a new statement."""
        self._places[bytes.fromhex(statement_id)] = len(self._numbers)
        self._numbers.append(number)
        self._hashes += bytes.fromhex(statement_hash)
