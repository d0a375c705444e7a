"""Actions on the way: a history goes on from the surfaces and niches that the time before an action left.

Cleaning and rebuilding change what is stored between two segments; a closed route or a mended drain changes the
contact network of the second one. Random words hang on the hour, so an action changes nothing but what it acts on.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from swabwright.spread.bank import BankName
from swabwright.spread.blocks import Beginning, Block, Simulator
from swabwright.spread.clock import Clock
from swabwright.spread.setting import BankSetting


@dataclass(frozen=True)
class Action:
    """What was done between two slots: rows cleaned by so many log10, rows rebuilt (their niche is gone)."""

    cleaned: Sequence[int] = ()
    log10_reduction: float = 0.0
    rebuilt: Sequence[int] = ()


def cut_at(setting: BankSetting, slot: int) -> tuple[BankSetting, BankSetting]:
    """The setting before and from a slot on; each keeps the occasions that fall into it."""
    clock = setting.clock
    elapsed = float(clock.hours[:slot].sum())
    late = clock.read >= slot
    before = _part(clock, slice(0, slot), ~late)
    after = replace(
        _part(clock, slice(slot, None), late),
        read=clock.read[late] - slot,
        founding_hours=(clock.founding_hours[0] - elapsed, clock.founding_hours[1] - elapsed),
        hours_before=float(clock.hours[slot - 1]),
        elapsed_hours=clock.elapsed_hours + elapsed,
    )
    return replace(setting, clock=before), replace(setting, clock=after)


def _part(clock: Clock, slots: slice, occasions: np.ndarray[tuple[int], np.dtype[np.bool_]]) -> Clock:
    kept = tuple(occasion for occasion, here in zip(clock.occasions, occasions, strict=True) if here)
    return replace(
        clock,
        unit=clock.unit[slots],
        hours=clock.hours[slots],
        running=clock.running[slots],
        day=clock.day[slots],
        cleanings=clock.cleanings[slots],
        occasions=kept,
        read=clock.read[occasions],
    )


def act(state: Beginning, action: Action) -> None:
    """Change stored surfaces and niches as an action does."""
    for stored in state:
        stored.loads[:, list(action.cleaned)] *= np.float32(10.0**-action.log10_reduction)
        stored.loads[:, list(action.rebuilt)] = 0.0
        stored.level[:, list(action.rebuilt)] = 0.0


def segmented_block(
    segments: Sequence[BankSetting], actions: Sequence[Action], bank: BankName, number: int
) -> list[Block]:
    """One block of histories through all segments, an action between each two; one block of readings a segment."""
    simulators = [Simulator(setting, bank) for setting in segments]
    state = simulators[0].clean(number)
    blocks = [simulators[0].block(number, state)]
    for simulator, action in zip(simulators[1:], actions, strict=True):
        act(state, action)
        blocks.append(simulator.block(number, state))
    return blocks
