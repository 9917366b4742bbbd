"""How one rig differs from another, in words.

Contents: `swap_lines` (one sentence a slot, for lists), `swap_words` (ids alone, for one line of a table).
"""

from __future__ import annotations

from collections.abc import Sequence

from solver.answers.facts import Line
from solver.answers.swaps import Swap
from solver.options.slots import ACCESSORY_CLASSES
from solver.report.steps_text import KIT_WORDS

FEW = 2
"""Small things that are named one by one."""


def swap_lines(swaps: Sequence[Swap], most: int | None = None) -> list[str]:
    """A sentence for every slot that holds another thing or another number of it; those set up otherwise in one more."""
    kit = [swap for swap in swaps if swap.item_class in ACCESSORY_CLASSES and (swap.item or swap.number)]
    few = len(kit) <= FEW
    lines = [_sentence(swap) for swap in swaps if (swap.item or swap.number) and (few or swap not in kit)]
    if not few:
        lines.append(_kit_sentence(kit))
    otherwise = [swap.slot.replace("_", " ") for swap in swaps if not swap.item and not swap.number]
    if otherwise:
        lines.append("the same, set up or wired otherwise: " + ", ".join(otherwise))
    if most is not None and len(lines) > most:
        lines = [*lines[:most], f"and {len(lines) - most} more"]
    return lines or ["no difference"]


def _kit_sentence(kit: Sequence[Swap]) -> str:
    """Many small things in one sentence: which kinds, and what they come to in money."""
    kinds = dict.fromkeys(KIT_WORDS[swap.item_class] for swap in kit)
    more = sum(swap.after.price for swap in kit if swap.after) - sum(swap.before.price for swap in kit if swap.before)
    worth = f"{'+' if more >= 0 else '-'}${abs(more):,.0f}"
    return f"{', '.join(kinds)}: another choice in {len(kit)} places ({worth})"


def swap_words(swaps: Sequence[Swap], most: int = 4) -> str:
    """The difference in one line: "generator-03 instead of generator-05; hose-04: 2 x 50 ft + whip instead of ..."."""
    words = []
    for swap in swaps:
        before, after = swap.before, swap.after
        if swap.item:
            if before is not None and after is not None:
                words.append(f"{after.item} instead of {before.item}")
            elif after is not None:
                words.append(f"with {after.item}")
            elif before is not None:
                words.append(f"without {before.item}")
        elif swap.number and before is not None and after is not None:
            words.append(f"{after.item}: {_number(after)} instead of {_number(before)}")
    otherwise = sum(not swap.item and not swap.number for swap in swaps)
    if otherwise and not words:
        words.append(f"{otherwise} wired or set up otherwise")
    if len(words) > most:
        words = [*words[:most], f"{len(words) - most} more"]
    return "; ".join(words) or "as before"


def _number(line: Line) -> str:
    """How many, in the words of the option where it has some."""
    return line.choice or f"{line.count}"


def _named(line: Line) -> str:
    return f"{line.label} [{line.item}]"


def _sentence(swap: Swap) -> str:
    name, before, after = swap.slot.replace("_", " "), swap.before, swap.after
    if (after or before) is not None and swap.slot == (after or before).item:  # type: ignore[union-attr]
        name = swap.item_class.replace("_", " ")
    if before is not None and after is not None:
        if swap.item:
            return f"{name}: {_named(after)} instead of {_named(before)}"
        return f"{name}: {_number(after)} instead of {_number(before)} [{after.item}]"
    if after is not None:
        return f"{name}: {_named(after)}, which the pick goes without"
    return f"{name}: without {_named(before)}" if before is not None else name
