"""Names given twice in one list."""

from collections.abc import Iterator, Sequence

from swabwright.errors import Fault

REMEDY = {
    "id": "give each an id of its own",
    "code": "give each site a code of its own",
    "key": "a copied site needs a new key, or its random draws are those of the other",
}


def twice_faults(kind: str, field: str, names: Sequence[str]) -> Iterator[Fault]:
    """A fault for each name that stood before in the list `kind`, naming both places."""
    seen: dict[str, int] = {}
    for place, name in enumerate(names):
        if name in seen:
            yield Fault(f"{kind}[{place}].{field}", f"'{name}' stands already at {kind}[{seen[name]}]; {REMEDY[field]}")
        # The first stays the one that later ones are held against, however often the name comes.
        seen.setdefault(name, place)
