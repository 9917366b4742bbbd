"""The joint program of many that differ a little: looser than each of them.

Contents: `joint_of`.

Every row takes the least of their entries and the largest of their right-hand sides, so that a rig which keeps the row of
any of them keeps the joint row. Where the joint program has no rig none of them has one; a rig that it has may be one of
theirs. Nothing is assumed of how a requirement acts.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from solver.program.matrix import Program


def joint_of(programs: Sequence[Program]) -> Program:
    """A program that every rig of any of these keeps; they have the same rows by name and the same options."""
    first = programs[0]
    if len(programs) == 1:
        return first
    rows, rhs = first.rows.copy(), first.rhs.copy()
    for program in programs[1:]:
        np.minimum(rows, program.rows, out=rows)
        np.maximum(rhs, program.rhs, out=rhs)
    return replace(first, rows=rows, rhs=rhs, reads=(), memo={}, cores={})
