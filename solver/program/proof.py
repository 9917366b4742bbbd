"""A proof that no rig costs less than a bound, as data that integers alone can check.

Contents: `Closed`, `Narrowed`, `LeftOut`, `Split`, `ByEngine`, `Part` (any of them), `Proof`; `to_steps` and `from_steps`
(the same as a list of plain entries, for a file). `proof_check.py` judges one.

The claim: every choice of one open option a slot that keeps all rows costs at least `Proof.least`. A part is the claim for
the options that are open in it; the root has all options of the program open. Rows are those of the whole program, named by
position; options by column. For multipliers m >= 0 (whole numbers) of rows and a whole number d >= 0 (the scale of the
cost),

    L = sum over slots of min over open options j of (d cost[j] + sum_i m[i] R[i, j])  -  sum_i m[i] rhs[i]

is at most d times the cost of every rig of the part (weak duality). So L > d (least - 1) closes a part; with d = 0 this
reads L > 0: the rows alone exclude it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from solver.errors import EntryError


@dataclass(frozen=True)
class Closed:
    """The part is closed by these multipliers: L > scale * (least - 1)."""

    multipliers: tuple[tuple[int, int], ...]
    """(row, multiplier > 0), rows ascending."""
    scale: int


@dataclass(frozen=True)
class Narrowed:
    """Every open option whose own L (it taken in its slot, minima elsewhere) is > scale * (least - 1) is shut; then `rest`.

    Which options those are, the check works out again. A slot left empty closes the part; then `rest` is None.
    """

    multipliers: tuple[tuple[int, int], ...]
    scale: int
    rest: Part | None


@dataclass(frozen=True)
class LeftOut:
    """Options no better than another open one of their slot, in every row and in the cost, are shut; then `rest`.

    Pairs (option shut, option kept): R[i, kept] <= R[i, shut] for every row i, or row i touches (has any entry other than 0
    at) no other slot than theirs among all options of the program and kept keeps it alone; and cost[kept] <= cost[shut].
    The kept ones are open and not shut by this step.
    """

    pairs: tuple[tuple[int, int], ...]
    rest: Part


@dataclass(frozen=True)
class Split:
    """The open options of one slot shared out over parts: each open option of the slot is in at least one group."""

    slot: int
    groups: tuple[tuple[int, ...], ...]
    parts: tuple[Part, ...]


@dataclass(frozen=True)
class ByEngine:
    """Only the engine closed this part: taken on trust, and listed as such."""


Part = Closed | Narrowed | LeftOut | Split | ByEngine


@dataclass(frozen=True)
class Proof:
    """`root` shows that no rig costs less than `least`, by the cost named `by`."""

    by: str
    least: int
    root: Part


KEYS: dict[str, tuple[str, ...]] = {
    "closed": ("scale", "multipliers"),
    "narrowed": ("scale", "multipliers", "rest"),
    "left-out": ("pairs",),
    "split": ("slot", "groups"),
    "by-engine": (),
}
"""Per kind of step, its keys beside `step`."""


def to_steps(root: Part) -> list[dict[str, Any]]:
    """The proof as a list of plain entries, each part before what it stands on.

    After a "split" follow the parts of its groups, each whole before the next; after "left-out", and after "narrowed" with
    `rest`, follows what remains. So the list needs no nesting, and no part can be named twice.
    """
    steps: list[dict[str, Any]] = []
    stack = [root]
    while stack:
        part = stack.pop()
        match part:
            case Closed():
                steps.append({"step": "closed", "scale": part.scale, "multipliers": _lists(part.multipliers)})
            case Narrowed():
                steps.append({"step": "narrowed", "scale": part.scale, "multipliers": _lists(part.multipliers),
                              "rest": part.rest is not None})  # fmt: skip
                stack += [] if part.rest is None else [part.rest]
            case LeftOut():
                steps.append({"step": "left-out", "pairs": _lists(part.pairs)})
                stack.append(part.rest)
            case Split():
                steps.append({"step": "split", "slot": part.slot, "groups": _lists(part.groups)})
                stack += reversed(part.parts)
            case ByEngine():
                steps.append({"step": "by-engine"})
    return steps


def _lists(rows: Sequence[Sequence[int]]) -> list[list[int]]:
    return [[int(value) for value in row] for row in rows]


def from_steps(steps: Sequence[Any]) -> Part:
    """The proof that a list of plain entries makes; EntryError for a list of another form. Whether it holds is not judged."""
    ready: list[Part] = []  # parts read so far, from the end of the list; the first of a split's parts lies on top
    for k in range(len(steps) - 1, -1, -1):
        try:
            ready.append(_part(steps[k], ready))
        except EntryError as error:
            raise EntryError(f"step {k + 1}: {error.found}", error.expected, error.advice) from None
    if len(ready) != 1:
        found = f"{len(ready)} parts that stand on nothing" if ready else "no step"
        raise EntryError(found, "one list of steps that starts with the whole", "the certificate as it was written")
    return ready[0]


def _part(step: Any, ready: list[Part]) -> Part:
    kind = step.get("step") if isinstance(step, Mapping) else None
    if not isinstance(kind, str) or kind not in KEYS:
        raise EntryError("no known step", f"an entry with `step`: {', '.join(KEYS)}")
    if set(step) != {"step", *KEYS[kind]}:
        raise EntryError(f"other keys in a step {kind}", ", ".join(("step", *KEYS[kind])))
    if kind == "closed":
        return Closed(_pairs(step["multipliers"], "multipliers"), _whole(step["scale"], "scale"))
    if kind == "narrowed":
        multipliers, scale = _pairs(step["multipliers"], "multipliers"), _whole(step["scale"], "scale")
        if not isinstance(step["rest"], bool):
            raise EntryError("`rest`", "true or false")
        return Narrowed(multipliers, scale, _taken(ready, 1)[0] if step["rest"] else None)
    if kind == "left-out":
        return LeftOut(_pairs(step["pairs"], "pairs"), _taken(ready, 1)[0])
    if kind == "split":
        groups = _table(step["groups"], "groups")
        return Split(_whole(step["slot"], "slot"), groups, _taken(ready, len(groups)))
    return ByEngine()


def _taken(ready: list[Part], count: int) -> tuple[Part, ...]:
    if count > len(ready):
        raise EntryError(f"{count} parts wanted and {len(ready)} there", "each part of a proof after what it belongs to")
    return tuple(ready.pop() for _ in range(count))


def _whole(value: Any, name: str) -> int:
    if not isinstance(value, int) or isinstance(value, bool):
        raise EntryError(f"something else under `{name}`", "a whole number")
    return value


def _table(value: Any, name: str) -> tuple[tuple[int, ...], ...]:
    if not isinstance(value, list) or not all(isinstance(row, list) for row in value):
        raise EntryError(f"something else under `{name}`", "a list of lists of whole numbers")
    return tuple(tuple(_whole(each, name) for each in row) for row in value)


def _pairs(value: Any, name: str) -> tuple[tuple[int, int], ...]:
    rows = _table(value, name)
    if not all(len(row) == 2 for row in rows):
        raise EntryError(f"something else under `{name}`", "a list of pairs of whole numbers")
    return tuple((row[0], row[1]) for row in rows)
