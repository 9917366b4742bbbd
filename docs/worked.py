"""The worked example of the method page: one brief, every rule, step by step, with the program's own numbers.

Contents: `worked_blocks`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from docs.markdown import table
from solver.answers.ask import Asked, ask
from solver.brief import read_brief
from solver.catalog import read_catalog
from solver.options.table import OneOption
from solver.report.worksheet_text import worksheet_lines
from solver.rules import RULES
from solver.rules.balance import Balance, Rig, chosen
from solver.rules.instances import Instance
from solver.rules.sentence import sentence
from solver.rules.worksheet import worksheet

BRIEF = "briefs/mountain_winter.yaml"

SUBJECTS: Mapping[str, tuple[str, ...]] = {
    "Material": ("MAT",),
    "Hose and heat": ("HOSE", "HEAT"),
    "Air": ("AIR", "RESP"),
    "Electricity and fuel": ("PWR",),
    "Weight and floor": ("WT", "FIT"),
    "Money and wishes": ("MONEY", "ASK", "OWN"),
}
"""Headings of the worked balances and the first parts of the rule ids under each; all others stand under "Aboard"."""


MOST_SENTENCES = 7
"""Sentences of one rule of yes or no that are written out."""


@dataclass(frozen=True)
class _Tight:
    """The tightest place of one rule, its balance, and every balance of the rule."""

    instance: Instance
    balance: Balance
    all: tuple[Balance, ...]

    @property
    def judged(self) -> str:
        """In how many places the rule is judged."""
        return f"judged in {len(self.all)} places, the tightest shown" if len(self.all) > 1 else "judged in one place"


def _worked(demo: Path) -> tuple[Asked, Rig]:
    catalog = read_catalog(demo / "catalog")
    asked = ask(catalog, read_brief(demo / BRIEF, catalog))
    found = asked.best()
    if found.columns is None:
        raise SystemExit(f"{BRIEF}, the worked example of docs/method.md, has no rig: change it or choose another")
    return asked, asked.rig_of(found.columns)


def _size(asked: Asked) -> str:
    """How large the question is."""
    items = sum(len(held) for held in asked.catalog.classes.values())
    return (
        f"The demo catalog has {items:,} items. They make {asked.program.rows.shape[1]:,} options in "
        f"{len(asked.setting.slots)} slots; this brief lays {len({i.rule.id for i in asked.instances})} of the "
        f"{len(RULES)} rules over them, in {len(asked.instances):,} balances.\n"
    )


def _rig_table(asked: Asked, rig: Rig) -> str:
    rows = [
        (line.slot.replace("_", " "), f"{line.label} (`{line.item}`)", line.choice,
         "owned" if line.owned else f"${line.price:,.0f}")
        for line in asked.lines(rig)
    ]  # fmt: skip
    rows.append(("total", "", "", f"${asked.totals(rig).price:,.0f}"))
    return table(("slot", "item", "choice", "price"), rows)


def _tightest(asked: Asked, balances: tuple[Balance, ...]) -> dict[str, _Tight]:
    found: dict[str, _Tight] = {}
    for instance, balance in zip(asked.instances, balances, strict=True):
        if balance.applies:
            rule = instance.rule.id
            held = found.get(rule)
            every = (*held.all, balance) if held else (balance,)
            if held is None or balance.slack_share < held.balance.slack_share:
                found[rule] = _Tight(instance, balance, every)
            else:
                found[rule] = _Tight(held.instance, held.balance, every)
    return found


def _subject(rule: str) -> str:
    head = rule.rpartition("-")[0]
    return next((title for title, heads in SUBJECTS.items() if head in heads), "Aboard")


def _one_rule(asked: Asked, tight: _Tight, options: Mapping[str, OneOption]) -> Iterator[str]:
    """The working of a rule; its sentences alone for a rule that only asks whether something is there."""
    rule = tight.instance.rule
    if rule.unit == "1":
        wanted = [balance for balance in tight.all if balance.need > 0.0] or tight.all
        told = list(dict.fromkeys(sentence(balance) for balance in wanted))
        more = f" And {len(told) - MOST_SENTENCES} more." if len(told) > MOST_SENTENCES else ""
        yield f"- {rule.id} {rule.title}. {' '.join(told[:MOST_SENTENCES])}{more}\n"
        return
    lines = worksheet_lines(worksheet(asked.setting, tight.instance, options))
    yield f"\n`{rule.id}`, {tight.judged}:\n\n```text\n" + "\n".join(lines).strip() + "\n```\n"


def _every_balance(asked: Asked, options: Mapping[str, OneOption], tight: Mapping[str, _Tight]) -> Iterator[str]:
    for title in (*SUBJECTS, "Aboard"):
        own = [tight[rule] for rule in RULES if rule in tight and _subject(rule) == title]
        counted = sorted(own, key=lambda t: t.instance.rule.unit != "1")
        if own:
            yield f"\n### {title}\n\n"
        for one in counted:
            yield from _one_rule(asked, one, options)
    silent = [rule for rule in RULES if rule not in tight]
    if silent:
        yield f"\nNot asked for by this brief, or not met by this rig: {', '.join(silent)}.\n"


def worked_blocks(demo: Path) -> dict[str, str]:
    """The blocks `worked-size`, `worked-rig` and `worked-balances` of the method page."""
    asked, rig = _worked(demo)
    tight = _tightest(asked, asked.balances(rig))
    return {
        "worked-size": _size(asked),
        "worked-rig": _rig_table(asked, rig),
        "worked-balances": "".join(_every_balance(asked, chosen(asked.setting, rig), tight)),
    }
