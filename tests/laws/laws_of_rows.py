"""Laws of the answer to pick against other ways of answering, on files read from a folder. A law gives the number of
comparisons that it made, 0 where it has nothing to say about the case, and raises AssertionError where it is broken.

Contents: against others, `equals_highs`, `equals_every_rig`, `check_agrees`; rules and items, `rules_dropped` and
`items_forced_or_forbidden`, each with the reduction on and off; rounding, `resolution_finer` (`at_resolutions`).
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from math import inf

import highspy
import numpy as np

from solver.answers.ask import Asked
from solver.answers.check import check
from solver.options.table import NONE
from solver.program.matrix import Mask
from solver.rules.balance import RESOLUTION
from solver.search.best import Question, cost_of_best
from tests.answers.small_rigs import write_rig
from tests.demo.test_highs import model_of, shifted
from tests.laws.judge import KEPT
from tests.laws.law_case import UNIT, LawCase, between, rig_in_words

COARSE_TO_FINE = (80.0, 40.0, 20.0, 1.0, 0.1)
"""Factors of the resolution, each a whole number of times the next: so a rig that fits coarse rows fits finer ones."""


# --- against others ---------------------------------------------------------------------------------------------------
def equals_highs(case: LawCase) -> int:
    """HiGHS on the compiled rows finds the same least cost, or no rig either."""
    cost = highs(case.asked, case.by)
    assert cost == case.cost, f"HiGHS {cost}, pick {case.cost}"
    return 1


def highs(of: Asked, by: str, rows: Mask | None = None) -> float:
    """Least cost by HiGHS; its rig is judged in integers."""
    program = of.program
    if rows is not None:
        labels, groups = np.array(program.labels, object)[rows], np.array(program.groups, object)[rows]
        program = replace(program, rows=program.rows[rows], rhs=program.rhs[rows], labels=tuple(labels),
                          groups=tuple(groups), reads=(), memo={}, cores={})  # fmt: skip
    deciding, _ = shifted(program)
    if (deciding.max(axis=1, initial=0) == 0).any():  # a row that no rig keeps, whatever it holds
        return inf
    model = model_of(program, program.costs[by])
    if model.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
        return inf
    assert model.getModelStatus() == highspy.HighsModelStatus.kOptimal
    columns = np.flatnonzero(np.array(model.getSolution().col_value) > 0.5)
    assert len(columns) == len(program.slices) and program.fits(columns), "HiGHS broke an integer row"
    return float(program.cost(columns, by))


def equals_every_rig(case: LawCase) -> int:
    """Trying all rigs by the rules' terms finds the same rig, ties and all, and the same savings."""
    judge, answer = case.judge, case.picked
    if judge is None:
        return 0
    low, high = judge.least(case.by)
    between(case.cost, (low, high), "pick")
    first = judge.first(case.by)
    if first is None or low != high or not first[1]:
        return 1
    lines = sorted((line.slot, line.item, line.choice) for line in case.asked.lines(first[0]))
    assert rig_in_words(answer) == lines
    said = {entry.rule: entry.saving for entry in answer.binding}
    for rule in case.asked.droppable:
        bounds = judge.least(case.by, rule)
        between(case.cost - round(said.get(rule, 0.0) * UNIT[case.by]), bounds, f"pick without {rule}")
    return 2 + len(case.asked.droppable)


def check_agrees(case: LawCase) -> int:
    """`check` finds nothing wrong with the picked rig; of other rigs it says what trying all says of them."""
    done = 0
    if case.picked.rig:
        path = case.folder / "picked.yaml"
        lines = [f'- {{slot: "{line.slot}", item: "{line.item}", choice: "{line.choice}"}}' for line in case.picked.rig]
        path.write_text("rig:\n" + "\n".join(lines) + "\n", encoding="utf-8")
        said = check(case.read.catalog, case.read.brief, path)
        assert said.fits and all(balance.holds for balance in said.balances)
        assert said.total == case.picked.total
        done += 1
    judge = case.judge
    if judge is None:
        return done
    places = np.flatnonzero(judge.rigs.sure).tolist()
    for place in case.rng("check").sample(places, min(2, len(places))):
        said = check(case.read.catalog, case.read.brief, write_rig(case.folder / "r.yaml", case.asked, judge.rig(place)))
        broken = int(judge.rigs.broken[place])
        assert {b.place.rule for b in said.failures} == ({judge.rules[broken]} if broken != KEPT else set())
        assert said.fits == (broken == KEPT)
        done += 1
    return done


