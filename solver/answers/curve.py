"""curve: the least cost over the grid of one requirement, every jump exact, and what changes at each.

Contents: `curve`.
"""

from __future__ import annotations

from solver.answers.ask import Asked
from solver.answers.curve_walk import Point, Walk
from solver.answers.steps_facts import Curve, Stretch, price_and_weight, swaps_between
from solver.answers.steps_rows import Moves, Way
from solver.brief.requirements import Requirement
from solver.rules.balance import chosen
from solver.rules.cautions import CAUTIONS, Caution, cautions


def curve(asked: Asked, requirement: Requirement, duties: tuple[str, ...] = ()) -> Curve:
    """Least cost at every value of a requirement's grid, the rest of the brief as it is.

    Parameters
    ----------
    asked : Asked
        The brief laid over a catalog, with its objective.
    requirement : Requirement
        What is changed; a site fact too.
    duties : tuple of str
        The duties in which it is changed, all to the same value, as `find` gives them; none for a requirement of the brief.

    Returns
    -------
    Curve
        A point for every value, and stretches of neighbouring values with one rig. Of several rigs of least cost the one is
        told that differs least from that of the neighbouring stretch. Where a brief cannot have a value (more than 24 h in
        a day) it is listed in `skipped`.

    Raises
    ------
    NotProven
        The limit of work ended before the least cost at some value was certain.
    """
    way = Way(requirement, duties)
    moves = Moves(asked, way)
    grid = requirement.grid()
    values = tuple(value for value in grid if moves.possible(value))
    walk = Walk(moves, values)
    points = walk.walked()
    return Curve(
        asked.brief.title,
        asked.by,
        requirement.id,
        duties,
        _present(asked, way),
        tuple((value, _money(asked, point)) for value, point in zip(values, points, strict=True)),
        _stretches(asked, values, points),
        tuple(value for value in grid if value not in set(values)),
        walk.one_way,
        walk.solves,
        _cautions(asked, points),
    )


def _cautions(asked: Asked, points: list[Point]) -> tuple[Caution, ...]:
    """The cautions of every rig on the curve, in the order of the register."""
    different = {tuple(point.columns.tolist()): point.columns for point in points if point.columns is not None}
    rigs = [asked.rig_of(columns) for columns in different.values()]
    told = {c for rig in rigs for c in cautions(asked.brief, chosen(asked.setting, rig), asked.balances(rig))}
    told |= set(cautions(asked.brief, None, ())) if not rigs else set()
    ids = {caution.id for caution in told}
    return tuple(Caution(record.id, record.text) for record in CAUTIONS if record.id in ids)


def _money(asked: Asked, point: Point) -> float | None:
    return None if point.cost is None else point.cost / asked.unit


def _present(asked: Asked, way: Way) -> float | None:
    """The present value, if the brief sets one and it is the same in all duties."""
    ways = [Way(way.requirement, (name,)) for name in way.duties] or [way]
    found = {each.present(asked.brief) for each in ways}
    return found.pop() if len(found) == 1 else None


def _stretches(asked: Asked, values: tuple[float, ...], points: list[Point]) -> tuple[Stretch, ...]:
    found: list[Stretch] = []
    known: Point | None = None
    first = 0
    for k, point in enumerate(points):
        if k + 1 < len(points) and _same(point, points[k + 1]):
            continue
        found.append(_stretch(asked, values[first], values[k], points[first], point, known))
        known = point if point.columns is not None else known
        first = k + 1
    return tuple(found)


def _same(point: Point, other: Point) -> bool:
    if point.columns is None or other.columns is None:
        return point.columns is other.columns
    return bool((point.columns == other.columns).all())


def _stretch(asked: Asked, first: float, last: float, one: Point, other: Point, known: Point | None) -> Stretch:
    if other.columns is None:
        return Stretch(first, last, None, None, None, None, (), ())
    price, weight = price_and_weight(asked, other.columns)
    rig = asked.rig_of(other.columns)
    swaps = () if known is None or known.columns is None else swaps_between(asked, asked.rig_of(known.columns), rig)
    return Stretch(first, last, _money(asked, one), _money(asked, other), price, weight, asked.lines(rig), swaps)
