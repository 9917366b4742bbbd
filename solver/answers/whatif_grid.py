"""Cells of a what-if, settled together: each as `pick` would answer the edited brief.

Contents: `settle`.

Cells with the same rows by name go into one pool (see `whatif_pool.py`): first the best rig of each, then, for cells whose
best costs the same, the savings rule by rule, and for cells without a rig one minimal conflict each, in the same order of
preference as everywhere. Every rig is judged once more by the rules themselves; balances that do not read what moved are
worked out once a rig.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from solver.answers.ask import Asked
from solver.answers.changed import changed_brief
from solver.answers.clashes import in_order
from solver.answers.money import money_facts
from solver.answers.whatif_facts import Cell, Study, Values, brief_of_cell
from solver.answers.whatif_known import Known, first_clash
from solver.answers.whatif_pool import Joint, Pool, cheapest
from solver.errors import InternalError, NotProven, RigsetError
from solver.program.matrix import Ints, Mask
from solver.rules.balance import Balance, balance_of, chosen
from solver.rules.cautions import cautions
from solver.rules.instances import Instance

Unmoved = dict[tuple[int, ...], dict[int, Balance]]


@dataclass(eq=False)
class _Open:
    """A cell being settled."""

    number: int
    values: Values
    asked: Asked
    columns: Ints | None = None
    cost: int = 0
    savings: list[tuple[str, int]] = field(default_factory=list)
    conflict: tuple[str, ...] = ()


def settle(study: Study, base: Asked, numbers: Sequence[int]) -> tuple[Cell, ...]:
    """The cells of these numbers, in their order; `base` is the study's brief laid over its catalog."""
    done: dict[int, Cell] = {}
    pools: dict[object, list[_Open]] = {}
    for number in numbers:
        values = study.cells[number]
        try:
            brief, moved = brief_of_cell(study.brief, study.axes, values)
            asked = changed_brief(base, brief, moved) if moved else base
            pools.setdefault(_kind(asked, number), []).append(_Open(number, values, asked))
        except InternalError:
            raise
        except RigsetError as error:
            done[number] = Cell(number, values, "invalid", message=str(error))
    unmoved: Unmoved = {}
    for members in pools.values():
        for cell in _pool(study, base, members, unmoved):
            done[cell.number] = cell
    return tuple(done[number] for number in numbers)


def _kind(asked: Asked, number: int) -> object:
    """Cells that may share a pool: the same rows by name; where a requirement moves the costs, each alone."""
    return (asked.program.labels, number if asked.by == "yearly-cost" else None)


def _pool(study: Study, base: Asked, members: list[_Open], unmoved: Unmoved) -> list[Cell]:
    try:
        _best(members, study.by)
        found = [cell for cell in members if cell.columns is not None]
        rigs: dict[str, list[Ints]] = {}
        for cost in dict.fromkeys(cell.cost for cell in found) if study.binding else ():
            _savings([cell for cell in found if cell.cost == cost], study.by, cost, rigs)
        _conflicts([cell for cell in members if cell.columns is None], study.by)
    except NotProven as error:
        if len(members) == 1:
            return [_unknown(members[0], str(error))]
        return [cell for member in members for cell in _pool(study, base, [_fresh(member)], unmoved)]
    return [_told(study, base, cell, unmoved) for cell in members]


def _fresh(cell: _Open) -> _Open:
    return _Open(cell.number, cell.values, cell.asked)


def _best(members: list[_Open], by: str) -> None:
    """The best rig of every cell, ties settled."""
    from solver.search.best import Question, best

    def ask(joint: Joint) -> Ints | None:
        found = best(Question(joint.program, by, joint.rows(lambda group: True)))
        if not found.proven:
            raise NotProven("the limit of work ended before every better rig was excluded")
        return found.columns

    every = np.ones(len(members[0].asked.program.rhs), bool)
    found = Pool([cell.asked.program for cell in members]).answers(ask, every)
    for k, cell in enumerate(members):
        cell.columns = found[k]
        if cell.columns is not None:
            cell.cost = cell.asked.program.cost(cell.columns, by)


