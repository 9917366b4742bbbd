"""What to change so that a rig exists: single changes with their least amounts, then minimal sets of changes.

Contents: `repairs`.

Wishes and limits may be changed, margins with a caution, and one of several duties may be declined; a site fact never. A
single change goes along the grid of its requirement to the first value with a rig, then in steps of its resolution back
towards the present one. Where the moved rows only ever ease on the way, checked on the numbers of all options, that is a
bisection, elsewhere value by value. Sets are made of changes that are not enough alone: minimal sets that are enough with
each member at its loosest admissible value; then the amounts that make the largest share of the way small, and each as
small as the others let it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from solver.answers.ask import Asked
from solver.answers.beside import beside
from solver.answers.changed import changed_brief, declined
from solver.answers.clashes import rigs_met, some_conflict
from solver.answers.facts import Change, Repair
from solver.answers.steps_rows import NEAR, Moves, Way, eases, sides
from solver.answers.steps_search import rig_of
from solver.brief.models import Brief
from solver.brief.requirements import REQUIREMENTS, Direction, Kind, moved_by
from solver.errors import EntryError, OutsideRange
from solver.program.matrix import Ints
from solver.rules import RULES
from solver.rules.record import Effect

SETS = 2
"""Minimal sets of changes that are listed at most."""
_TRIES, _FURTHER = 30, 2
"""Sets that are tried at most: until one is enough, and after that."""
_FINENESS = 256
"""Steps on the way to the loosest values of a set, before each amount is made as small as can be."""
_WEIGHT = {Kind.LIMIT: 10, Kind.WISH: 11, Kind.MARGIN: 14}
_DECLINING = 25
"""Order among sets: few changes before many, limits before wishes, then margins; declining a duty counts double."""


@dataclass(frozen=True)
class _Option:
    """Something that may be changed: a requirement on one of its sides up to its loosest value, or a duty declined."""

    name: str
    way: Way | None
    present: float
    values: tuple[float, ...]
    duty: str = ""

    @property
    def loosest(self) -> float:
        return self.values[-1]

    def weight(self) -> int:
        return _WEIGHT[self.way.requirement.kind] if self.way is not None else _DECLINING


def repairs(
    asked: Asked, conflicts: Sequence[Sequence[str]], sets: int = SETS
) -> tuple[tuple[Repair, ...], tuple[Repair, ...]]:
    """Single changes that alone make a rig possible, and minimal sets of others that do so together.

    Parameters
    ----------
    asked : Asked
        A brief that no rig meets.
    conflicts : sequence of sequences of str
        Rules of minimal conflicts of it, at least one. What touches no rule of one of them cannot help alone, and is not
        tried.
    sets : int
        How many sets are wanted at most.
    """
    single: list[Repair] = []
    rest: list[_Option] = []
    for group in _options(asked):
        good = [option for option in group
                if all(_touches(asked, option, rules) for rules in conflicts) and _single(asked, option, single)]  # fmt: skip
        rest += [option for option in group[:1] if not good]
    return tuple(single), _sets(asked, _enough(asked, rest, conflicts, sets))


def _sets(asked: Asked, found: Iterator[list[_Option]]) -> tuple[Repair, ...]:
    """Sets of changes with their amounts; those of the first are worked out while others are looked for."""
    first = next(found, None)
    if first is None:
        return ()
    further: list[Callable[[], Any]] = [lambda: list(found), partial(_amounts_told, asked, first)]
    others, told = beside(further)
    return told, *beside([partial(_amounts_told, asked, other) for other in others])


def _amounts_told(asked: Asked, chosen: list[_Option]) -> Repair:
    return _told(asked, _amounts(asked, chosen))


def _options(asked: Asked) -> Iterator[list[_Option]]:
    """What may be changed, for each requirement in turn: in all duties, and where there are several in each alone."""
    brief = asked.brief
    names = tuple(duty.name for duty in brief.duties)
    for requirement in REQUIREMENTS.values():
        if requirement.kind is Kind.SITE:
            continue
        for side, other in ((0, Direction.HIGHER), (1, Direction.LOWER)):
            if requirement.easier is other:
                continue
            ways = [Way(requirement, names if requirement.duty else ())]
            if requirement.duty and len(names) > 1:
                ways += [Way(requirement, (name,)) for name in names]
            group = []
            for way in ways:
                present = way.present(brief)
                values = () if present is None else sides(requirement, present)[side]
                if values and present is not None:
                    group.append(_Option(f"{requirement.id} {side} {way.duties}", way, present, values))
            if group:
                yield group
    if len(names) > 1:
        for name in names:
            yield [_Option(f"without {name}", None, 0.0, (1.0,), name)]


def _touches(asked: Asked, option: _Option, rules: Iterable[str]) -> bool:
    """Whether the change moves a row of one of these rules."""
    if option.way is None:
        return any(RULES[rule].scope.duties for rule in rules)
    moved = moved_by(asked.brief, option.way.requirement)
    return any(moved & _reads(asked, rule) for rule in rules)


def _reads(asked: Asked, rule: str) -> frozenset[str]:
    return asked.reads_of(rule) | RULES[rule].effects.keys()


def _met(asked: Asked) -> list[Ints]:
    """Rigs met so far in questions about changed briefs, the last first."""
    met: list[Ints] = asked._kept.setdefault("rigs of repairs", [])
    return met


def _exists(asked: Asked, changed: Asked) -> bool:
    """Whether a rig meets the changed brief; those met in earlier questions are tried first."""
    pool = _met(asked)
    if any(changed.program.fits(columns) for columns in pool):
        return True
    found = rig_of(changed.program)
    if found is None:
        return False
    pool.insert(0, found)
    return True


def _at(asked: Asked, chosen: Iterable[tuple[_Option, float]]) -> Asked | None:
    """The question with these changes made; None where a brief cannot say so or a formula has no value there."""
    brief, moved, duty = asked.brief, frozenset[str](), ""
    try:
        for option, value in chosen:
            if option.way is None:
                duty = option.duty
                continue
            for name in option.way.duties or (None,):
                moved |= moved_by(asked.brief, option.way.requirement, name)
            brief = option.way.brief_at(brief, value)
        found = changed_brief(asked, brief, moved)
        return declined(found, duty) if duty else found
    except (EntryError, OutsideRange):
        return None


def _possible(asked: Asked, chosen: Iterable[tuple[_Option, float]]) -> bool:
    found = _at(asked, chosen)
    return found is not None and _exists(asked, found)


def _single(asked: Asked, option: _Option, found: list[Repair]) -> bool:
    """Whether the change alone is enough; then its repair is added, unless a wider one before it says the same."""
    if option.way is None:
        if _possible(asked, [(option, 1.0)]):
            found.append(_told(asked, [(option, 1.0)]))
            return True
        return False
    amount = _least(option, lambda value: _possible(asked, [(option, value)]), Moves(asked, option.way))
    if amount is None:
        return False
    last = found[-1].changes if found else ()
    if len(option.way.duties) == 1 and len(last) == 1 and _is_wider(last[0], option, amount):
        found.pop()  # one duty is enough: the change in all of them is more than is needed
    found.append(_told(asked, [(option, amount)]))
    return True


def _is_wider(change: Change, option: _Option, amount: float) -> bool:
    """Whether a change moves the same requirement the same way, but in all duties."""
    if option.way is None or change.before is None or change.after is None:
        return False
    same = change.requirement == option.way.requirement.id and (change.after > change.before) == (amount > option.present)
    return same and not change.duties


def _least(option: _Option, possible: Callable[[float], bool], moves: Moves) -> float | None:
    """The value nearest to the present one, to the requirement's resolution, at which a rig exists."""
    if option.way is None:
        return None
    at = _first(option.present, option.values, possible, moves)
    if at is None:
        return None
    before = option.present if at == 0 else option.values[at - 1]
    between = _between(before, option.values[at], option.way.requirement.resolution)
    fine = _first(before, between, possible, moves)
    return option.values[at] if fine is None else between[fine]


