"""First steps and rooms: how far each requirement must give before money is saved, and how far it may tighten for nothing.

Contents: `steps`, `steps_and`, `ways`.

For each requirement: the **first step**, the grid value nearest to the present one at which the least cost is lower, with a
rig of that cost and what changed; the **room**, the last grid value up to which the least cost stays the same; and how far
the very rig holds, to the requirement's resolution. The whole computation is redone at each value that is judged. The very
rig is judged at every value of the grid that its rows ask for, and at the resolution beyond the last one at which it fits.

How questions are saved. Let c be the least cost now.

- A rig that costs less than c and fits at another value breaks, as things are, one of the rows that move. If no rig costs
  less than c with those rows left out that may get easier, there is no step on that side at all.
- Over a range of values, rows that get easier are taken where they are easiest, at its far end, rows that get harder at its
  near end, of all others the least of each figure. If no rig keeps these at less than c, none does anywhere in the range.
  Otherwise the rig found shows where to look nearer. Which way a row moves is said by its rule's record and checked on the
  numbers at the far end; where they disagree the row counts as one of the others.
- Where all rows get harder, a rig that still costs c further out costs c and fits now. All of these are listed once.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import Any, TypeVar

from solver.answers.ask import Asked
from solver.answers.beside import beside
from solver.answers.steps_facts import FirstStep, Side, Step, changes_from, price_and_weight, swaps_between
from solver.answers.steps_rows import Moves, Way, sides
from solver.answers.steps_side import Alike, Outward
from solver.brief.models import Brief
from solver.brief.requirements import REQUIREMENTS, Direction, Kind
from solver.program.matrix import Ints

T = TypeVar("T")


def ways(brief: Brief, requirements: Iterable[str] | None = None) -> tuple[Way, ...]:
    """Every requirement that the brief sets, duty by duty; with several duties those of a duty also in all at once."""
    found = []
    for requirement in REQUIREMENTS.values() if requirements is None else [REQUIREMENTS[r] for r in requirements]:
        names = [duty.name for duty in brief.duties]
        own = [Way(requirement, (name,)) for name in names] if requirement.duty else [Way(requirement)]
        if requirement.duty and len(names) > 1 and _together(brief, own):
            own.append(Way(requirement, tuple(names), eased=True))
        found += [way for way in own if way.present(brief) is not None]
    return tuple(found)


def _together(brief: Brief, own: list[Way]) -> bool:
    """Whether to ease it in all duties at once: never a site fact; from one value only where both ways can help."""
    requirement = own[0].requirement
    if requirement.kind is Kind.SITE:
        return False
    return requirement.easier is not Direction.EITHER or len({way.present(brief) for way in own}) == 1


def steps(asked: Asked, columns: Ints, cost: int, requirements: Iterable[str] | None = None) -> tuple[Step, ...]:
    """First step, room and hold of every requirement that a rule reads, in the order of the register.

    Parameters
    ----------
    asked : Asked
        The brief laid over a catalog.
    columns : (slots,) int64
        Columns of the best rig, from `asked.best()`.
    cost : int
        Its cost in steps of the objective, proven to be the least.
    requirements : iterable of str, optional
        Ids of the requirements wanted; all of them if not given. Site facts have no first step and no room.

    Raises
    ------
    NotProven
        The limit of work ended before an answer was certain.
    """
    return steps_and(asked, columns, cost, lambda: None, requirements)[0]


def steps_and(
    asked: Asked, columns: Ints, cost: int, other: Callable[[], T], requirements: Iterable[str] | None = None
) -> tuple[tuple[Step, ...], T]:
    """The steps, and what some other work gives that can be done meanwhile."""
    alike = Alike(asked, columns, cost)
    alike.rigs  # noqa: B018  listed before the work is shared
    pool: list[Ints] = []
    every = [moves for way in ways(asked.brief, requirements) if (moves := Moves(asked, way)).touched.any()]
    alone = [moves for moves in every if not moves.way.eased]
    alone.sort(key=_labour, reverse=True)
    jobs: list[Callable[[], Any]] = [other, *(partial(_step, moves, alike, pool) for moves in alone)]
    meanwhile, *judged = beside(jobs)
    found: dict[Way, Step] = {moves.way: step for moves, step in zip(alone, judged, strict=True)}
    joint = [moves for moves in every if moves.way.eased and _open(asked.brief, moves.way, found)]
    more = beside([partial(_step, moves, alike, pool) for moves in joint])
    found.update({moves.way: step for moves, step in zip(joint, more, strict=True)})
    told = list(found.values())
    steps = tuple(
        found[moves.way] for moves in every if moves.way in found and (not moves.way.eased or _new(found[moves.way], told))
    )
    return steps, meanwhile


def _labour(moves: Moves) -> int:
    """About how much work a requirement is, so that two processes end together: the most first."""
    requirement = moves.way.requirement
    sides = 4 if requirement.easier is Direction.EITHER and requirement.kind is not Kind.SITE else 1
    return int(moves.touched.sum()) * sides


def _open(brief: Brief, way: Way, found: dict[Way, Step]) -> bool:
    """Whether easing all duties at once may save what easing the hardest of them alone does not save as near.

    Up to the others' values the two are the same.
    """
    easier = way.requirement.easier
    values = {name: Way(way.requirement, (name,)).present(brief) for name in way.duties}
    hardest = [name for name, value in values.items() if value == way.present(brief)]
    step = found.get(Way(way.requirement, (hardest[0],)))
    if len(hardest) > 1 or easier is Direction.EITHER or step is None:
        return True
    firsts = [side.step.value for side in step.sides if side.step is not None]
    others = [value for name, value in values.items() if name != hardest[0] and value is not None]
    sign = 1.0 if easier is Direction.LOWER else -1.0
    return not firsts or any(sign * value > sign * firsts[0] for value in others)


def _new(step: Step, found: list[Step]) -> bool:
    """Whether changing it in all duties at once saves what no single duty saves as near."""
    told = {
        (side.upwards, side.step.value, side.step.saving)
        for other in found
        if other.requirement == step.requirement and other.duties != step.duties
        for side in other.sides
        if side.step is not None
    }
    return any(side.step is not None and (side.upwards, side.step.value, side.step.saving) not in told for side in step.sides)


def _step(moves: Moves, alike: Alike, pool: list[Ints]) -> Step:
    way = moves.way
    requirement = way.requirement
    present = way.present(moves.asked.brief) or 0.0
    below, above = sides(requirement, present)
    both = requirement.easier is Direction.EITHER
    found = []
    for upwards, values in ((False, below), (True, above)):
        easing = both or upwards is (requirement.easier is Direction.HIGHER)
        site = requirement.kind is Kind.SITE
        joint = len(way.duties) > 1
        if joint and not easing:
            continue
        side = Outward(moves, alike, values, upwards, pool)
        wanted = not site and not joint and (both or not easing)
        found.append(_side(side, easing, first=not site and easing, room=wanted, hold=wanted or (site and not joint)))
    return Step(requirement.id, way.duties, present, tuple(found))


def _side(side: Outward, easing: bool, first: bool, room: bool, hold: bool) -> Side:
    step = _first(side) if first else None
    kept = side.room() if room else None
    held = side.holds() if hold else None
    return Side(
        side.upwards,
        easing,
        step,
        None if kept is None else side.value(kept[0]),
        kept is not None and kept[0] == len(side.values),
        kept is not None and kept[1],
        held,
        held is not None and side.holding() == len(side.values),
    )


def _first(side: Outward) -> FirstStep | None:
    """The first step on a side, with the cheapest rig there that differs least from the present one."""
    k = side.cheaper
    if k is None:
        return None
    asked, alike = side.moves.asked, side.alike
    rig = asked.rig_of(alike.rigs[0])
    columns, cost = side.cheapest(k, changes_from(asked, rig))
    now = asked.rig_of(columns)
    price, weight = price_and_weight(asked, columns)
    return FirstStep(
        side.values[k],
        cost / asked.unit,
        (alike.cost - cost) / asked.unit,
        price,
        weight,
        asked.lines(now),
        swaps_between(asked, rig, now),
    )
