"""The generated pages of rules and formulas.

Contents: `rules_page`, `formulas_page`, `formula_docs`.

The formulas that a rule uses are found by running its terms, once, on the demo briefs while formula calls are recorded.
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from docs.markdown import WRITTEN, anchor, table
from solver import formulas
from solver.brief import read_brief
from solver.catalog import read_catalog
from solver.formulas.record import FormulaDoc, describe, is_formula, recording
from solver.options.build import build_options
from solver.rules import RULES
from solver.rules.instances import Instance, Setting, instances
from solver.rules.record import EVERY, Rule, SlotNames

MOST_NAMES = 12
"""Parts of one rule that are listed by name."""


def _met(demo: Path) -> Iterator[tuple[Setting, Instance]]:
    """Every place where a rule is judged in the demo briefs."""
    catalog = read_catalog(demo / "catalog")
    options = build_options(catalog)
    materials = {item.id: item for item in catalog.classes["material"]}
    for path in sorted((demo / "briefs").glob("*.yaml")):
        setting = Setting(read_brief(path, catalog), options, materials)
        for instance in instances(setting):
            yield setting, instance


def _calls(setting: Setting, instance: Instance) -> Iterator[str]:
    """Names of the formulas called by the terms of one instance, those inside of other formulas left out."""
    for term in instance.terms:
        slots = setting.slots_of(term)
        if term.slot is not None and not slots:
            continue
        case = setting.case(instance.case.duty_or_none, instance.case.state, instance.case.end)
        option = setting.slots[slots[0]].one(0) if slots else None
        with recording() as calls:
            term.of(option, case)
        yield from (call.name for call in calls if call.depth == 0)


class _Found:
    """What the demo briefs show of each rule: its terms, its parts, its formulas."""

    def __init__(self, demo: Path) -> None:
        self.terms: dict[str, dict[tuple[str, str, str], None]] = {}
        self.parts: dict[str, dict[str, None]] = {}
        self.formulas: dict[str, dict[str, None]] = {}
        for setting, instance in _met(demo):
            rule = instance.rule.id
            terms = self.terms.setdefault(rule, {})
            for term in instance.terms:
                terms[(term.side.value, _slot(term.slot), term.what)] = None
            if instance.place.part:
                self.parts.setdefault(rule, {})[instance.place.part] = None
            self.formulas.setdefault(rule, {}).update(dict.fromkeys(_calls(setting, instance)))


def _slot(slot: SlotNames) -> str:
    if slot is None:
        return "the brief"
    if slot == EVERY:
        return "every slot"
    names = (slot,) if isinstance(slot, str) else slot
    shown = [name.replace("_", " ") for name in names]
    return ", ".join(shown) if len(shown) <= 6 else f"{', '.join(shown[:5])} and {len(shown) - 5} more"


def _unit(unit: str) -> str:
    return {"1": "counts", "set": "sets", "delta_degF": "degrees F"}.get(unit, unit)


def _where(rule: Rule) -> str:
    if not rule.scope.duties:
        return "once for the rig"
    states = ", ".join(s for s in rule.scope.states if s)
    ends = " and ".join(f"{e}" for e in rule.scope.ends if e)
    return "in each duty" + (f"; {states}" if states else "") + (f"; at the {ends} air" if ends else "")


def _section(rule: Rule, found: _Found) -> Iterator[str]:
    yield f"\n### {rule.id} {rule.title}\n\n"
    yield f"Basis: {rule.basis.value}. Source: {rule.source}. Judged {_where(rule)}, in {_unit(rule.unit)}.\n\n"
    terms = found.terms.get(rule.id) or {(t.side.value, _slot(t.slot), t.what): None for t in rule.terms}
    if terms:
        yield table(("side", "slot", "term"), list(terms)) + "\n"
    yield f"- holds: {rule.words.fits}\n- fails: {rule.words.fails}\n- binds: {rule.words.binds}\n"
    if rule.guard is not None:
        yield f"- counts only if {rule.guard.text}\n"
    parts = list(found.parts.get(rule.id, ()))
    if parts:
        more = f" and {len(parts) - MOST_NAMES} more" if len(parts) > MOST_NAMES else ""
        yield f"- parts: {'; '.join(parts[:MOST_NAMES])}{more}\n"
    names = list(found.formulas.get(rule.id, ()))
    if names:
        yield f"- formulas: {', '.join(f'[`{name}`](formulas.md#{anchor(name)})' for name in names)}\n"
    if rule.effects:
        told = "; ".join(f"`{name}` {effect.value}" for name, effect in sorted(rule.effects.items()))
        yield f"- what raising a requirement does: {told}\n"
    if rule.note:
        yield f"- {rule.note}\n"
    if rule.background:
        yield "- never dropped in an explanation\n"


def rules_page(demo: Path) -> str:
    """docs/rules.md."""
    found = _Found(demo)
    lines = [
        WRITTEN + "# Rule reference\n\nA rig fits if every rule holds in every place where it is judged: the sum of "
        "the needs "
        "is at most the sum of the supplies. Rules of basis *practice* can be waived by the brief. Ids are stable. "
        "In the "
        "sentences, names in braces are filled in with figures. Parts and formulas are those met in the demo "
        "briefs.\n\n"
    ]
    rows = [
        (f"[{r.id}](#{anchor(f'{r.id} {r.title}')})", r.title, r.basis.value, _unit(r.unit), _where(r))
        for r in RULES.values()
    ]
    lines.append(table(("id", "rule", "basis", "unit", "judged"), rows))
    for rule in RULES.values():
        lines.extend(_section(rule, found))
    return "".join(lines)


@cache
def formula_docs() -> dict[str, list[FormulaDoc]]:
    """Every formula by the file that it stands in."""
    found: dict[str, list[FormulaDoc]] = {}
    for module in sorted(info.name for info in pkgutil.iter_modules(formulas.__path__)):
        held = importlib.import_module(f"solver.formulas.{module}")
        own = [f for f in vars(held).values() if is_formula(f) and inspect.unwrap(f).__module__ == held.__name__]
        if own:
            found[module] = [describe(function) for function in own]
    return found


def _formula(doc: FormulaDoc) -> Iterator[str]:
    yield f"\n### {doc.name}\n\n{doc.purpose}\n\n```text\n{doc.formula}\n```\n\n"
    rows = [(f"`{name}`", q.unit, q.text) for name, q in doc.parameters.items()]
    yield table(("parameter", "unit", "meaning"), [*rows, ("result", doc.returns.unit, doc.returns.text)])
    yield f"\n{' '.join(doc.notes.split())}\n\nSource: {doc.source}\n"


def formulas_page() -> str:
    """docs/formulas.md."""
    count = sum(len(docs) for docs in formula_docs().values())
    lines = [
        WRITTEN + f"# Formulas\n\nThe {count} formulas of `solver/formulas/`, with their range, what they neglect "
        f"and their "
        "sources, from their own docstrings. Units are SI; `-` is a pure number or a word. Names of parameters are "
        "those of "
        "the [nomenclature](nomenclature.md).\n"
    ]
    for module, docs in formula_docs().items():
        lines.append(f"\n## {module.replace('_', ' ')}\n")
        for doc in docs:
            lines.extend(_formula(doc))
    return "".join(lines)
