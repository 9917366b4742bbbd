"""Where the headings stand, and what each of them says: a name, a unit, fields of the class that are called so.

Contents: `Column`, `Question`, `Said` (a heading mapped by hand), `Headed`; `heading_row`, `headings_in`, `units_row`;
`named`, `ways_of`, `headed_at` (a column's heading with that of its group), `flat`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

from solver.catalog.base import Item, item_classes
from solver.catalog.take.sheet import Cell, Row, Sheet, letter_of
from solver.catalog.take.units import is_unit, unit_in
from solver.catalog.take.values import says_nothing
from solver.catalog.take.words import names_of, parts_of, plain

_DEEPEST = 60
"""Rows from the top among which the headings are looked for."""


@dataclass(frozen=True)
class Column:
    """A column of the table and what was made of it."""

    index: int
    heading: str
    """What stands over it, with the heading of its group."""
    field: str = ""
    """The field, empty if it is left aside."""
    unit: str = ""
    """The unit of its bare numbers."""
    aside: str = ""
    """Why it is left aside, if it is."""
    by_hand: bool = False
    """Whether it was mapped by hand."""

    @property
    def letter(self) -> str:
        """Its letter in the spreadsheet."""
        return letter_of(self.index)


@dataclass(frozen=True)
class Question:
    """Something that only the person who has the list can say, and the options that would say it."""

    about: str
    """What is unsure, in a sentence."""
    options: tuple[str, ...]
    """Options of the command, any one of which answers it."""


@dataclass(frozen=True)
class Said:
    """What a person said of a column: `--map "Wt=weight lb"`."""

    heading: str
    field: str
    """A field, or `-` to leave the column aside."""
    unit: str = ""


@dataclass(frozen=True)
class Headed:
    """A column's heading as it can be read: name and unit, and fields that have this name."""

    index: int
    heading: str
    fields: frozenset[str]
    unit: str
    """The unit's text as it stands; empty if there is none."""


@lru_cache(maxsize=4096)
def ways_of(heading: str) -> tuple[tuple[str, str], ...]:
    return tuple((plain(name), unit) for name, unit in parts_of(heading))


@lru_cache(maxsize=16384)
def named(heading: str, model: type[Item]) -> tuple[frozenset[str], str]:
    """Fields that a heading names outright, and the text of its unit."""
    names = names_of(model)
    misfit: tuple[frozenset[str], str] = frozenset(), ""
    for name, unit in ways_of(heading):
        fields = names.get(name, frozenset())
        if not unit and fields:
            whole = {f for f in fields if (q := model.quantity(f)) and unit_in(heading, q.dimension)}
            return fields, heading if whole else ""
        fitting = {f for f in fields if (q := model.quantity(f)) and unit_in(unit, q.dimension)}
        if fitting:
            return frozenset(fitting), unit
        quantities = frozenset(f for f in fields if model.quantity(f))
        if quantities and not misfit[0] and heading.rstrip().endswith((")", "]")):
            misfit = quantities, unit
    return misfit


def headings_in(row: Row, models: Sequence[type[Item]] = ()) -> int:
    """How many cells of a row are headings of one class, of the class for which they are most."""
    texts = [cell.text for _, cell in row.filled() if cell.text and not cell.number and len(cell.text) <= 80]
    found = 0
    for model in models or tuple(item_classes().values()):
        fields = [named(text, model)[0] for text in texts]
        found = max(found, len({min(names) for names in fields if names}))
    return found


def heading_row(sheet: Sheet, models: Sequence[type[Item]], said: Sequence[Said]) -> int:
    """Position among the sheet's rows of the one with the most headings, the first of equals; -1 if there is none."""
    by_hand = {flat(one.heading) for one in said}
    best, found = 0, -1
    for at, row in enumerate(sheet.rows[:_DEEPEST]):
        score = headings_in(row, models) + sum(flat(cell.text) in by_hand for _, cell in row.filled())
        if score > best:
            best, found = score, at
    return found + 1 if found >= 0 and _goes_on(sheet, found) else found


def _goes_on(sheet: Sheet, at: int) -> bool:
    """Whether the headings are two rows, the lower one under merged cells of this one."""
    if at + 1 >= len(sheet.rows) or sheet.rows[at + 1].number != sheet.rows[at].number + 1:
        return False
    row, below = sheet.rows[at], sheet.rows[at + 1]
    under = [column for column, _ in below.filled() if row.cell(column).shared]
    return bool(under) and not any(cell.number or cell.wrong for _, cell in below.filled())


def units_row(row: Row) -> bool:
    """Whether a row says nothing but units."""
    cells = [cell for _, cell in row.filled()]
    texts = [cell.text.strip("()[] ") for cell in cells if not says_nothing(cell)]
    return (
        bool(texts)
        and not any(cell.number or cell.wrong for cell in cells)
        and any(is_unit(text) for text in texts)
        and all(is_unit(text) or text.lower() in ("text", "unit", "units") for text in texts)
    )


def headed_at(index: int, row: Row, above: Row | None, model: type[Item], units: Row | None) -> Headed:
    """A column's heading: its own, that of its group before it if that makes it a name, the unit of a row of units."""
    cell = row.cell(index)
    text = " ".join(cell.text.split())
    fields, unit = named(text, model)
    group = above.cell(index) if above else Cell()
    if group.text and (group.shared or not text or is_unit(text)) and (group.shared != cell.shared or not cell.shared):
        ways = [(grouped, *named(grouped, model)) for grouped in _in_group(" ".join(group.text.split()), text)]
        ways.sort(key=lambda way: not _fits(way[2], way[1], model))
        for grouped, found, found_unit in ways:
            if found and (not fields or (not unit and found == fields)):
                text, fields, unit = grouped, found, found_unit
    if units is not None and fields and not unit:
        said = units.cell(index).text
        unit = said if is_unit(said) else ""
    return Headed(index, text, fields, unit)


def _fits(unit: str, fields: frozenset[str], model: type[Item]) -> bool:
    """Whether a unit is one of the dimension of one of these fields."""
    return any((quantity := model.quantity(field)) and unit_in(unit, quantity.dimension) for field in fields)


def _in_group(group: str, text: str) -> Iterator[str]:
    """A heading with that of its group: `L` under `Dimensions (in)` is `Dimensions L (in)`, `lb` under `Weight` is
    `Weight (lb)`."""
    name, group_unit = next((way for way in parts_of(group) if is_unit(way[1])), (group, ""))
    own, own_unit = next((way for way in parts_of(text) if is_unit(way[1])), (text, ""))
    unit = own_unit or group_unit
    yield f"{name} {own} ({unit})" if text and unit else f"{group} {text}".strip()
    if is_unit(text):
        yield f"{group} ({text})"


def flat(text: str) -> str:
    return " ".join(text.split()).casefold()
