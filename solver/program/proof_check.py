"""Whether a proof holds: worked out in whole numbers alone, without engine and without floating point.

Contents: `check_proof`, `Findings` (what was found), `Left` (a part that only the engine closed).

Everything that a proof says is looked at as if a stranger had written it. Parts are gone through with a list of what is
still to be done, not by recursion, so that no depth of a proof matters; sums that may not fit into 64 bits are made of
Python's own integers, which have no end.
"""

from __future__ import annotations

import operator
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from math import prod
from typing import Any, NoReturn

import numpy as np
from numpy.typing import NDArray

from solver.errors import DoesNotHold
from solver.program.matrix import Ints, Mask, Program
from solver.program.proof import ByEngine, Closed, LeftOut, Narrowed, Part, Proof, Split

Whole = NDArray[Any]
"""Whole numbers: int64 where no sum can leave 64 bits, else Python's."""
_SAFE = 2**61
"""Below this twice a sum still fits into 64 bits."""


@dataclass(frozen=True)
class Left:
    """A part that only the engine closed."""

    part: str
    """Number of the part, such as 3.1.2; empty for the whole."""
    shared: tuple[tuple[int, tuple[int, ...]], ...]
    """Slots that were shared out on the way, each with its columns open in this part."""
    single: int
    """How many slots have one option left."""
    choices: int
    """How many ways there are to take one open option of every slot."""


@dataclass(frozen=True)
class Findings:
    """What a proof that holds consists of."""

    closed: int
    """Parts closed by multipliers."""
    splits: int
    narrowings: int
    """Steps that shut options by multipliers."""
    left_out: int
    """Options shut because another one of their slot is as good."""
    left: tuple[Left, ...]
    """Parts taken on the engine's word."""
    choices: int
    """How many ways there are to take one option of every slot, rows not looked at."""

    @property
    def parts(self) -> int:
        """All parts that are not split further."""
        return self.closed + len(self.left)

    @property
    def nothing_shown(self) -> bool:
        """Whether as much was left to the engine as there is."""
        return sum(left.choices for left in self.left) >= self.choices


@dataclass(frozen=True)
class _Place:
    """Where in the proof: the part above and the number in it; steps that narrow a part are counted."""

    above: _Place | None = None
    number: int = 0
    step: int = 1

    @property
    def part(self) -> str:
        numbers = []
        here: _Place = self
        while here.above is not None:
            numbers.append(str(here.number))
            here = here.above
        return ".".join(reversed(numbers))

    def __str__(self) -> str:
        part = self.part
        if len(part) > _LONGEST:
            part = f"{part[:_LONGEST]}..."
        where = f"part {part}" if part else "the whole"
        return f"{where}, step {self.step}" if self.step > 1 else where


_LONGEST = 60
"""Characters of a part's number in a message."""


@dataclass(frozen=True)
class _Todo:
    """A part to look at: what is open above it, and the group of a slot that it keeps of that."""

    part: Part
    place: _Place
    open: Mask
    shared: frozenset[int] = frozenset()
    """Slots that were shared out on the way."""
    slot: tuple[int, int] = (0, 0)
    """Columns of the slot that was shared out last."""
    group: tuple[int, ...] | None = None

    @property
    def mask(self) -> Mask:
        """What is open in the part."""
        if self.group is None:
            return self.open
        mask = self.open.copy()
        mask[slice(*self.slot)] = False
        mask[list(self.group)] = True
        return mask


def check_proof(program: Program, proof: Proof, no_rig: bool = False) -> Findings:
    """Check every part of a proof.

    Parameters
    ----------
    program : Program
        The question in numbers.
    proof : Proof
        What is said to show that no rig costs less than `proof.least`.
    no_rig : bool
        The claim is instead that no rig at all keeps the rows. `proof.least` does not matter then, and every scale is 0.

    Returns
    -------
    Findings
        How many parts there are of each kind, and those left to the engine.

    Raises
    ------
    DoesNotHold
        Names the first part that does not hold, and what is wrong with it.
    """
    return _Check(program, proof, no_rig).run()


def _refuse(place: _Place, wrong: str) -> NoReturn:
    raise DoesNotHold(f"{place}: {wrong}")


def _number(value: object, place: _Place, what: str) -> int:
    """A whole number as Python has them."""
    try:
        return operator.index(value)  # type: ignore[arg-type]
    except TypeError:
        _refuse(place, f"{what} is no whole number")


