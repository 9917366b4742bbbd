"""A large question closed part by part, with a record of what closed each.

Contents: `Search`, `Node`.

A part is a question over the options that are open in it. The multipliers of its relaxation close it or shut options that
lie above the cutoff; a small part goes to the engine; a larger one is split at one slot, by the row and slot on which the
relaxation mixes most: options on either side of the mean entry. A rig found lowers the cutoff for all that follows. What
was recorded before under a higher cutoff holds under a lower one too.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from solver.errors import InternalError
from solver.program.matrix import Ints
from solver.program.proof import ByEngine, Closed, Narrowed, Part, Split
from solver.search.dividing import division
from solver.search.engine import Limits, Outcome, Status, solve_rows
from solver.search.fixing import judged, row_judged
from solver.search.linear import Master, Relaxed
from solver.search.sheet import Sheet, narrowed_by_rows

Floats = NDArray[np.float64]
SMALL = 700
"""Open options with which a part goes to the engine."""
_MANY = 50
"""After so many parts, parts twice as large go to the engine, after twice as many parts three times as large: where many
rigs cost the same, splitting alone would not end."""
_TIED = 3000
"""Open options with which a part goes to the engine that holds nothing better than ties."""
_FEW = 24
"""Best options of every slot among which a first rig is sought."""
_WORTH = 0.9
"""A part is relaxed once more where no more than this share of its options stayed."""
_TRIES, _EVERY = 3, 8
"""Splits below the root down to which a rig is sought among the best options of every part; later in one part of so many."""
_PASSES = 3
"""Passes over the single rows of a part."""


Wrap = tuple[tuple[tuple[int, int], ...], int]
"""Multipliers and scale of one step that narrows."""


@dataclass(eq=False)
class Node:
    """A part while the search goes on: what narrowed it, and what it was closed by or split into."""

    wraps: list[Wrap] = field(default_factory=list)
    end: Part | None = None
    slot: int = -1
    groups: tuple[tuple[int, ...], ...] = ()
    children: tuple[Node, ...] = ()
    columns: Ints | None = None
    """While it waits: its open options, as positions in the root."""
    relaxed: Relaxed | None = None
    depth: int = 0

    def record(self) -> Part:
        """As it stands in a proof."""
        body = self.end
        if self.children:
            body = Split(self.slot, self.groups, tuple(child.record() for child in self.children))
        for multipliers, scale in reversed(self.wraps):
            body = Narrowed(multipliers, scale, body)
        if body is None:
            raise InternalError("a part was closed by nothing")
        return body


class Search:
    """One question, its best rig so far, and the leaves with rigs of the least cost.

    `cutoff` is the largest cost that is looked for; with a rig found it is that rig's cost, so that parts with ties are kept
    apart as leaves. Where more than `most_ties` parts hold nothing better than a tie, they are not gathered: only less is
    looked for, and `all_ties` is False. Without a cutoff the rows alone are asked (the costs of the root must be nothing).
    """

    def __init__(
        self, root: Sheet, shape: tuple[int, int], limits: Limits, cutoff: int | None, budget: int | None = None,
        any_will_do: bool = False, seek: bool = True, most_ties: int = 0, master: Master | None = None,
    ):  # fmt: skip
        self.root, self.limits, self.cutoff, self.any_will_do = root, limits, cutoff, any_will_do
        self.master = Master(root, *shape) if master is None else master
        """May be that of another search over the same rows and options."""
        self.budget = budget
        """Parts that may be made before those left go to the engine; None: the engine gets every small one."""
        self.seek = seek
        """Whether rigs are sought on the way, among the options that the relaxation likes best."""
        self.most_ties, self.all_ties = most_ties, most_ties > 0
        self.leaves: list[Ints] = []
        """The columns open in every part with a rig of the least cost, as far as ties are gathered."""
        self.best: Ints | None = None
        self.step = max(1, int(np.gcd.reduce(root.cost - np.repeat(root.cost[root.starts], root.sizes))))
        """Costs of two rigs differ by a multiple of this."""
        self.proven, self.unknown = True, np.inf
        self.parts = self.solves = self._tied = self._gone = 0
        self._heap: list[tuple[float, int, Node]] = []

    def run(self) -> Node:
        """Close the question, the part of least bound first; what it was closed by."""
        top = Node()
        self.close([(top, self.root)])
        return top

    def close(self, parts: Iterable[tuple[Node, Sheet]]) -> None:
        """Close these parts of the root, the one of least bound first."""
        for node, sheet in parts:
            self._enter(node, sheet)
        while self._heap and not (self.any_will_do and self.best is not None):
            _, _, node = heapq.heappop(self._heap)
            self._go_on(node)

    def open_for_ties(self) -> Ints | None:
        """The columns that a rig of the least cost can have; None if not all of them are known."""
        if not self.all_ties or not self.proven:
            return None
        return np.unique(np.concatenate(self.leaves)) if self.leaves else np.zeros(0, np.int64)

    def left_at_once(self) -> Ints:
        """The columns that single rows and the relaxation leave, before any split or rig; none if no rig is left."""
        self.seek = False
        top = Node()
        self._enter(top, self.root)
        return np.zeros(0, np.int64) if top.columns is None else self.root.columns[top.columns]

    def _enter(self, node: Node, sheet: Sheet) -> None:
        """Narrow a part; let it wait unless that closes it."""
        self.parts += 1
        while True:
            narrowed, steps = narrowed_by_rows(sheet, _PASSES)
            node.wraps += [(row_judged(sheet, row), 0) for row in steps]
            if narrowed is None:
                return
            before, sheet = len(narrowed), narrowed
            relaxed = self.master.relax(sheet, self.cutoff)
            closed, sheet = self._shut(sheet, relaxed, node)
            if closed:
                return
            if self.parts == 1 and self.best is None and self.seek:
                self._first_rig(sheet, relaxed)
                if self.best is not None:
                    continue
            if len(sheet) > _WORTH * before:
                break
        node.columns, node.relaxed = np.searchsorted(self.root.columns, sheet.columns), relaxed
        heapq.heappush(self._heap, (relaxed.bound, self.parts, node))

    def _go_on(self, node: Node) -> None:
        """Close a waiting part by the engine, or split it."""
        if node.columns is None or node.relaxed is None:
            raise InternalError("a part is gone on with before it was entered")
        keep = np.zeros(len(self.root), bool)
        keep[node.columns] = True
        sheet, relaxed = self.root.only(keep), node.relaxed
        node.columns = node.relaxed = None
        closed, sheet = self._shut(sheet, relaxed, node)
        if closed:
            return
        self._gone += 1
        self._count_tie(relaxed)
        if self._is_leaf(sheet, relaxed):
            self._by_engine(node, sheet, relaxed)
        else:
            if self.seek and (0 < node.depth <= _TRIES or self._gone % _EVERY == 0):
                self._first_rig(sheet, relaxed)
            self._split(node, sheet, relaxed)

    def _shut(self, sheet: Sheet, relaxed: Relaxed, node: Node) -> tuple[bool, Sheet]:
        """Whether the multipliers close the part; if not, what they leave of it."""
        tries: list[tuple[Floats, int | None]] = []
        if self.cutoff is not None:
            tries.append((relaxed.multipliers, self.cutoff))
            if int(sheet.sizes.max()) == 1:
                tries.append((np.zeros(len(sheet.rhs)), self.cutoff))
        if relaxed.against is not None:
            tries.append((relaxed.against, None))
        for multipliers, cutoff in tries:
            one = judged(sheet, multipliers, cutoff)
            if one.closed:
                node.end = Closed(one.multipliers, one.scale)
                return True, sheet
            if not one.possible.all():
                node.wraps.append((one.multipliers, one.scale))
                if not sheet.has_all_slots(one.possible):
                    return True, sheet
                sheet = sheet.only(one.possible)
        return False, sheet

    def _is_leaf(self, sheet: Sheet, relaxed: Relaxed) -> bool:
        if int(sheet.sizes.max()) == 1 or (self._holds_ties_alone(relaxed) and len(sheet) <= _TIED):
            return True
        if self.budget is not None:
            return self.parts >= self.budget
        return len(sheet) <= SMALL * (1 + self.parts // _MANY)

    def _first_rig(self, sheet: Sheet, relaxed: Relaxed) -> None:
        """A rig among the options that the relaxation likes best, better than the one known."""
        reduced = sheet.cost.astype(float)
        for i in np.flatnonzero(relaxed.multipliers).tolist():
            reduced += relaxed.multipliers[i] * sheet.rows[i]
        few = _FEW
        while True:
            places = best_of(sheet, reduced, few)
            below = self.step if self.best is not None and self.all_ties else 0
            self._solve(sheet, places, None if self.cutoff is None else self.cutoff - below)
            if self.best is not None or len(places) == len(sheet) or few > 4 * _FEW:
                return
            few *= 4

    def _solve(self, sheet: Sheet, places: Ints, cutoff: int | None) -> Outcome:
        """Ask the engine for the best rig within the cutoff among these places of the sheet; a better rig is noted."""
        own = sheet if len(places) == len(sheet) else sheet.only(np.isin(np.arange(len(sheet)), places))
        self.solves += 1
        cost = None if cutoff is None else own.cost
        outcome = solve_rows(own.rows, own.rhs, own.sizes.tolist(), cost, cutoff, self.limits)
        if outcome.chosen is not None:
            spent = int(own.cost[outcome.chosen].sum())
            if self.best is None or self.cutoff is None or spent < self.cutoff or not self.all_ties:
                self.best, self.leaves, self._tied = own.columns[outcome.chosen], [], 0
                self._lower(spent)
        return outcome

    def _holds_ties_alone(self, relaxed: Relaxed) -> bool:
        """Whether a part holds nothing better than rigs as good as the best known."""
        if self.best is None or not self.all_ties or self.cutoff is None:
            return False
        return relaxed.bound > self.cutoff - self.step

    def _count_tie(self, relaxed: Relaxed) -> None:
        """Give ties up where too many parts hold nothing else."""
        self._tied += self._holds_ties_alone(relaxed)
        if self._tied > self.most_ties and self.all_ties and self.cutoff is not None:
            self.all_ties, self.leaves = False, []
            self._lower(self.cutoff)

    def _lower(self, spent: int) -> None:
        if self.cutoff is not None:
            self.cutoff = spent if self.all_ties else spent - self.step

    def _by_engine(self, node: Node, sheet: Sheet, relaxed: Relaxed) -> None:
        outcome = self._solve(sheet, np.arange(len(sheet)), self.cutoff)
        node.end = ByEngine()
        if outcome.status in (Status.UNKNOWN, Status.FEASIBLE):
            self.proven = False
            self.unknown = min(self.unknown, max(outcome.bound, int(np.ceil(min(relaxed.bound, 2.0**60)))))
        elif outcome.status is Status.OPTIMAL and self.all_ties and self.cutoff is not None:
            self.leaves.append(sheet.columns)

    def _split(self, node: Node, sheet: Sheet, relaxed: Relaxed) -> None:
        """Share the options of one slot out over two parts, the likelier one first."""
        slot, side = division(sheet, relaxed, self.master.scale)
        own = np.flatnonzero(sheet.slots == slot)
        node.slot = slot
        node.children = (Node(depth=node.depth + 1), Node(depth=node.depth + 1))
        node.groups = tuple(tuple(sheet.columns[own[taken]].tolist()) for taken in (side, ~side))
        for child, taken in zip(node.children, (side, ~side), strict=True):
            keep = sheet.slots != slot
            keep[own[taken]] = True
            self._enter(child, sheet.only(keep))


def best_of(sheet: Sheet, reduced: Floats, count: int) -> Ints:
    """Positions of the best few columns of every slot, ascending."""
    found = []
    for a, size in zip(sheet.starts.tolist(), sheet.sizes.tolist(), strict=True):
        part = reduced[a : a + size]
        found.append(a + (np.argpartition(part, count - 1)[:count] if size > count else np.arange(size)))
    return np.sort(np.concatenate(found)).astype(np.int64)
