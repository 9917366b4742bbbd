"""The worked example of the method page: one brief, every rule, step by step, with the program's own numbers.

Contents: `worked_blocks`.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from solver.answers.ask import Asked, ask
from solver.brief import read_brief
from solver.catalog import read_catalog
from solver.options.table import OneOption
from solver.report.worksheet_text import worksheet_lines
from solver.rules import RULES
from solver.rules.balance import Balance, Rig, chosen
from solver.rules.instances import Instance
from solver.rules.worksheet import worksheet

BRIEF = "briefs/mountain_winter.yaml"


def _worked(demo: Path) -> tuple[Asked, Rig]:
    catalog = read_catalog(demo / "catalog")
    asked = ask(catalog, read_brief(demo / BRIEF, catalog))
    found = asked.best()
    if found.columns is None:
        raise SystemExit("the brief of the worked example has no rig any more: choose another")
    return asked, asked.rig_of(found.columns)


def _rig_table(asked: Asked, rig: Rig) -> str:
    lines = ["| slot | item | choice | price |", "|---|---|---|---|"]
    for line in asked.lines(rig):
        lines.append(f"| {line.slot.replace('_', ' ')} | {line.label} (`{line.item}`) | {line.choice} | ${line.price:,.0f} |")
    totals = asked.totals(rig)
    lines.append(f"| total | | | ${totals.price:,.0f} |")
    return "\n".join(lines) + "\n"


def _tightest(asked: Asked, balances: tuple[Balance, ...]) -> dict[str, Instance]:
    found: dict[str, tuple[float, Instance]] = {}
    for instance, balance in zip(asked.instances, balances, strict=True):
        if not balance.applies:
            continue
        held = found.get(instance.rule.id)
        if held is None or balance.slack_share < held[0]:
            found[instance.rule.id] = (balance.slack_share, instance)
    return {rule: instance for rule, (_, instance) in found.items()}


def _every_balance(asked: Asked, options: Mapping[str, OneOption], tight: Mapping[str, Instance]) -> str:
    lines = []
    for rule in RULES:
        if rule in tight:
            lines += worksheet_lines(worksheet(asked.setting, tight[rule], options))
    return "```text\n" + "\n".join(lines).strip() + "\n```\n"


def worked_blocks(demo: Path) -> dict[str, str]:
    """The blocks `worked-rig` and `worked-balances` of the method page."""
    asked, rig = _worked(demo)
    tight = _tightest(asked, asked.balances(rig))
    return {
        "worked-rig": _rig_table(asked, rig),
        "worked-balances": _every_balance(asked, chosen(asked.setting, rig), tight),
    }