@dataclass
class _Check:
    program: Program
    proof: Proof
    no_rig: bool
    closed: int = 0
    splits: int = 0
    narrowings: int = 0
    left_out: int = 0
    left: list[Left] = field(default_factory=list)

    def run(self) -> Findings:
        whole = _Place()
        self.slices = self.program.slices
        if self.proof.by not in self.program.costs:
            _refuse(whole, f'the program has no cost "{self.proof.by}"')
        if not self.slices or any(end <= first for first, end in self.slices):
            _refuse(whole, "a slot without any option")
        self.cost = self.program.costs[self.proof.by]
        self.least = 0 if self.no_rig else _number(self.proof.least, whole, "the least cost")
        todo = [_Todo(self.proof.root, whole, np.ones(len(self.cost), bool))]
        while todo:
            todo.extend(self._look(todo.pop()))
        return Findings(self.closed, self.splits, self.narrowings, self.left_out, tuple(self.left),
                        prod(end - first for first, end in self.slices))  # fmt: skip

    def _look(self, here: _Todo) -> Iterator[_Todo]:
        """Check one step; what remains to be looked at, the last first."""
        part, place, mask = here.part, here.place, here.mask
        after = _Place(place.above, place.number, place.step + 1)
        match part:
            case Closed():
                self._close(part, place, mask)
            case Narrowed():
                mask = self._narrow(part, place, mask)
                if part.rest is not None:
                    yield _Todo(part.rest, after, mask, here.shared)
            case LeftOut():
                yield _Todo(part.rest, after, self._leave_out(part, place, mask), here.shared)
            case Split():
                slot = self._split(part, place, mask)
                shared, edges = here.shared | {slot}, self.slices[slot]
                for k in range(len(part.groups) - 1, -1, -1):
                    yield _Todo(part.parts[k], _Place(place, k + 1), mask, shared, edges, part.groups[k])
            case ByEngine():
                self.left.append(self._left(here, mask))
            case _:
                _refuse(place, "no known step")

    # --- multipliers ------------------------------------------------------------------------------------------------------
    def _close(self, part: Closed, place: _Place, mask: Mask) -> None:
        _, _, bound, limit = self._weighed(part, place, mask)
        if bound <= limit:
            _refuse(place, f"L is {_figure(bound)}, and closes the part only above {_figure(limit)}")
        self.closed += 1

    def _narrow(self, part: Narrowed, place: _Place, mask: Mask) -> Mask:
        columns, over, bound, limit = self._weighed(part, place, mask)
        stay = np.asarray(over <= limit - bound, bool)
        kept = np.zeros(len(mask), bool)
        kept[columns[stay]] = True
        empty = not self._all_filled(kept)
        if empty and part.rest is not None:
            _refuse(place, "no option of a slot is left, and yet the part goes on")
        if not empty and part.rest is None:
            _refuse(place, "every slot still has options, and yet the part ends")
        self.narrowings += 1
        self.closed += empty
        return kept

    def _weighed(self, part: Closed | Narrowed, place: _Place, mask: Mask) -> tuple[Ints, Whole, int, int]:
        """Open columns, by how much each is over the least of its slot, L, and the limit that L must pass."""
        scale = _number(part.scale, place, "the scale")
        if scale < 0:
            _refuse(place, f"the scale is {_figure(scale)}, which is below 0")
        if self.no_rig and scale:
            _refuse(place, "a scale other than 0, where no rig is said to fit at any cost")
        rows, multipliers = self._multipliers(part.multipliers, place)
        limit = scale * (self.least - 1)
        columns = np.flatnonzero(mask)
        sizes = np.add.reduceat(mask.astype(np.int64), self.program.offsets[:-1])
        starts = np.concatenate([[0], np.cumsum(sizes)[:-1]])
        rhs = sum(m * int(self.program.rhs[i]) for i, m in zip(rows, multipliers, strict=True))
        most = scale * _largest(self.cost) + sum(m * self._row_size[i] for i, m in zip(rows, multipliers, strict=True))
        small = most * len(sizes) + abs(rhs) + abs(limit) < _SAFE
        values = self._values(rows, multipliers, scale, columns, "int64" if small else "object")
        lowest = np.minimum.reduceat(values, starts)
        bound = sum(int(value) for value in lowest) - rhs
        return columns, values - np.repeat(lowest, sizes), bound, limit

    def _values(self, rows: list[int], multipliers: list[int], scale: int, columns: Ints, kind: str) -> Whole:
        """scale cost + multipliers rows, over these columns."""
        values = self.cost[columns].astype(kind) * scale
        for i, multiplier in zip(rows, multipliers, strict=True):
            values += self.program.rows[i, columns].astype(kind) * multiplier
        return values

    @cached_property
    def _row_size(self) -> list[int]:
        rows = self.program.rows
        return [max(1, int(high), -int(low)) for high, low in zip(rows.max(axis=1), rows.min(axis=1), strict=True)]

    def _multipliers(self, pairs: Sequence[tuple[int, int]], place: _Place) -> tuple[list[int], list[int]]:
        rows, multipliers, last = [], [], -1
        for pair in pairs:
            row, multiplier = (_number(value, place, "a row or multiplier") for value in pair)
            if not 0 <= row < len(self.program.rhs):
                _refuse(place, f"there is no row {_figure(row)}")
            if row <= last:
                _refuse(place, f"row {row} after row {last}, where rows ascend")
            if multiplier <= 0:
                _refuse(place, f"the multiplier {_figure(multiplier)} of row {row} is not above 0")
            rows.append(row)
            multipliers.append(multiplier)
            last = row
        return rows, multipliers

    # --- options no better than others ------------------------------------------------------------------------------------
    def _leave_out(self, part: LeftOut, place: _Place, mask: Mask) -> Mask:
        pairs = [tuple(_number(value, place, "an option") for value in pair) for pair in part.pairs]
        shut = {pair[0] for pair in pairs}
        if len(shut) != len(pairs):
            _refuse(place, "an option that is shut twice")
        for out, kept in pairs:
            slot = self._slot_of(out, place)
            if slot != self._slot_of(kept, place):
                _refuse(place, f"options {out} and {kept} are not of one slot")
            if not (mask[out] and mask[kept]) or kept in shut:
                _refuse(place, f"options {out} and {kept} are not both open, the second to the end of the step")
            self._no_better(out, kept, slot, place)
        self.left_out += len(pairs)
        after = mask.copy()
        after[sorted(shut)] = False
        return after

    def _no_better(self, out: int, kept: int, slot: int, place: _Place) -> None:
        program = self.program
        worse = np.flatnonzero(program.rows[:, kept] > program.rows[:, out])
        bad = [i for i in worse if not (self._only_slot[i] == slot and program.rows[i, kept] <= program.rhs[i])]
        if bad:
            _refuse(place, f"option {kept} is worse than option {out} in {program.labels[bad[0]]}")
        if not self.no_rig and self.cost[kept] > self.cost[out]:
            _refuse(place, f"option {kept} costs more than option {out}")

    @cached_property
    def _only_slot(self) -> Ints:
        """Per row the slot that alone has entries other than 0 in it; -1 where there are none or several."""
        touches = np.logical_or.reduceat(self.program.rows != 0, self.program.offsets[:-1], axis=1)
        return np.where(touches.sum(axis=1) == 1, touches.argmax(axis=1), -1).astype(np.int64)

    @cached_property
    def _slots(self) -> list[int]:
        slots: list[int] = self.program.slot_of.tolist()
        return slots

    def _slot_of(self, column: int, place: _Place) -> int:
        if not 0 <= column < len(self.cost):
            _refuse(place, f"there is no option {_figure(column)}")
        return self._slots[column]

    # --- splits -----------------------------------------------------------------------------------------------------------
    def _split(self, part: Split, place: _Place, mask: Mask) -> int:
        slot = _number(part.slot, place, "a slot")
        if not 0 <= slot < len(self.slices):
            _refuse(place, f"there is no slot {_figure(slot)}")
        if len(part.groups) != len(part.parts):
            _refuse(place, f"{len(part.groups)} groups and {len(part.parts)} parts")
        missing = np.zeros(len(mask), bool)
        missing[slice(*self.slices[slot])] = mask[slice(*self.slices[slot])]
        for k, group in enumerate(part.groups, 1):
            if not group:
                _refuse(place, f"group {k} is empty")
            for value in group:
                column = _number(value, place, "an option")
                if self._slot_of(column, place) != slot or not mask[column]:
                    _refuse(place, f"option {column} of group {k} is not open in slot {slot}")
                missing[column] = False
        if missing.any():
            _refuse(place, f"option {int(np.argmax(missing))} of slot {slot} is open and in no group")
        self.splits += 1
        return slot

    def _left(self, here: _Todo, mask: Mask) -> Left:
        shared = tuple(
            (slot, tuple(int(j) + self.slices[slot][0] for j in np.flatnonzero(mask[slice(*self.slices[slot])])))
            for slot in sorted(here.shared)
        )
        counts = [int(np.count_nonzero(mask[first:end])) for first, end in self.slices]
        return Left(here.place.part, shared, counts.count(1), prod(counts))

    def _all_filled(self, mask: Mask) -> bool:
        return bool(np.logical_or.reduceat(mask, self.program.offsets[:-1]).all())


def _largest(values: Ints) -> int:
    return max(1, int(values.max()), -int(values.min()))


def _figure(value: int) -> str:
    """A whole number for a message, however long it is."""
    return f"{value:,}" if abs(value) < 10**30 else f"about {'-' if value < 0 else ''}2^{value.bit_length() - 1}"
