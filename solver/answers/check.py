"""check: a rig chosen by hand against every rule, all balances and all failures at once, without the engine.

Contents: `check`, `Checked`.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from solver.answers.ask import ask
from solver.answers.facts import Line, Totals
from solver.answers.rig_file import read_rig
from solver.brief.models import Assumption, Brief
from solver.catalog import Catalog
from solver.rules.balance import Balance, chosen
from solver.rules.cautions import Caution, cautions


@dataclass(frozen=True)
class Checked:
    """Every balance of the rig; `failures` are those that do not hold, the worst first."""

    title: str
    fits: bool
    total: Totals
    rig: tuple[Line, ...]
    balances: tuple[Balance, ...]
    failures: tuple[Balance, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    waived: tuple[str, ...]


def check(catalog: Catalog, brief: Brief, rig_path: Path) -> Checked:
    """Judge the rig in the file by every rule that the brief asks for. The engine is not loaded.

    A rig fits if and only if every integer row holds, exactly as for a picked one.
    """
    asked = ask(catalog, brief)
    rig = read_rig(rig_path, asked)
    balances = asked.balances(rig)
    columns = asked.columns_of(rig)
    failing = asked.program.rows[:, columns].sum(axis=1) > asked.program.rhs
    failures = [balance for balance, fails in zip(balances, failing, strict=True) if fails]
    return Checked(
        brief.title,
        not failures,
        asked.totals(rig),
        asked.lines(rig),
        balances,
        tuple(sorted(failures, key=lambda b: (b.slack_share, b.place))),
        cautions(brief, chosen(asked.setting, rig), balances),
        brief.assumed(),
        tuple(brief.waived),
    )
