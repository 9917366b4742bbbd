"""First steps, rooms and changes of a rig in words.

Contents: `value_words` (a value of a requirement), `swap_words` (what changes from one rig to another), `step_lines`,
`room_lines`.
"""

from __future__ import annotations

import re
from collections import Counter

from solver.answers.facts import Line
from solver.answers.steps_facts import Side, Step, Swap
from solver.brief.requirements import REQUIREMENTS, Kind, Requirement
from solver.quantities import from_unit, to_unit
from solver.report.layout import Table, bullet, paragraph
from solver.report.pick_text import amount
from solver.rules.sentence import SI_UNIT

SI = {**SI_UNIT, "gal/kWh": "L/kWh", "lb/gal": "kg/L"}
_WRITTEN = {"delta_degF": "degF", "standard_L/s": "L/s free air", "1": "", "day": "days", "week": "weeks"}
KIT_WORDS = {"safety_item": "safety items", "tool": "tools", "spare_part": "spares", "winter_kit": "winter kit"}
_COUNTS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_SECTION = re.compile(r"(\d+) x (\d+ ft)")
_MARGINS = (
    "Margins are kept for a reason: the following take from what is held in hand against bad days, wrong figures and worn "
    "parts."
)
_FEW = 2
"""Small things that are named one by one."""
_NOTHING = 0.005
NO_ROOM, ALL_THE_WAY = "none", "any"


def value_words(value: float, requirement: Requirement, units: str = "us") -> str:
    """A value of a requirement with its unit.

    Examples
    --------
    >>> value_words(180.4, REQUIREMENTS["hose_reach"]), value_words(80000.0, REQUIREMENTS["budget"])
    ('180.4 ft', '$80,000')
    >>> value_words(180.4, REQUIREMENTS["hose_reach"], "si"), value_words(2.0, REQUIREMENTS["outlets"])
    ('55.0 m', '2')
    """
    unit = requirement.unit
    if unit == "USD":
        return f"${value:,.0f}"
    target = SI.get(unit, unit) if units == "si" else unit
    if target != unit:
        found = float(to_unit(from_unit(value, unit), target))
        text = f"{found:,.1f}" if abs(found) >= 10 else f"{found:.3g}"
    else:
        text = f"{round(value, 3):,.10g}"
    return f"{text} {_WRITTEN.get(target, target)}".strip()


def way_words(requirement: str, duties: tuple[str, ...], several: bool) -> str:
    """The requirement by its title, and where it is changed: nothing more where the brief has one duty only."""
    title = REQUIREMENTS[requirement].title
    if not duties or not several:
        return title
    return f"{title} in {' and '.join(duties)}" if len(duties) < 3 else f"{title} in all of {', '.join(duties)}"


# --- what changes -----------------------------------------------------------------------------------------------------
def swap_words(swaps: tuple[Swap, ...], by: str = "price", units: str = "us") -> str:
    """What changes, slot by slot, with what each is worth; small kit together, then what is only wired otherwise."""
    kit = tuple(swap for swap in swaps if any(line.item_class in KIT_WORDS for line in (swap.before, swap.after) if line))
    rewired = [swap for swap in swaps if only_wiring(swap)]
    found = [_swap(swap, by, units) for swap in swaps if swap not in kit and swap not in rewired]
    if kit:
        found.append(_kit_words(kit, by, units))
    if rewired:
        found.append(f"{_counted(len(rewired))} wired otherwise")
    return "; ".join(found) or "nothing"


def _counted(number: int) -> str:
    return _COUNTS[number] if number < len(_COUNTS) else str(number)


def _worth(swaps: tuple[Swap, ...], by: str, units: str) -> str:
    """What the swaps are worth in money, or in weight where that is made least: " (-$690)"; nothing where it is nothing."""
    sign = [(swap.after, 1.0) for swap in swaps] + [(swap.before, -1.0) for swap in swaps]
    moved = sum(way * (line.weight if by == "weight" else line.price) for line, way in sign if line is not None)
    text = amount(abs(moved), "weight" if by == "weight" else "price", units)
    return "" if abs(moved) < _NOTHING else f" ({'+' if moved > 0 else '-'}{text})"


def only_wiring(swap: Swap) -> bool:
    before, after = swap.before, swap.after
    return bool(before and after and before.item == after.item and before.count == after.count and not _sections(after))


def _sections(line: Line) -> Counter[str]:
    found: Counter[str] = Counter()
    for number, length in _SECTION.findall(line.choice):
        found[length] += int(number)
    return found


def _short(line: Line, other: Line | None = None) -> str:
    """The item in a few words of its label, those in which it differs from another, and its id."""
    first, *parts = line.label.split(", ")
    known = other.label.split(", ") if other is not None and other.label.split(", ")[0] == first else []
    own = [part for part in parts if part not in known] or parts
    return f"{', '.join([first, *own[:1]])} [{line.item}]"


