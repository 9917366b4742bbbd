"""Twenty small random catalogs and briefs, written into files, read and picked: against HiGHS and against all rigs judged by
the rules' own terms; and in each case one change of the files that must not matter, or matter one way only.

The same laws by the hundred: `python -m tests.bench.many_oracles`.
"""

from __future__ import annotations

import pytest

from tests.laws.file_laws import LAWS
from tests.laws.law_case import LawCase
from tests.laws.laws_of_rows import at_resolutions

AGAINST = ("equals_highs", "equals_every_rig", "rules_dropped", "items_forced_or_forbidden")
CHANGES = tuple(name for name in LAWS if name not in AGAINST)
"""One of these a case, in turn: a block of ten sees each of the nine."""
MOST = 3
"""Rules dropped, and items forced and forbidden, in one law of one case."""


def held(case: LawCase, law: str) -> int:
    """Comparisons made; a broken law says where."""
    try:
        return LAWS[law](case)
    except Exception as error:
        error.add_note(f"law {law}, seed {case.seed}: python -m tests.bench.many_oracles --cases 1 --from {case.seed}")
        raise


@pytest.mark.parametrize("block", range(2))
def test_pick_through_files(block, tmp_path):
    found = whole = reasons = 0
    for seed in range(block * 10, (block + 1) * 10):
        case = LawCase(seed, tmp_path / f"{seed}", MOST)
        compared = {law: held(case, law) for law in (*AGAINST, CHANGES[seed % len(CHANGES)])}
        found += case.picked.status == "found"
        whole += case.judge is not None
        reasons += compared["equals_every_rig"] > 10
        assert all(count for law, count in compared.items() if law not in ("equals_every_rig", "check_agrees"))
    assert 2 < found < 10, "a block must hold cases with and without a rig"
    assert whole > 5 and reasons > 2, "most cases must be tried whole, with what each rule saves"


@pytest.mark.parametrize("seed", [3, 18])
def test_coarse_rows_cost_more(seed, tmp_path):
    """Otherwise the law of the resolution could not fail."""
    costs = at_resolutions(LawCase(seed, tmp_path), (40.0, 20.0))
    assert float("inf") > costs[0] > costs[1]