def _between(start: float, end: float, resolution: float) -> tuple[float, ...]:
    """Values from start (left out) to end in steps of the resolution."""
    count = round(abs(end - start) / resolution + 0.499999)
    sign = 1.0 if end > start else -1.0
    return (*(round(start + sign * resolution * k, 9) for k in range(1, count)), end)


def _first(start: float, values: Sequence[float], possible: Callable[[float], bool], moves: Moves) -> int | None:
    """Place of the first value at which a rig exists; None if there is none."""
    if _eases_all_along(start, values, moves):
        if not possible(values[-1]):
            return None
        low, high = -1, len(values) - 1
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if possible(values[middle]) else (middle, high)
        return high
    return next((k for k, value in enumerate(values) if possible(value)), None)


def _eases_all_along(start: float, values: Sequence[float], moves: Moves) -> bool:
    """Whether the moved rows ease from each value to the next, on the numbers of all options."""
    if moves.way.requirement.kind is Kind.LIMIT:
        upwards = values[-1] > start
        if all(moves.effect(place, upwards) == 1 for place in moves.base):
            return True  # a limit stands alone on its side of a balance
    offsets = moves.asked.program.offsets
    try:
        before = moves.rows(start)
        for value in values:
            if moves.brief(value) is None:
                return False
            after = moves.rows(value)
            if not all(eases(before, after, offsets).values()):
                return False
            before = after
    except (EntryError, OutsideRange):
        return False
    return True