def _savings(members: list[_Open], by: str, cost: int, rigs: dict[str, list[Ints]]) -> None:
    """What each rule costs these cells, whose best rigs all cost this much.

    `rigs` holds what was found for a rule in other cells: such a rig, where it keeps all other rules, leaves the engine
    only to show that none is cheaper.
    """
    pool = Pool([cell.asked.program for cell in members])
    program = members[0].asked.program
    for rule in members[0].asked.droppable:
        mask = np.array([group != rule for group in program.groups])
        known = [_known_rig(cell, by, cost, mask, rigs.setdefault(rule, [])) for cell in members]
        for most in dict.fromkeys(limit for limit, _ in known):
            own = [k for k, (limit, _) in enumerate(known) if limit == most]
            found = pool.answers(_without(rule, np.flatnonzero(~mask), by, most - 1), mask, own)
            for k in own:
                columns = found[k] if found[k] is not None else known[k][1]
                if columns is not None:
                    members[k].savings.append((rule, cost - program.cost(columns, by)))
                    if columns is not known[k][1]:
                        rigs[rule].append(columns)


def _known_rig(cell: _Open, by: str, cost: int, mask: Mask, rigs: list[Ints]) -> tuple[int, Ints | None]:
    """The cheapest of these rigs that keeps the rows and costs less than the best, with its cost."""
    program, best, found = cell.asked.program, cost, None
    for columns in rigs:
        price = program.cost(columns, by)
        if price < best and program.fits(columns, mask):
            best, found = price, columns
    return best, found


def _without(rule: str, own: Ints, by: str, at_most: int) -> Callable[[Joint], Ints | None]:
    """The question for rigs that are better when a rule is left out: they break one of its rows."""

    def ask(joint: Joint) -> Ints | None:
        from solver.search.best import Question

        rows = joint.rows(lambda group: group != rule)
        return cheapest(Question(joint.program, by, rows, at_most={by: at_most}, broken=joint.tightest(own)))

    return ask


def _conflicts(members: list[_Open], by: str) -> None:
    """One minimal conflict for every cell that no rig fits; cells share what is known of sets of rules."""
    known = Known([cell.asked.program for cell in members], by)
    for k in known.order():

        def possible(kept: frozenset[str], k: int = k) -> bool:
            return known.possible(k, kept)

        members[k].conflict = first_clash(in_order(members[k].asked), possible)


def _told(study: Study, base: Asked, cell: _Open, unmoved: Unmoved) -> Cell:
    asked = cell.asked
    if cell.columns is None:
        told = tuple(caution.id for caution in cautions(asked.brief, None, ()))
        return Cell(cell.number, cell.values, "none", conflict=cell.conflict, cautions=told)
    rig = asked.rig_of(cell.columns)
    balances = _judged(base, cell, rig, unmoved)
    told = tuple(caution.id for caution in cautions(asked.brief, chosen(asked.setting, rig), balances))
    savings = sorted(cell.savings, key=lambda entry: (-entry[1], entry[0]))
    return Cell(
        cell.number,
        cell.values,
        "found",
        options=tuple(rig.values()),
        total=asked.totals(rig),
        money=money_facts(asked, rig),
        binding=tuple((rule, saving / asked.unit) for rule, saving in savings),
        cautions=told,
    )


def _judged(base: Asked, cell: _Open, rig: dict[str, int], unmoved: Unmoved) -> tuple[Balance, ...]:
    """Every balance of the cell's rig, from the rules alone; an error if one fails."""
    asked, key = cell.asked, tuple(rig.values())
    options = chosen(asked.setting, rig)
    if key not in unmoved:
        unmoved[key] = {}
    kept, own = unmoved[key], {id(instance) for instance in base.instances}

    def balance(instance: Instance) -> Balance:
        if id(instance) not in own:
            return balance_of(asked.setting, instance, options)
        if id(instance) not in kept:
            kept[id(instance)] = balance_of(base.setting, instance, options)
        return kept[id(instance)]

    found = tuple(balance(instance) for instance in asked.instances)
    for each in found:
        if not each.holds:
            raise InternalError(f"the engine's rig fails the re-check at {each.place}")
    return found


def _unknown(cell: _Open, message: str) -> Cell:
    """A cell that the limit of work leaves open: the best rig known is not given as an answer."""
    return Cell(cell.number, cell.values, "unknown", proven=False, message=message)
