"""The answer to whatif, for people: where the answer switches and why, then the cells.

Contents: `whatif_text`.
"""

from __future__ import annotations

from solver.answers.whatif import WhatIf
from solver.answers.whatif_facts import Cell, Swap
from solver.answers.whatif_summary import Switch, rewired, unwired
from solver.answers.whatif_values import Axis
from solver.quantities import to_unit
from solver.report.layout import Table, bullet, heading, paragraph
from solver.report.pick_text import amount, assumed_lines, caution_lines, mass, money
from solver.report.whatif_data import unit_of
from solver.rules.balance import Balance
from solver.rules.sentence import sentence

MOST_SWITCHES = 12
"""Switches told in words; all of them stand in the JSON."""
MOST_CELLS = 30
"""Cells listed; all of them stand in the file and the JSON."""
_BEST = {"price": "cheapest", "weight": "lightest", "yearly-cost": "of least yearly cost"}
_WRITTEN = {"delta_degF": "degF", "1": ""}


def value_words(axis: Axis, value: float | None, units: str) -> str:
    """A value with its unit; "as is" where the brief's own stands."""
    if value is None:
        return "as is"
    unit = unit_of(axis, units)
    if unit == "USD":
        return money(value)
    figure = value if unit == "1" else float(to_unit(value, unit))
    return f"{round(figure, 4):,.10g} {_WRITTEN.get(unit, unit)}".strip()


def whatif_text(found: WhatIf, width: int, units: str = "us") -> str:
    """The whole answer in at most `width` columns."""
    lines = [found.title, ""]
    lines += paragraph(_opening(found, units), width)
    lines += heading("Where the answer switches") + _switch_lines(found, width, units)
    if found.one_at_a_time:
        lines += heading("How far each moves the price") + _tornado(found, units).lines(width)
    lines += heading("Cells") + _cell_lines(found, width, units)
    lines += _invalid_lines(found, width, units)
    lines += assumed_lines(found.assumptions, found.waived, width) + caution_lines(found.cautions, width)
    return "\n".join(lines) + "\n"


def _opening(found: WhatIf, units: str) -> str:
    told = {"found": "with a rig", "none": "where no rig fits", "invalid": "that cannot be said",
            "unknown": "left open by the limit of work"}  # fmt: skip
    counts = {status: sum(cell.status == status for cell in found.cells) for status in told}
    parts = [f"{count:,} {told[status]}" for status, count in counts.items() if count]
    rigs = len({cell.options for cell in found.cells if cell.options})
    base = found.base
    if base.total is not None:
        words = f"The brief as it is: {money(base.total.price)}, {mass(base.total.weight, units)}."
    else:
        words = "The brief as it is: no rig fits." if base.status == "none" else f"The brief as it is: {base.message}."
    several = "each alone around the brief" if found.one_at_a_time else "every combination"
    what = " and ".join(axis.path for axis in found.axes)
    return (
        f"What if {what} were other ({several}): {len(found.cells):,} cell{'s' * (len(found.cells) != 1)}, "
        f"{', '.join(parts)}; {rigs} different rig{'s' * (rigs != 1)}. In each the {_BEST[found.by]} rig, as pick would "
        f"answer. {words}"
    )


def _switch_lines(found: WhatIf, width: int, units: str) -> list[str]:
    if not found.switches:
        return ["Nowhere: one rig answers every cell." if len(found.rigs) == 1 else "Nowhere between neighbouring values."]
    lines: list[str] = []
    told = [switch for switch in found.switches if not _only_rewired(switch)]
    for switch in told[:MOST_SWITCHES]:
        lines += bullet(_switch_words(found, switch, units), width)
    left, same = len(told) - MOST_SWITCHES, len(found.switches) - len(told)
    more = [f"{left:,} further switches, in fewer places: all of them with --json."] if left > 0 else []
    if same:
        more.append(f"{same:,} {'more have' if told else 'have'} the same items on both sides, wired otherwise.")
    return lines + (["", *paragraph(" ".join(more), width)] if more and lines else paragraph(" ".join(more), width))


def _only_rewired(switch: Switch) -> bool:
    return bool(switch.swaps) and all(rewired(swap) for swap in switch.swaps)


def _switch_words(found: WhatIf, switch: Switch, units: str) -> str:
    axis = found.axes[switch.axis]
    low, high = (value_words(axis, value, units) for value in (switch.before, switch.after))
    words = [f"{axis.path} from {low} to {high}{_where(found, switch, units)}: {_prices(switch)}."]
    if switch.breaks_after:
        words.append(f"The rig of {low} does not do for {high}: {_reasons(switch.breaks_after, units)}")
    if switch.breaks_before:
        words.append(f"The rig of {high} would not have done for {low}: {_reasons(switch.breaks_before, units)}")
    if switch.swaps:
        words.append(swap_words(switch.swaps))
    for rules, text in ((switch.came, "Binds now"), (switch.gone, "No longer binds")):
        if rules:
            words.append(f"{text}: {', '.join(rules)}.")
    return " ".join(words)


def _where(found: WhatIf, switch: Switch, units: str) -> str:
    others = [k for k in range(len(found.axes)) if k != switch.axis]
    if found.one_at_a_time or not others:
        return ""
    if switch.places == switch.of:
        return " (whatever the others)" if switch.of > 1 else ""
    cell = found.cells[switch.numbers[0] - 1]
    first = ", ".join(f"{found.axes[k].path} {value_words(found.axes[k], cell.values[k], units)}" for k in others)
    if switch.places == 1:
        return f" (at {first})"
    return f" (in {switch.places:,} of {switch.of:,} settings of the others, first at {first})"