def _enough(
    asked: Asked, options: list[_Option], known: Sequence[Sequence[str]], most: int
) -> Iterator[list[_Option]]:
    """Minimal sets of changes that are enough together at their loosest values, the least first.

    Each conflict must be touched by one of the changes. A least set that touches all conflicts known is tried at its loosest
    values. Where it is not enough, the brief so loosened has a conflict, which another change must touch, or one of these
    that may have made a rule of it harder must be left out.
    """
    from solver.search.conflicts import least_open

    by_name = {option.name: option for option in options}
    place = {name: k for k, name in enumerate(by_name)}
    weights = {option.name: option.weight() for option in options}
    touching = [[option.name for option in options if _touches(asked, option, rules)] for rules in known]
    spoiling: list[list[str]] = [[] for _ in known]
    found: list[frozenset[str]] = []
    closed = _both_sides(options)
    likely = [rule for rules in known for rule in rules]
    tries = _TRIES
    while tries > 0 and len(found) < most:
        names = least_open(place, weights, [*closed, *found], touching, spoiling)
        if names is None:
            return
        tries -= 1
        chosen = [option for option in options if option.name in names]
        loosened = _at(asked, [(option, option.loosest) for option in chosen])
        if loosened is None:
            closed.append(names)  # no brief can say so
        elif _exists(asked, loosened):
            smaller = _without_idle(asked, chosen)
            found.append(frozenset(option.name for option in smaller))
            tries = min(tries, _FURTHER)
            yield smaller
        else:
            rules = some_conflict(loosened, likely, [*_met(asked), *rigs_met(asked)])
            likely = [*rules, *likely]
            touching.append([o.name for o in options if o.name not in names and _touches(loosened, o, rules)])
            spoiling.append([o.name for o in chosen if _may_harm(loosened, o, rules)])


def _both_sides(options: list[_Option]) -> list[frozenset[str]]:
    """Pairs of changes that cannot be made together: one requirement to both sides."""
    return [
        frozenset((one.name, other.name))
        for k, one in enumerate(options)
        for other in options[k + 1 :]
        if one.way is not None and one.way == other.way
    ]


def _without_idle(asked: Asked, chosen: list[_Option]) -> list[_Option]:
    """The changes without those that are not needed."""
    for option in list(chosen):
        rest = [other for other in chosen if other is not option]
        if rest and _possible(asked, [(other, other.loosest) for other in rest]):
            chosen = rest
    return chosen


def _may_harm(asked: Asked, option: _Option, rules: Iterable[str]) -> bool:
    """Whether the change may make one of these rules harder to keep, by the effects that the rules declare."""
    if option.way is None:
        return False
    good = Effect.EASES if option.loosest > option.present else Effect.TIGHTENS
    moved = moved_by(asked.brief, option.way.requirement)
    return any(RULES[rule].effects.get(name, good) is not good for rule in rules for name in moved & _reads(asked, rule))


def _amounts(asked: Asked, options: list[_Option]) -> list[tuple[_Option, float]]:
    """The smallest common share of the way for all members, then each member as small as the others let it."""
    def at(share: int) -> list[tuple[_Option, float]]:
        return [(option, _on_the_way(option, share / _FINENESS)) for option in options]

    low, high = 0, _FINENESS
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if _possible(asked, at(middle)) else (middle, high)
    chosen = dict(at(high))
    for option in options:
        if option.way is None:
            continue
        resolution = option.way.requirement.resolution
        values = (option.present, *_between(option.present, chosen[option], resolution))
        low, high = 0, len(values) - 1
        while high - low > 1:
            middle = (low + high) // 2
            good = _possible(asked, [*({**chosen, option: values[middle]}).items()])
            low, high = (low, middle) if good else (middle, high)
        chosen[option] = values[high]
    return list(chosen.items())


def _on_the_way(option: _Option, share: float) -> float:
    """The value at this share of the way to the loosest one, on a whole number of resolutions, rounded outwards."""
    if option.way is None:
        return 1.0
    resolution = option.way.requirement.resolution
    count = abs(option.loosest - option.present) / resolution
    whole = int(share * count + 1.0 - NEAR)
    if whole >= count:
        return option.loosest
    return round(option.present + (resolution if option.loosest > option.present else -resolution) * whole, 9)


def _told(asked: Asked, chosen: list[tuple[_Option, float]]) -> Repair:
    """The repair with its rig."""
    found = _at(asked, chosen)
    best = found.best() if found is not None else None
    if found is None or best is None or best.columns is None:
        raise EntryError("a repair without a rig", "a rig")
    rig = found.rig_of(best.columns)
    return Repair(tuple(_change(asked.brief, option, value) for option, value in chosen), found.totals(rig), found.lines(rig))


def _change(brief: Brief, option: _Option, value: float) -> Change:
    if option.way is None:
        return Change("", (option.duty,), "", None, None, 1.0, False)
    requirement, duties = option.way.requirement, option.way.duties
    if len(duties) == len(brief.duties):
        duties = ()
    share = abs(value - option.present) / abs(option.loosest - option.present)
    return Change(requirement.id, duties, requirement.unit, option.present, value, share, requirement.kind is Kind.MARGIN)