def _swap(swap: Swap, by: str, units: str) -> str:
    before, after = swap.before, swap.after
    worth = _worth((swap,), by, units)
    slot = swap.slot.replace("_", " ")
    if before is None or after is None:
        if after is not None:
            return f"with a {slot}: {_short(after)}{worth}"
        return f"without the {slot}{worth}"
    sections = _section_words(before, after)
    if before.item != after.item:
        return f"{_short(after, before)} instead of {before.item}{f', {sections}' if sections else ''}{worth}"
    return (sections or f"{slot}: {after.choice} instead of {before.choice}") + worth


def _section_words(before: Line, after: Line) -> str:
    """Sections of hose that are more or less: "one 50 ft section less"."""
    old, new = _sections(before), _sections(after)
    words = []
    for length in sorted(old | new, key=lambda text: -int(text.split()[0])):
        more = new[length] - old[length]
        if more:
            many = "s" if abs(more) > 1 else ""
            words.append(f"{_counted(abs(more))} {length} section{many} {'more' if more > 0 else 'less'}")
    return " and ".join(words)


def _kit_words(kit: tuple[Swap, ...], by: str, units: str) -> str:
    """Small things: named where they are few, else by their kinds."""
    worth = _worth(kit, by, units)
    old = [swap.before.item for swap in kit if swap.before and not swap.after]
    new = [swap.after.item for swap in kit if swap.after and not swap.before]
    if len(kit) <= _FEW:
        return f"{' and '.join(new) or 'nothing'} instead of {' and '.join(old) or 'nothing'}{worth}"
    kinds = {line.item_class for swap in kit for line in (swap.before, swap.after) if line}
    return f"other {', '.join(title for kind, title in KIT_WORDS.items() if kind in kinds)}{worth}"


# --- steps and rooms --------------------------------------------------------------------------------------------------
def step_lines(steps: tuple[Step, ...], by: str, width: int, units: str = "us") -> list[str]:
    """Every first step, the largest saving first: the value, what it saves, what changes."""
    several = _several(steps)
    entries = [(step, side) for step in steps for side in step.sides if side.step is not None]
    entries.sort(key=lambda entry: (_margin(entry[0]), -entry[1].step.saving if entry[1].step else 0.0))
    if not entries:
        return paragraph("No single requirement that is eased alone, as far as makes sense, saves anything.", width)
    lines = paragraph(
        "The nearest value of each requirement at which the best rig is better, everything worked out anew, and what "
        "changes. Savings do not add up. Of several such rigs the one is told that differs least from the best one now.",
        width,
    )
    told = False
    for step, side in entries:
        if _margin(step) and not told:
            lines += paragraph(_MARGINS, width)
            told = True
        lines += bullet(_step_words(step, side, by, units, several), width)
    return lines


def _margin(step: Step) -> bool:
    return REQUIREMENTS[step.requirement].kind is Kind.MARGIN


def _several(steps: tuple[Step, ...]) -> bool:
    return len({name for step in steps for name in step.duties}) > 1


def _step_words(step: Step, side: Side, by: str, units: str, several: bool) -> str:
    requirement = REQUIREMENTS[step.requirement]
    first = side.step
    if first is None:
        return ""
    name = way_words(step.requirement, step.duties, several)
    now, value = value_words(step.present, requirement, units), value_words(first.value, requirement, units)
    way = "up" if side.upwards else "down"
    saving, changes = amount(first.saving, by, units), swap_words(first.swaps, by, units)
    return f"{name}, now {now}: from {value} {way} saves {saving}: {changes}."


def room_lines(steps: tuple[Step, ...], width: int, units: str = "us") -> list[str]:
    """How far each requirement may go at no cost, and how far the very rig holds; site facts have the latter only."""
    several = _several(steps)
    rows, free, lower = [], [], False
    for step in steps:
        requirement = REQUIREMENTS[step.requirement]
        name = way_words(step.requirement, step.duties, several)
        for side in step.sides:
            if side.holds_to is None:
                continue
            way = "up" if side.upwards else "down"
            if side.holds_to_end and (side.room is None or side.room_to_end):
                free.append(f"{name} {way}")
                continue
            lower |= side.cheaper_beyond
            rows.append((
                name,
                value_words(step.present, requirement, units),
                way,
                _reach(step.present, side.room, side.room_to_end, requirement, units) + "*" * side.cheaper_beyond,
                _reach(step.present, side.holds_to, side.holds_to_end, requirement, units),
            ))  # fmt: skip
    lines: list[str] = []
    if rows:
        lines += paragraph("How far each may go alone. Up to the value of its grid under \"same cost to\" the least cost "
                           "stays the same; up to the one under \"this rig to\" the very rig fits.", width)  # fmt: skip
        headings = ("requirement", "now", "way", "same cost to", "this rig to")
        lines += ["", *Table(headings, rows, "<><>>", flexible=0).lines(width)]
    if lower:
        lines += ["", *paragraph("* Beyond it the least cost is lower.", width)]
    if free:
        lines += ["", *paragraph(f"At no cost as far as makes sense, with this very rig: {'; '.join(free)}.", width)]
    return lines


def _reach(present: float, value: float | None, to_end: bool, requirement: Requirement, units: str) -> str:
    if value is None:
        return ""
    if to_end:
        return ALL_THE_WAY
    return NO_ROOM if value == present else value_words(value, requirement, units)
