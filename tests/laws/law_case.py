"""One small random catalog and brief with what was worked out from it, and how two answers are compared.

Contents: `LawCase` (a seed, its files, the answer to pick, all rigs); `cost_of`, `rig_in_words`, `reasons_in_words`, `same`,
`between`.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from functools import cached_property
from math import inf
from pathlib import Path

from solver.answers.ask import Asked
from solver.answers.facts import Picked
from solver.answers.pick import pick
from tests.laws.judge import Judge, TooManyRigs
from tests.laws.little import Little, Read, little, written

UNIT = {"price": 100.0, "weight": 1000.0, "yearly-cost": 100.0}
"""Whole steps of each cost in 1 USD, 1 kg, 1 USD a year."""


@dataclass(frozen=True)
class LawCase:
    """A seed and the folder for its files; at most so many rules or items are tried in one law."""

    seed: int
    folder: Path
    most: int = 1000

    def rng(self, law: str) -> random.Random:
        """What a law draws from."""
        return random.Random(f"{law} {self.seed}")

    @cached_property
    def little(self) -> Little:
        """The text of the files."""
        return little(self.seed)

    @cached_property
    def read(self) -> Read:
        """What is read from them."""
        return written(self.little, self.folder / "given")

    @cached_property
    def picked(self) -> Picked:
        """The answer to pick."""
        return pick(self.read.catalog, self.read.brief)

    @cached_property
    def asked(self) -> Asked:
        """The compiled brief."""
        return self.read.asked()

    @property
    def by(self) -> str:
        """What is made least."""
        return self.asked.by

    @cached_property
    def cost(self) -> float:
        """Cost of the picked rig in whole steps; infinite where none fits."""
        return cost_of(self.picked, self.by)

    @cached_property
    def judge(self) -> Judge | None:
        """All rigs by the rules' terms; None where they are too many."""
        found = Judge(self.asked)
        try:
            return found if len(found.rigs) >= 0 else None
        except TooManyRigs:
            return None

    def other(self, text: Little, name: str) -> Read:
        """Other files, written and read."""
        return written(text, self.folder / name)

    def bought(self) -> list[str]:
        """Items of the rig that are not the owner's, in order."""
        return sorted({line.item for line in self.picked.rig} - set(self.read.brief.owned))

    def left(self) -> list[str]:
        """Items that are not in the rig, not the owner's and no material, in order."""
        ids = {fields["id"] for key, own in self.little.items.items() for fields in own if key != "material"}
        return sorted(ids - {line.item for line in self.picked.rig} - set(self.read.brief.owned))


def cost_of(answer: Picked, by: str) -> float:
    """Cost of an answer in whole steps; infinite where none fits."""
    assert answer.proven, "the answer is not proven"
    if answer.total is None:
        assert answer.status == "none"
        return inf
    totals = {"price": answer.total.price, "weight": answer.total.weight, "yearly-cost": answer.total.yearly_cost}
    return float(round(totals[by] * UNIT[by]))


def rig_in_words(answer: Picked, renamed: dict[str, str] | None = None) -> list[tuple[str, str, str]]:
    """The rig as slot, item and choice; items (and the yes/no slots that bear their names) renamed."""
    new = renamed or {}
    return sorted((new.get(line.slot, line.slot), new.get(line.item, line.item), line.choice) for line in answer.rig)


def reasons_in_words(answer: Picked) -> tuple[list[tuple[str, float]], list[str]]:
    """Binding rules with what each saves, and the rules of the conflict."""
    clashes = [clash.rule for found in answer.conflicts for clash in found.members]
    return sorted((entry.rule, entry.saving) for entry in answer.binding), clashes


def same(found: Picked, expected: Picked, what: str) -> None:
    """The two answers are one: status, rig, totals, what binds with what it saves, what clashes."""
    assert (found.status, rig_in_words(found)) == (expected.status, rig_in_words(expected)), what
    assert found.total == expected.total, what
    assert reasons_in_words(found) == reasons_in_words(expected), what


def between(found: float | None, bounds: tuple[float, float], what: str) -> None:
    """The cost lies between what all rigs allow and what those that surely hold reach; mostly the two are one."""
    cost = inf if found is None else float(found)
    assert bounds[0] <= cost <= bounds[1], f"{what}: {cost}, all rigs say {bounds}"
