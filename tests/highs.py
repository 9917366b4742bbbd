"""A program as HiGHS takes it: one binary column per option, one equation per slot, the rows as they are.

Contents: `highs_of`. (`tests/demo/test_highs.py` makes its own, with rows scaled for the tolerance of doubles.)
"""

from __future__ import annotations

import highspy
import numpy as np

from solver.program.matrix import Program


def highs_of(program: Program, by: str, **settings: float) -> highspy.Highs:
    """Ready to run: one thread and no relative gap, and further settings by their names."""
    n, m, slots = program.rows.shape[1], len(program.rhs), len(program.offsets) - 1
    lp = highspy.HighsLp()
    lp.num_col_, lp.num_row_ = n, m + slots
    lp.col_cost_ = program.costs[by].astype(float)
    lp.col_lower_, lp.col_upper_ = np.zeros(n), np.ones(n)
    lp.row_lower_ = np.concatenate([np.full(m, -highspy.kHighsInf), np.ones(slots)])
    lp.row_upper_ = np.concatenate([program.rhs.astype(float), np.ones(slots)])
    lp.integrality_ = [highspy.HighsVarType.kInteger] * n
    lp.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    lp.a_matrix_.start_, lp.a_matrix_.index_, lp.a_matrix_.value_ = _by_column(program)
    solver = highspy.Highs()
    solver.silent()
    for name, value in {"threads": 1, "mip_rel_gap": 0.0, **settings}.items():
        solver.setOptionValue(name, value)
    solver.passModel(lp)
    return solver


def _by_column(program: Program) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Rows and one row per slot, column by column: starts, indices, values."""
    starts, indices, values = [0], [], []
    for j, slot in enumerate(program.slot_of.tolist()):
        column = program.rows[:, j]
        used = np.flatnonzero(column)
        indices.append(np.append(used, len(program.rhs) + slot))
        values.append(np.append(column[used], 1))
        starts.append(starts[-1] + len(used) + 1)
    return np.array(starts), np.concatenate(indices), np.concatenate(values).astype(float)