def _prices(switch: Switch) -> str:
    if switch.status[1] == "none":
        return f"no rig fits any more (it cost {money(switch.price[0] or 0.0)})"
    if switch.status[0] == "none":
        return f"a rig fits, at {money(switch.price[1] or 0.0)}"
    before, after = switch.price
    if before is None or after is None:
        return f"from {switch.status[0]} to {switch.status[1]}"
    if before == after:
        return f"another rig at the same {money(after)}"
    return f"{money(before)} becomes {money(after)} ({'+' if after > before else ''}{money(after - before)})"


def _reasons(balances: tuple[Balance, ...], units: str) -> str:
    shown = [f"{balance.place.rule} {sentence(balance, units)}" for balance in balances[:2]]
    more = f" And {', '.join(b.place.rule for b in balances[2:])}." if len(balances) > 2 else ""
    return " ".join(shown) + more


def swap_words(swaps: tuple[Swap, ...]) -> str:
    """Slots that hold another item, in words; kit is counted where there is much of it, and what is wired otherwise named."""
    kit = [swap for swap in swaps if "-" in swap.slot]
    wired = [swap for swap in swaps if swap not in kit and rewired(swap)]
    main = [swap for swap in swaps if swap not in kit and swap not in wired]
    words = [f"{swap.slot.replace('_', ' ')}: {_swap(swap)}" for swap in main]
    if len(kit) <= 2:
        words += [_swap(swap) for swap in kit]
    else:
        words.append(f"{len(kit)} pieces of kit are others")
    if wired:
        words.append(f"wired otherwise: {', '.join(swap.slot.replace('_', ' ') for swap in wired)}")
    return f"Changes: {'; '.join(words)}."


def _swap(swap: Swap) -> str:
    before, after = unwired(swap.before), unwired(swap.after)
    if not before:
        return f"{after} added"
    return f"{after} instead of {before}" if after else f"{before} left out"


def _tornado(found: WhatIf, units: str) -> Table:
    """Lowest and highest price that each requirement alone leads to, the widest span first."""
    rows = []
    for k, axis in enumerate(found.axes):
        own = [cell for cell in found.cells if cell.values[k] is not None]
        priced = sorted((c.total.price, c.values[k] or 0.0) for c in own if c.total is not None)
        nothing = sum(cell.status == "none" for cell in own)
        if priced:
            (low, at_low), (high, at_high) = priced[0], priced[-1]
            spans = (
                f"{money(low)} at {value_words(axis, at_low, units)}",
                f"{money(high)} at {value_words(axis, at_high, units)}",
            )
            rows.append((high - low, axis.path, *spans, money(high - low), str(nothing)))
        else:
            rows.append((0.0, axis.path, "-", "-", "-", str(nothing)))
    rows.sort(key=lambda row: -row[0])
    return Table(("requirement", "least", "most", "span", "no rig"), [row[1:] for row in rows], "<>>>>", flexible=0)


def _cell_lines(found: WhatIf, width: int, units: str) -> list[str]:
    shown = found.cells[:MOST_CELLS]
    rows = [_row(found, cell, units) for cell in (found.base, *shown)]
    binds = "binds most, or clashes" if found.binding == "savings" else "binds, or clashes"
    headings = (*(axis.path for axis in found.axes), "price", "weight", "new", binds)
    align = ">" * len(found.axes) + ">>><"
    lines = paragraph('"New" counts the slots that hold another item than in the rig of the brief as it is.', width)
    lines += ["", *Table(headings, rows, align, flexible=len(headings) - 1).lines(width)]
    if len(found.cells) > MOST_CELLS:
        left = len(found.cells) - MOST_CELLS
        lines += ["", *paragraph(f"{left:,} further cells: all of them with --json, or in a file with --out.", width)]
    return lines


def _row(found: WhatIf, cell: Cell, units: str) -> tuple[str, ...]:
    values = tuple(value_words(axis, value, units) for axis, value in zip(found.axes, cell.values, strict=True))
    if cell.total is None:
        few = ", ".join(cell.conflict[:2]) + (f", {len(cell.conflict) - 2} more" if len(cell.conflict) > 2 else "")
        word = {"none": "no rig", "invalid": "invalid", "unknown": "open"}[cell.status]
        return (*values, word, "", "", few)
    shown = cell.binding[: 1 if found.binding == "savings" else 3]
    binds = ", ".join(rule if saving is None else f"{rule} {amount(saving, found.by, units)}" for rule, saving in shown)
    binds += f", {len(cell.binding) - len(shown)} more" if len(cell.binding) > len(shown) else ""
    changed = "" if cell is found.base else str(sum(not rewired(swap) for swap in cell.changed))
    if not found.base.options:
        changed = ""
    return (*values, money(cell.total.price), mass(cell.total.weight, units), changed, binds)


def _invalid_lines(found: WhatIf, width: int, units: str) -> list[str]:
    wrong: dict[str, list[Cell]] = {}
    for cell in found.cells:
        if cell.message:
            wrong.setdefault(cell.message, []).append(cell)
    lines: list[str] = []
    for message, cells in wrong.items():
        values = ", ".join(
            f"{axis.path} {value_words(axis, value, units)}" for axis, value in zip(found.axes, cells[0].values, strict=True)
        )
        more = f" and {len(cells) - 1:,} more" if len(cells) > 1 else ""
        lines += bullet(f"{values}{more}: {message}", width)
    return heading("Cells without an answer") + lines if lines else []
