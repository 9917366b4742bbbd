"""An independent solver on the same rows: HiGHS gives the same least cost for every demo brief, and no rig for the one
that cannot be met.

HiGHS works in doubles. Rows are therefore shifted so that each slot's least entry is 0 (exactly one option of a slot is
taken), rows that no rig can break are left out, and each row is scaled to entries of at most 1; the tolerance is 1e-9.
The rig that it returns is judged in integers: it must keep every row and cost exactly what is said.
"""

from __future__ import annotations

import highspy
import numpy as np
import pytest

from solver.program.matrix import Program
from tests.demo.demo import COSTS, IMPOSSIBLE, POSSIBLE, asked, least_cost

TOLERANCE = 1e-9


def shifted(program: Program) -> tuple[np.ndarray, np.ndarray]:
    """Rows with nothing as each slot's least entry; those that every rig keeps left out."""
    rows, rhs = program.rows.copy(), program.rhs.copy()
    most = np.zeros(len(rhs), np.int64)
    for start, end in program.slices:
        least = rows[:, start:end].min(axis=1)
        rows[:, start:end] -= least[:, None]
        rhs -= least
        most += rows[:, start:end].max(axis=1)
    deciding = most > rhs
    return rows[deciding], rhs[deciding]


def model_of(program: Program, cost: np.ndarray) -> highspy.Highs:
    """One binary column per option, one equation per slot, one inequality per deciding row."""
    rows, rhs = shifted(program)
    model = highspy.Highs()
    model.setOptionValue("output_flag", False)
    model.setOptionValue("threads", 1)
    model.setOptionValue("random_seed", 1)
    for name in ("mip_feasibility_tolerance", "primal_feasibility_tolerance", "mip_rel_gap", "mip_abs_gap"):
        model.setOptionValue(name, 0.0 if name == "mip_rel_gap" else TOLERANCE)
    for price in cost.tolist():
        model.addVar(0.0, 1.0)
        column = model.getNumCol() - 1
        model.changeColCost(column, float(price))
        model.changeColIntegrality(column, highspy.HighsVarType.kInteger)
    for start, end in program.slices:
        columns = np.arange(start, end, dtype=np.int32)
        model.addRow(1.0, 1.0, len(columns), columns, np.ones(len(columns)))
    for row, limit in zip(rows, rhs.tolist(), strict=True):
        columns = np.flatnonzero(row).astype(np.int32)
        size = float(row.max())
        model.addRow(-highspy.kHighsInf, limit / size, len(columns), columns, row[columns] / size)
    model.run()
    return model


@pytest.mark.parametrize("by", COSTS)
@pytest.mark.parametrize("name", POSSIBLE)
def test_the_same_least_cost(name, by):
    program = asked(name).program
    model = model_of(program, program.costs[by])
    assert model.getModelStatus() == highspy.HighsModelStatus.kOptimal
    columns = np.flatnonzero(np.array(model.getSolution().col_value) > 0.5)
    assert len(columns) == len(program.slices)
    assert program.fits(columns), "the rig breaks an integer row"
    assert program.cost(columns, by) == least_cost(asked(name), by)


def test_no_rig_for_the_brief_that_cannot_be_met():
    program = asked(IMPOSSIBLE).program
    model = model_of(program, np.zeros(int(program.offsets[-1])))
    assert model.getModelStatus() == highspy.HighsModelStatus.kInfeasible
    assert least_cost(asked(IMPOSSIBLE), "price") == float("inf")
