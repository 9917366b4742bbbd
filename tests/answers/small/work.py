"""How often an answer puts a question to the engine: what is known already and saves one is seen in nothing else.

Contents: `counted` (an answer and its questions), `COUNTED` (answers that are worked out from nothing each time), `most`,
`PATH`. The counts are upper bounds: an answer may ask less often than it did, not more.
"""

from __future__ import annotations

import json
from typing import Any

import solver.search.engine
from tests.answers.small.world import ANSWERS, FOLDER

PATH = FOLDER / "work.json"
COUNTED = tuple(name for name in ANSWERS if name.startswith(("why_", "rivals_", "kinds_", "insist_", "frontier_", "curve_",
                                                             "whatif_", "robust_")))  # fmt: skip
"""The others take over a rig that was picked before."""


def counted(name: str) -> tuple[Any, int]:
    """An answer, and how many questions the engine was asked for it."""
    asked = []
    model = solver.search.engine._model

    def told(*given: Any) -> Any:
        asked.append(1)
        return model(*given)

    solver.search.engine._model = told
    try:
        return ANSWERS[name](), len(asked)
    finally:
        solver.search.engine._model = model


def most(name: str) -> float:
    """Questions that an answer may put to the engine."""
    counts: dict[str, int] = json.loads(PATH.read_text(encoding="utf-8"))
    return counts[name] if name in COUNTED else float("inf")
