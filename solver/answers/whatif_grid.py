"""Cells of a what-if, settled together: each as `pick` would answer the edited brief.

Contents: `settle`.

Rows are shared by cells that agree in what these read (`whatif_rows.py`); the best rig and the savings of a cell are taken
from looser cells where those settle them (`whatif_settled.py`), else solved. Cells without a rig get one minimal conflict
each, in the same order of preference as everywhere. Every rig is judged once more by the rules themselves, each row once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from solver.answers.ask import Asked
from solver.answers.clashes import clashing
from solver.answers.money import money_facts
from solver.answers.whatif_facts import Cell, Study, Values, brief_of_cell
from solver.answers.whatif_known import Known, Met
from solver.answers.whatif_rows import ROWS, Laid
from solver.answers.whatif_settled import Settled, kind_of
from solver.errors import InternalError, NotProven, RigsetError
from solver.program.matrix import Ints
from solver.rules.balance import Balance, balance_of, chosen
from solver.rules.cautions import cautions

Judged = dict[tuple[int, ...], dict[int, Balance]]


@dataclass(eq=False)
class _Open:
    """A cell being settled."""

    number: int
    values: Values
    asked: Asked
    columns: Ints | None = None
    savings: tuple[tuple[str, int], ...] = ()
    conflict: tuple[str, ...] = ()


class _Work:
    """What is kept from piece to piece: rows, solved cells, sets of rules that no rig keeps, and balances of rigs by row."""

    def __init__(self, study: Study, base: Asked) -> None:
        self.laid = Laid(base, study.axes)
        self.settled = Settled(self.laid, base.program.offsets, study.binding)
        self.judged: Judged = {}
        self.met: dict[object, Met] = {}


def _work(study: Study, base: Asked) -> _Work:
    held = base._kept.get("what-if work")
    if held is None or held[0] is not study or held[1].laid.full():
        base._kept["what-if work"] = held = (study, _Work(study, base))
    found: _Work = held[1]
    return found


def settle(study: Study, base: Asked, numbers: Sequence[int]) -> tuple[Cell, ...]:
    """The cells of these numbers, in their order; `base` is the study's brief laid over its catalog."""
    done: dict[int, Cell] = {}
    kinds: dict[object, list[_Open]] = {}
    work = _work(study, base)
    for number in numbers:
        values = study.cells[number]
        try:
            brief, moved = brief_of_cell(study.brief, study.axes, values)
            asked = work.laid.asked(brief, moved, values)
            kinds.setdefault(kind_of(asked), []).append(_Open(number, values, asked))
        except InternalError:
            raise
        except RigsetError as error:
            done[number] = Cell(number, values, "invalid", message=str(error))
    for members in kinds.values():
        for cell in _together(study, work, members):
            done[cell.number] = cell
    return tuple(done[number] for number in numbers)


def _together(study: Study, work: _Work, members: list[_Open]) -> list[Cell]:
    """Cells with the same rows by name."""
    done: list[Cell] = []
    none: list[_Open] = []
    found = work.settled.best([cell.asked for cell in members], study.by)
    for cell, best in zip(members, found, strict=True):
        if best.open:
            done.append(_unknown(cell, best.open))
            continue
        cell.columns, cell.savings = best.columns, best.savings
        if cell.columns is None:
            none.append(cell)
        else:
            done.append(_told(work, cell, study.binding == "savings"))
    return [*done, *_without_rig(work, none, study.by)]


def _without_rig(work: _Work, members: list[_Open], by: str) -> list[Cell]:
    if not members:
        return []
    try:
        _conflicts(work, members, by)
    except NotProven as error:
        if len(members) == 1:
            return [_unknown(members[0], str(error))]
        return [cell for member in members for cell in _without_rig(work, [member], by)]
    return [_none(cell) for cell in members]


def _conflicts(work: _Work, members: list[_Open], by: str) -> None:
    """One minimal conflict for every cell that no rig fits; cells share what is known of sets of rules."""
    met = work.met.setdefault(kind_of(members[0].asked), Met())
    known = Known([cell.asked for cell in members], by, met, work.settled.is_tighter)
    for k in known.order():

        def possible(kept: frozenset[str], k: int = k) -> bool:
            return known.possible(k, kept)

        members[k].conflict = clashing(members[k].asked, possible)[0]


def _none(cell: _Open) -> Cell:
    told = tuple(caution.id for caution in cautions(cell.asked.brief, None, ()))
    return Cell(cell.number, cell.values, "none", conflict=cell.conflict, cautions=told)


def _told(work: _Work, cell: _Open, with_savings: bool) -> Cell:
    asked = cell.asked
    if cell.columns is None:
        raise InternalError("a cell without a rig has no balances")
    rig = asked.rig_of(cell.columns)
    balances = _judged(asked, rig, work.judged)
    told = tuple(caution.id for caution in cautions(asked.brief, chosen(asked.setting, rig), balances))
    binding: tuple[tuple[str, float | None], ...] = tuple((rule, None) for rule, _ in cell.savings)
    if with_savings:
        savings = sorted(cell.savings, key=lambda entry: (-entry[1], entry[0]))
        binding = tuple((rule, saving / asked.unit) for rule, saving in savings)
    return Cell(
        cell.number,
        cell.values,
        "found",
        options=tuple(rig.values()),
        total=asked.totals(rig),
        money=money_facts(asked, rig),
        binding=binding,
        cautions=told,
    )


def _judged(asked: Asked, rig: dict[str, int], judged: Judged) -> tuple[Balance, ...]:
    """Every balance of the cell's rig, from the rules alone; an error if one fails. A row has one in all cells."""
    options = chosen(asked.setting, rig)
    kept = judged.setdefault(tuple(rig.values()), {})
    found = []
    for row, instance in zip(asked._kept[ROWS].tolist(), asked.instances, strict=True):
        balance = kept.get(row)
        if balance is None:
            balance = kept[row] = balance_of(asked.setting, instance, options)
            if not balance.holds:
                raise InternalError(f"the engine's rig fails the re-check at {balance.place}")
        found.append(balance)
    return tuple(found)


def _unknown(cell: _Open, message: str) -> Cell:
    """A cell that the limit of work leaves open: the best rig known is not given as an answer."""
    return Cell(cell.number, cell.values, "unknown", proven=False, message=message)
