"""check: a rig chosen by hand against every rule, all balances and all failures at once, without the engine.

Contents: `check`, `Checked`. What to do about a rig that fails or is not whole: `mend.py` and `complete.py`.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from solver.answers.ask import ask
from solver.answers.facts import Line, MoneyFacts, Totals
from solver.answers.failing import failing
from solver.answers.money import money_facts
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
    money: MoneyFacts


def check(catalog: Catalog, brief: Brief, rig_path: Path) -> Checked:
    """Judge the rig in the file by every rule that the brief asks for. The engine is not loaded.

    A rig fits if and only if every integer row holds, exactly as for a picked one.

    Parameters
    ----------
    catalog : Catalog
        What can be bought, from `read_catalog`.
    brief : Brief
        What is asked, from `read_brief`.
    rig_path : Path
        The rig: YAML, or what `rigset pick --json` prints.

    Raises
    ------
    InputError
        Every mistake of the rig file.
    """
    asked = ask(catalog, brief)
    rig = read_rig(rig_path, asked)
    balances = asked.balances(rig)
    failures = failing(asked, rig)
    return Checked(
        brief.title,
        not failures,
        asked.totals(rig),
        asked.lines(rig),
        balances,
        failures,
        cautions(brief, chosen(asked.setting, rig), balances),
        brief.assumed(),
        tuple(brief.waived),
        money_facts(asked, rig),
    )