# --- rules and items --------------------------------------------------------------------------------------------------
def rules_dropped(case: LawCase) -> int:
    """Without a rule the best is never dearer, and is what all rigs (or HiGHS) say; with the reduction on and off."""
    of, droppable = case.asked, list(case.asked.droppable)
    rules = case.rng("rules").sample(droppable, min(case.most, len(droppable)))
    for rule in rules if case.judge is not None else rules[:2]:
        rows = of.rows_without(rule)
        costs = {_cost(Question(of.program, case.by, rows, domination=on)) for on in (True, False)}
        assert len(costs) == 1, f"without {rule} the reduction makes a difference: {costs}"
        (cost,) = costs
        assert cost <= case.cost, f"without {rule} the best is dearer"
        if case.judge is not None:
            between(cost, case.judge.least(case.by, rule), f"without {rule}")
        else:
            assert cost == highs(of, case.by, rows), f"HiGHS without {rule}"
    return len(rules)


def _cost(question: Question) -> float:
    cost = cost_of_best(question)
    return inf if cost is None else float(cost)


def items_forced_or_forbidden(case: LawCase) -> int:
    """With an item forced into a slot, or kept out of it, the best is never cheaper; it is the same where a forced one was
    there and a forbidden one was not; and it is what all rigs say. With the reduction on and off."""
    of, slots = case.asked, case.asked.setting.slots
    rig = {line.slot: line.item for line in case.picked.rig} if case.picked.rig else None
    pairs = [(name, item) for name, table in slots.items() for item in dict.fromkeys(table.items)]
    pairs = [(name, item) for name, item in pairs if len(set(slots[name].items)) > 1]
    pairs = case.rng("items").sample(pairs, min(case.most, len(pairs)))
    for name, item in pairs:
        own = np.zeros(int(of.program.offsets[-1]), bool)
        inside = own.copy()
        start = of.offsets[name]
        inside[start : start + len(slots[name])] = True
        own[start : start + len(slots[name])] = [other == item for other in slots[name].items]
        for forced in (True, False):
            allowed = ~inside | (own if forced else ~own)
            what = f"{item} {'forced into' if forced else 'kept out of'} {name}"
            costs = {_cost(Question(of.program, case.by, allowed=allowed, domination=on)) for on in (True, False)}
            assert len(costs) == 1, f"{what}: the reduction makes a difference: {costs}"
            (cost,) = costs
            assert cost >= case.cost, f"{what}: the best is cheaper"
            if rig is None or forced == (rig.get(name, NONE) == item):
                assert cost == case.cost, f"{what}: the best is another"
            if case.judge is not None:
                have = case.judge.with_item(name, item)
                between(cost, case.judge.least(case.by, among=have if forced else ~have), what)
    return 2 * len(pairs)


# --- rounding ---------------------------------------------------------------------------------------------------------
@contextmanager
def resolution(factor: float) -> Iterator[None]:
    """The resolution of all rows times this; whole counts only ever finer."""
    kept = dict(RESOLUTION)
    RESOLUTION.update({unit: step * (factor if step < 1.0 or factor < 1.0 else 1.0) for unit, step in kept.items()})
    try:
        yield
    finally:
        RESOLUTION.update(kept)


def at_resolutions(case: LawCase, factors: tuple[float, ...]) -> list[float]:
    """Least costs with the resolution times these."""
    read, found = case.read, []
    for factor in factors:
        with resolution(factor):
            best = read.asked().best()  # re-checked by the rules' own terms
            assert best.proven
            found.append(inf if best.cost is None else float(best.cost))
    return found


def resolution_finer(case: LawCase) -> int:
    """The best is never dearer where the rows are finer, and at the usual resolution it is the one picked."""
    costs = at_resolutions(case, COARSE_TO_FINE)
    assert costs == sorted(costs, reverse=True), f"from coarse to fine: {costs}"
    assert costs[COARSE_TO_FINE.index(1.0)] == case.cost
    return 1
