"""The generated pages of the manual that describe the files, written from the program itself.

Contents: `pages` (every generated page by file name), `blocks` (parts of hand-written pages by name).
`rule_pages.py` has the pages of rules and formulas, `command_pages.py` that of the commands; `worked.py`, `method_blocks.py`
and the example study `study.py` write the blocks.
"""

from __future__ import annotations

import inspect
from functools import cache
from pathlib import Path
from typing import Literal, get_args, get_origin

from docs.command_pages import commands_page
from docs.markdown import WRITTEN, anchor, table
from docs.method_blocks import method_blocks
from docs.performance_page import performance_blocks, performance_page
from docs.published_page import published_page
from docs.rule_pages import formulas_page, rules_page
from docs.study import study
from docs.worked import worked_blocks
from solver.brief.entries import (
    AirEntry,
    CrewEntry,
    DutyEntry,
    HoursEntry,
    Limits,
    MaterialAboard,
    OvernightEntry,
    RangeEntry,
    ReachEntry,
    SiteEntry,
    Unwanted,
)
from solver.brief.margins import Margins, Money
from solver.brief.models import BriefEntry
from solver.brief.requirements import REQUIREMENTS
from solver.catalog.base import Item, Record, item_classes
from solver.catalog.notes import notes_of
from solver.catalog.reading_errors import expected_of
from solver.options.slots import ACCESSORY_CLASSES, FIXED_SLOTS
from solver.quantities import show

DEMO = Path(__file__).resolve().parents[1] / "catalog_demo"

BRIEF_PARTS: tuple[tuple[str, type[Record]], ...] = (
    ("The brief", BriefEntry), ("materials", MaterialAboard), ("crew", CrewEntry), ("duties", DutyEntry),
    ("hose_reach", ReachEntry), ("air_temperature", AirEntry), ("hours", HoursEntry), ("overnight", OvernightEntry),
    ("site_supply", SiteEntry), ("limits", Limits), ("margins", Margins), ("money", Money), ("unwanted", Unwanted),
    ("ranges", RangeEntry),
)  # fmt: skip


_TITLES = {model: title for title, model in BRIEF_PARTS}


def _expected(model: type[Record], key: str, name: str) -> str:
    """What a field wants; mappings of a brief that have a section of their own are named by it."""
    kind = model.model_fields[name].annotation
    many = get_origin(kind) is tuple
    for inner in (kind, *get_args(kind)):
        if inner in _TITLES:
            title = _TITLES[inner]
            return f"{'a list of mappings' if many else 'a mapping'}: [{title}](#{anchor(title)})"
    if get_origin(kind) is dict:
        return "a mapping from names to lists"
    if many and get_args(kind)[0] is str and not model.model_fields[name].metadata:
        return "a list of words"
    if many and get_origin(get_args(kind)[0]) is Literal:
        return f"a list of {', '.join(get_args(get_args(kind)[0]))}"
    expected = expected_of(model, key)
    return f"a list, each entry {expected}" if many and not expected.startswith("a list") else expected


def _default(model: type[Record], name: str) -> str:
    info = model.model_fields[name]
    if info.is_required():
        return "required"
    default = info.get_default(call_default_factory=True)
    quantity = model.quantity(name)
    if quantity is not None and isinstance(default, float):
        return show(default, quantity.unit)
    if isinstance(default, bool):
        return str(default).lower()
    if isinstance(default, str | int) and default != "":
        return str(default)
    return "each of its own" if isinstance(default, Record) else "none"


def fields_table(model: type[Record], without: frozenset[str] = frozenset()) -> str:
    """All fields of a model: name, what is expected, default, meaning."""
    texts = notes_of(model)
    rows = []
    for name, info in model.model_fields.items():
        if name not in without:
            key = info.alias or name
            rows.append((f"`{key}`", _expected(model, key, name), _default(model, name), texts.get(name, "")))
    return table(("field", "expected", "default", "meaning"), rows)


def _inner_models(model: type[Item]) -> dict[str, type[Record]]:
    """Fields that hold lists of mappings, with the model of the mapping."""
    found = {}
    for name, info in model.model_fields.items():
        for part in getattr(info.annotation, "__args__", ()):
            if isinstance(part, type) and issubclass(part, Record):
                found[name] = part
    return found


