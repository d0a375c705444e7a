"""Which layer of a drawing holds what: by the mapping, else by its name."""

from dataclasses import dataclass

from rapidfuzz import fuzz

from swabwright.errors import SwabwrightError, did_you_mean
from swabwright.plant.imports.drawing import Drawing
from swabwright.plant.imports.mapping import DrawingMapping
from swabwright.plant.imports.names import plain_name
from swabwright.plant.imports.notes import Notes
from swabwright.plant.imports.vocabulary import Vocabulary


@dataclass(frozen=True)
class Layers:
    """The drawing's layers by what is drawn on them."""

    by_role: dict[str, tuple[str, ...]]

    def of(self, role: str) -> tuple[str, ...]:
        """The layers of one kind of thing; none when nothing of the kind is drawn."""
        return self.by_role.get(role, ())


def find_layers(drawing: Drawing, said: DrawingMapping, words: Vocabulary, notes: Notes) -> Layers:
    """The layers as the mapping names them, the others by their likeness to known names; the rest put aside."""
    present = drawing.layers()
    _check(said, present, words)
    by_role = {role: list(layers) for role, layers in said.layers.items()}
    taken = {layer for layers in said.layers.values() for layer in layers} | set(said.ignore)
    for layer in present:
        if layer in taken:
            continue
        role, score = _nearest(layer, words)
        # A kind that a person gave layers has all of them; a guess beside them would add what was left out.
        if score < words.number("kind.least_score") or role in said.layers:
            notes.put_aside(f"{drawing.name}, layer {layer}", "", "no kind of thing is known by this name")
            continue
        by_role.setdefault(role, []).append(layer)
        notes.guess(f"{drawing.name}: layer '{layer}' holds {role.replace('_', ' ')} (score {score:.0f})")
    return Layers({role: tuple(layers) for role, layers in by_role.items()})


def _check(said: DrawingMapping, present: tuple[str, ...], words: Vocabulary) -> None:
    roles = list(words.layers())
    for role, layers in said.layers.items():
        if role not in roles:
            raise SwabwrightError(f"mapping, drawing.layers: no kind of thing '{role}'{did_you_mean(role, roles)}")
        for layer in layers:
            if layer not in present:
                hint = did_you_mean(layer, list(present))
                raise SwabwrightError(f"mapping, drawing.layers.{role}: nothing is drawn on a layer '{layer}'{hint}")


def _nearest(layer: str, words: Vocabulary) -> tuple[str, float]:
    name = plain_name(layer)
    scored = [
        (fuzz.token_sort_ratio(name, plain_name(known)), role)
        for role, names in words.layers().items()
        for known in names
    ]
    score, role = max(scored)
    return role, score
