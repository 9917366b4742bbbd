"""How one rig differs from another, slot by slot, as data.

Contents: `Swap`, `swaps`, `line_of`.
"""

from __future__ import annotations

from dataclasses import dataclass

from solver.answers.ask import Asked
from solver.answers.facts import Line
from solver.options.table import NONE
from solver.rules.balance import Rig


@dataclass(frozen=True)
class Swap:
    """One slot that is filled otherwise: what was there and what is there now; None where it is empty.

    For things that are each a yes/no slot (safety items, tools) one taken out and one put in of the same class stand
    together; `slot` is then that of the one put in.
    """

    slot: str
    item_class: str
    before: Line | None
    after: Line | None

    @property
    def item(self) -> bool:
        """Whether the items differ, not only how many there are or how they are set up."""
        return self.before is None or self.after is None or self.before.item != self.after.item

    @property
    def number(self) -> bool:
        """Whether it is the same item in another number."""
        return not self.item and self.before is not None and self.after is not None and self.before.count != self.after.count


def line_of(asked: Asked, slot: str, option: int) -> Line | None:
    """What an option puts into a slot; None where it stays empty."""
    line = asked.line(slot, option)
    return None if line.item == NONE else line


def swaps(asked: Asked, before: Rig, after: Rig) -> tuple[Swap, ...]:
    """Every slot in which `after` differs from `before`: items, numbers, ways of setting up; slots in their order."""
    fixed: list[Swap] = []
    out: dict[str, list[Line]] = {}
    put_in: list[Line] = []
    for name, table in asked.setting.slots.items():
        if before[name] == after[name]:
            continue
        one, other = line_of(asked, name, before[name]), line_of(asked, name, after[name])
        if table.slot.item is None:
            fixed.append(Swap(name, table.slot.item_class, one, other))
        elif other is not None:
            put_in.append(other)
        elif one is not None:
            out.setdefault(one.item_class, []).append(one)
    return (*fixed, *_paired(out, put_in))


def _paired(out: dict[str, list[Line]], put_in: list[Line]) -> list[Swap]:
    found = []
    for line in put_in:
        own = out.get(line.item_class, [])
        found.append(Swap(line.slot, line.item_class, own.pop(0) if own else None, line))
    left = [line for lines in out.values() for line in lines]
    return [*found, *(Swap(line.slot, line.item_class, line, None) for line in left)]