def catalog_page() -> str:
    """docs/catalog.md."""
    accessories = ", ".join(f"`{name}`" for name in ACCESSORY_CLASSES)
    lines = [
        WRITTEN + "# Catalog reference\n\n"
        "A catalog is a folder of YAML files. Each has the keys `class` and `items` (and may have a `note`); a class "
        "may be "
        "spread over several files, and the order of files and items changes nothing. Every figure is text with its "
        "unit; "
        "a bare number is refused. `rigset catalog check DIR` reads the whole folder and reports every mistake with "
        "its "
        "file and line.\n\n"
        "## Slots\n\n"
        "A rig fills every slot with exactly one option. Slots marked \"may stay empty\" also take none. Each item "
        "of the "
        f"classes {accessories} is a yes/no slot of its own, named after the item.\n\n"
    ]  # fmt: skip
    filled = {True: "may stay empty", False: "always filled"}
    rows = [(f"`{s.name}`", f"`{s.item_class}`", filled[s.optional]) for s in FIXED_SLOTS]
    lines.append(table(("slot", "class", ""), rows))
    lines.append("\n## Every item\n\n" + fields_table(Item))
    common = frozenset(Item.model_fields)
    for name, model in item_classes().items():
        needed = "A catalog must have at least one." if model.required else "A catalog may have none."
        lines.append(f"\n## {name}\n\n{inspect.getdoc(model)} {needed}\n\n")
        if set(model.model_fields) - common:
            lines.append(fields_table(model, common))
        for field, inner in _inner_models(model).items():
            if field not in ("viscosity_b",):
                lines.append(f"\nEach entry of `{field}`: {inspect.getdoc(inner)}\n\n" + fields_table(inner))
    return "".join(lines)


def brief_page() -> str:
    """docs/brief.md."""
    lines = [
        WRITTEN + "# Brief reference\n\nA brief is one YAML file: the work, the sites, the crew, the limits and "
        "margins, what "
        "is owned and what is unwanted. Every figure is text with its unit. What a brief does not say is taken from "
        "the "
        "defaults below; every margin and every money figure so taken is printed with the answer. `hose_reach` and "
        "`air_temperature` may also be written as one figure.\n\n"
    ]
    lines += [f"## {title}\n\n{inspect.getdoc(model)}\n\n{fields_table(model)}\n" for title, model in BRIEF_PARTS]
    lines.append(
        "## Requirements\n\nEvery number that a person may change, or that the site sets. A wish or a limit can be "
        "changed, "
        "a margin with care, a site fact never. The grid is the step by which it is varied.\n\n"
    )
    rows = []
    for r in REQUIREMENTS.values():
        unit = r.unit if r.unit != "1" else ""
        ends = f"{r.least:g} to {r.most:,g}"
        per = "duty" if r.duty else "brief"
        rows.append((f"`{r.id}`", r.title, r.kind.value, per, unit, f"{r.step:g}", r.easier.value, ends))
    lines.append(table(("id", "what", "kind", "per", "unit", "grid", "easier when", "admissible"), rows))
    return "".join(lines)


@cache
def pages() -> dict[str, str]:
    """Whole pages by file name."""
    return {
        "catalog.md": catalog_page(),
        "brief.md": brief_page(),
        "rules.md": rules_page(DEMO),
        "formulas.md": formulas_page(),
        "commands.md": commands_page(),
        "performance.md": performance_page(),
        "published.md": published_page(),
    }


@cache
def blocks() -> dict[str, str]:
    """Blocks of hand-written pages by name."""
    return method_blocks() | worked_blocks(DEMO) | _study_blocks() | performance_blocks()


def _study_blocks() -> dict[str, str]:
    """The example study, `study.py`, as it stands and as it runs."""
    output = "\n".join(study()).strip()
    return {
        "study-program": f"```python\n{inspect.getsource(inspect.getmodule(study))}```\n",
        "study-output": f"```text\n{output}\n```\n",
    }
