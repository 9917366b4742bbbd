"""robust: the cheapest rig that holds wherever in its ranges a requirement may lie, what that costs, and what decides.

Contents: `robust`.

Method: the rows of all corners of the ranges and of the nominal point are stacked into one program and solved. The rig is
then tried on a grid of the ranges and at random points, on its own integer rows. The point where it fails worst joins the
program, which is solved again, until no point fails. Each program is looser than what is wanted, so the first rig that
passes is the best one for all points tried. Where every row of the rig that moves is monotone along each range on the
grid, the corners speak for all between, and the rig is certified over the whole ranges; else it holds over the grid.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence

from solver.answers.ask import Asked, ask
from solver.answers.clashes import clashing, in_order
from solver.answers.facts import Line
from solver.answers.money import money_facts
from solver.answers.robust_facts import Exchange, Robust, Scenario
from solver.answers.robust_ranged import Point, Ranged, ends_of, sayable
from solver.answers.robust_rows import RigRows
from solver.answers.robust_stack import Stack
from solver.brief.models import Brief
from solver.brief.ranges import range_of, ranges_of
from solver.catalog import Catalog
from solver.errors import EntryError, InternalError
from solver.program.matrix import Ints
from solver.rules import RULES
from solver.rules.balance import Balance, chosen
from solver.rules.cautions import cautions
from solver.rules.instances import Place

MOST_RANGES = 6


def robust(
    catalog: Catalog, brief: Brief, ranges: Mapping[str, tuple[float, float]] | None = None, by: str | None = None
) -> Robust:
    """The best rig that holds over the ranges.

    Parameters
    ----------
    catalog, brief
        As for `pick`.
    ranges : mapping of path to (low, high) in SI, optional
        Instead of those that the brief states: `{"winter attic.altitude": (0.0, 2133.6)}`.
    by : {"price", "weight", "yearly-cost"}, optional
        What to make least; the brief's own `by` if not given. A yearly cost is the one at the nominal values.

    Raises
    ------
    EntryError
        No range, too many, or a range of something that is no requirement.
    """
    found = ranges_of(brief) if ranges is None else tuple(range_of(p, *ends, brief) for p, ends in ranges.items())
    if not found:
        raise EntryError("a brief without ranges", "at least one", "ranges: {duty.altitude: {from: 0 ft, to: 7000 ft}}")
    if len(found) > MOST_RANGES:
        raise EntryError(f"{len(found)} ranges", f"at most {MOST_RANGES}, since every corner counts")
    ranged = Ranged(ask(catalog, brief, by), found)
    grid, tried, left_out = sayable(ranged)
    points = [ranged.nominal, *(p for p in itertools.product(*ends_of(found)) if p in grid and p != ranged.nominal)]
    asked = [ranged.asked(point) for point in points]
    rounds = 0
    while True:
        rounds += 1
        stack = Stack(asked)
        columns, proven = _best(stack, ranged.base.by)
        if columns is None:
            return _none(ranged, points, asked, stack, rounds, proven, left_out, (len(grid), len(tried) - len(grid)))
        worst = _worst(ranged, columns, tried)
        if worst is None:
            break
        if worst in points:
            raise InternalError("a rig breaks a row of a point that its program holds")
        points.append(worst)
        asked.append(ranged.asked(worst))
    counts = (len(grid), len(tried) - len(grid))
    return _found(ranged, points, asked, stack, columns, rounds, left_out, counts, grid)


def _best(stack: Stack, by: str) -> tuple[Ints | None, bool]:
    from solver.search.best import Question, best

    found = best(Question(stack.program, by))
    return (found.columns if found.proven else None), found.proven


def _worst(ranged: Ranged, columns: Ints, tried: Mapping[Point, Brief]) -> Point | None:
    """The point at which the rig fails most as a share of the row's size; None where it fails nowhere."""
    rows = RigRows(ranged.base, ranged.base.rig_of(columns), ranged.moved, ranged.duties)
    worst: tuple[float, Point] | None = None
    for point, brief in tried.items():
        share = max((excess / size for excess, size in rows.excess(brief).values()), default=0.0)
        if share > 0.0 and (worst is None or share > worst[0]):
            worst = (share, point)
    return None if worst is None else worst[1]


def _uncertified(ranged: Ranged, columns: Ints, grid: Mapping[Point, Brief]) -> tuple[str, ...]:
    """Rules with a row of the rig that is not monotone along some line of the grid."""
    rows = RigRows(ranged.base, ranged.base.rig_of(columns), ranged.moved, ranged.duties)
    excess = {point: rows.excess(brief) for point, brief in grid.items()}
    wrong: set[str] = set()
    for k in range(len(ranged.ranges)):
        lines: dict[Point, list[dict[Place, tuple[int, int]]]] = {}
        for point in sorted(excess):
            lines.setdefault((*point[:k], *point[k + 1 :]), []).append(excess[point])
        for line in lines.values():
            for place in dict.fromkeys(place for found in line for place in found):
                values = [found[place][0] if place in found else None for found in line]
                if not _monotone(values):
                    wrong.add(place.rule)
    return tuple(sorted(wrong))


def _monotone(values: Sequence[int | None]) -> bool:
    """Whether the numbers never fall, or never rise. A row that is there at some points only counts as neither."""
    if any(value is None for value in values):
        return all(value is None for value in values)
    known = [value for value in values if value is not None]
    pairs = list(itertools.pairwise(known))
    return all(a <= b for a, b in pairs) or all(a >= b for a, b in pairs)


