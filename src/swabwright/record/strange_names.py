"""Sites, lines, machines and rooms that entries name and the plant's document does not hold: noted, never refused.

A sample that exists must be enterable, whatever the document says; a slip of the pen must not stay unseen either.
"""

from collections.abc import Iterable, Iterator

from swabwright.record.custody import Note
from swabwright.record.entry import Entry
from swabwright.record.ground import Ground
from swabwright.record.standing import standing
from swabwright.record.values import Body


def strange_names(entries: Iterable[Entry], ground: Ground) -> tuple[Note, ...]:
    """A note on every entry that names a site, line, machine or room which the plant's document does not hold."""
    if not ground.sites:
        return ()
    return tuple(
        Note(entry.number, words) for entry in standing(entries) for words in _strange(entry.statement.body, ground)
    )


def _strange(body: Body, ground: Ground) -> Iterator[str]:
    site = getattr(body, "site", None)
    if site is not None and site not in ground.sites:
        yield f"plant.json has no site {site}; if it is a slip, supersede the entry and enter it anew"
    for what, known in (("line", ground.lines), ("machine", ground.machines), ("room", ground.rooms)):
        name = getattr(body, what, None)
        if name is not None and name not in known:
            yield f"plant.json has no {what} {name} (its {what}s: {', '.join(sorted(known)) or 'none'})"