def _scenarios(
    ranged: Ranged, points: Sequence[Point], asked: Sequence[Asked], stack: Stack, columns: Ints
) -> tuple[Scenario, ...]:
    """Every point of the program with what it decides."""
    from solver.search.best import Question, cheapest

    by, unit = ranged.base.by, ranged.base.unit
    cost = stack.program.cost(columns, by)
    found = []
    for k, point in enumerate(points):
        mask = stack.without(k)
        saving, alone = 0.0, None
        rules: tuple[str, ...] = ()
        if len(points) > 1 and not mask.all():
            other = cheapest(Question(stack.program, by, mask, at_most={by: cost - 1}))
            if other.columns is not None and other.cost is not None and other.proven:
                saving = (cost - other.cost) / unit
                program = asked[k].program
                broken = program.rows[:, other.columns].sum(axis=1) > program.rhs
                rules = tuple(dict.fromkeys(g for g, bad in zip(program.groups, broken.tolist(), strict=True) if bad))
                own = asked[k].cheapest()
                alone = None if own.cost is None or not own.proven else own.cost / unit
        found.append(Scenario(point, ranged.corner(point), saving, rules, alone))
    return tuple(sorted(found, key=lambda scenario: -scenario.saving))


def _found(
    ranged: Ranged,
    points: Sequence[Point],
    asked: Sequence[Asked],
    stack: Stack,
    columns: Ints,
    rounds: int,
    left_out: int,
    counts: tuple[int, int],
    grid: Mapping[Point, Brief],
) -> Robust:
    base, brief, nominal = ranged.base, ranged.base.brief, asked[0]
    rig = base.rig_of(columns)
    for each in asked:
        each.recheck(columns)
    wrong = _uncertified(ranged, columns, grid)
    best = nominal.best()
    balances = _tightest(asked, rig)
    cheapest = nominal.rig_of(best.columns) if best.columns is not None and best.proven else None
    return Robust(
        title=brief.title,
        by=base.by,
        ranges=ranged.ranges,
        status="found",
        proven=True,
        certified=not wrong,
        uncertified=wrong,
        grid_points=counts[0],
        random_points=counts[1],
        rounds=rounds,
        total=nominal.totals(rig),
        money=money_facts(nominal, rig),
        rig=nominal.lines(rig),
        options=tuple(rig.values()),
        nominal=nominal.totals(cheapest) if cheapest else None,
        extra=(stack.program.cost(columns, base.by) - best.cost) / base.unit if cheapest and best.cost is not None else None,
        exchanges=_exchanges(nominal.lines(cheapest), nominal.lines(rig)) if cheapest else (),
        scenarios=_scenarios(ranged, points, asked, stack, columns),
        balances=balances,
        conflict=(),
        impossible=(),
        left_out=left_out,
        cautions=cautions(brief, chosen(base.setting, rig), balances),
        assumptions=brief.assumed(),
        waived=tuple(brief.waived),
    )  # fmt: skip


def _tightest(asked: Sequence[Asked], rig: dict[str, int]) -> tuple[Balance, ...]:
    """Every balance at its tightest over the points, in the order of the rules."""
    found: dict[Place, Balance] = {}
    for each in asked:
        for balance in each.balances(rig):
            held = found.get(balance.place)
            if held is None or balance.slack_share < held.slack_share:
                found[balance.place] = balance
    return tuple(found.values())


def _exchanges(nominal: tuple[Line, ...], robust_rig: tuple[Line, ...]) -> tuple[Exchange, ...]:
    old, new = ({line.slot: _words(line) for line in rig} for rig in (nominal, robust_rig))
    slots = dict.fromkeys(line.slot for line in (*nominal, *robust_rig))
    return tuple(Exchange(slot, old.get(slot, ""), new.get(slot, "")) for slot in slots if old.get(slot) != new.get(slot))


def _words(line: Line) -> str:
    return line.label + (f" ({line.choice})" if line.choice else "")


def _rules_of(asked: Sequence[Asked]) -> tuple[str, ...]:
    """Rules that may be dropped at any of the points, those that a person can change first."""
    orders = [in_order(each) for each in asked]
    bases = [tuple(dict.fromkeys(RULES[rule].basis for rule in order)) for order in orders]
    most = max(len(each) for each in bases)
    rank = {basis: k for k, basis in enumerate(next(each for each in bases if len(each) == most))}
    place = {rule: k for k, rule in enumerate(RULES)}
    found = dict.fromkeys(itertools.chain(*orders))
    return tuple(sorted(found, key=lambda rule: (rank.get(RULES[rule].basis, len(rank)), place[rule])))


def _none(
    ranged: Ranged,
    points: Sequence[Point],
    asked: Sequence[Asked],
    stack: Stack,
    rounds: int,
    proven: bool,
    left_out: int,
    counts: tuple[int, int],
) -> Robust:
    from solver.search.best import Question, exists

    base, brief = ranged.base, ranged.base.brief
    conflict: tuple[str, ...] = ()
    impossible: tuple[Point, ...] = ()
    if proven:

        def possible(kept: frozenset[str]) -> bool:
            return exists(Question(stack.program, base.by, stack.of_rules(kept)))

        conflict, _ = clashing(asked[0], possible, _rules_of(asked))
        alone = (asked[k].program for k in range(len(points)))
        impossible = tuple(p for p, own in zip(points, alone, strict=True) if not exists(Question(own, base.by)))
    return Robust(
        brief.title, base.by, ranged.ranges, "none" if proven else "unknown", proven, False, (), *counts, rounds,
        None, None, (), (), None, None, (), (), (), conflict, impossible, left_out, cautions(brief, None, ()),
        brief.assumed(), tuple(brief.waived),
    )  # fmt: skip
