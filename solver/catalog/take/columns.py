"""Which column is which field of a class; what is not plain becomes a question.

Contents: `columns_of`, `missing_headings`.

A column is taken without asking where its heading is a name of a field (`words.py`) and, for a figure, names a unit of
the right dimension or holds figures that all do. Two columns for one field, a unit that does not fit and a heading that
is only like a name are asked about. A column that is like nothing is left aside, and said so.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from difflib import get_close_matches

from solver.catalog.base import Item
from solver.catalog.take.headings import Column, Headed, Question, Said, flat, headed_at, ways_of
from solver.catalog.take.sheet import Cell, Row, Sheet, letter_of
from solver.catalog.take.units import choices_of, is_unit, unit_in
from solver.catalog.take.values import needs_unit
from solver.catalog.take.words import CODES, names_of, plain


def columns_of(
    sheet: Sheet, at: int, data: Sequence[Row], model: type[Item], said: Sequence[Said], units: Row | None
) -> tuple[list[Column], list[Question]]:
    """Every column with a heading or with data, and what is to be asked."""
    row = sheet.rows[at]
    above = sheet.rows[at - 1] if at and sheet.rows[at - 1].number == row.number - 1 else None
    width = max([len(row.cells), *(len(one.cells) for one in data)])
    headed = [headed_at(index, row, above, model, units) for index in range(width)]
    mapped = {column: one for one in said for column in _meant(one, headed)}
    columns, questions = [], []
    taken = {one.field for one in mapped.values()}
    claims: dict[str, list[Headed]] = {}
    for one in headed:
        if one.index not in mapped and len(one.fields) == 1:
            claims.setdefault(next(iter(one.fields)), []).append(one)
    sure = {f for f, ones in claims.items() if len(ones) == 1 and f not in taken}
    for one in headed:
        cells = [line.cell(one.index) for line in data]
        if one.index in mapped:
            column, question = _by_hand(one, mapped[one.index], model, cells)
        else:
            column, question = _by_name(one, model, cells, claims, taken, sure)
        if one.heading or any(cell.text or cell.wrong for cell in cells):
            columns.append(column)
        questions.extend(question)
    return columns, questions


def _meant(one: Said, headed: Sequence[Headed]) -> list[int]:
    """Columns that a person means: `column C`, a whole heading, or a heading without its unit."""
    wanted = flat(one.heading)
    found = [h.index for h in headed if h.heading and flat(h.heading) == wanted]
    if not found:
        found = [h.index for h in headed if f"column {letter_of(h.index)}".casefold() == wanted]
    if not found:
        found = [h.index for h in headed if h.heading and plain(one.heading) in {name for name, _ in ways_of(h.heading)}]
    return found


def missing_headings(said: Sequence[Said], columns: Sequence[Column]) -> Iterator[tuple[str, str]]:
    """Headings that were mapped and are not there, with the nearest that is."""
    headed = [Headed(column.index, column.heading, frozenset(), "") for column in columns]
    known = [column.heading for column in columns if column.heading]
    for one in said:
        if not _meant(one, headed):
            near = get_close_matches(one.heading, known, 1, 0.5)
            yield one.heading, near[0] if near else ""


def _quoted(one: Headed, columns: int) -> str:
    """The heading as `--map` takes it; the column's letter where the heading is not the only one or cannot be typed."""
    text = one.heading
    return f"column {letter_of(one.index)}" if columns > 1 or not text or set(text) & set('"$`\\!=') else text


def _by_hand(one: Headed, said: Said, model: type[Item], cells: Sequence[Cell]) -> tuple[Column, list[Question]]:
    """A column that a person has mapped."""
    if said.field == "-":
        return Column(one.index, one.heading, aside="left aside as --map says", by_hand=True), []
    quantity = model.quantity(said.field)
    units = [unit for _, unit in ways_of(one.heading) if quantity and unit_in(unit, quantity.dimension)]
    unit = said.unit or next(iter(units), one.unit)
    column, questions = _measured(replace(one, fields=frozenset({said.field}), unit=unit), model, cells, said.heading)
    return replace(column, by_hand=True), questions


def _by_name(
    one: Headed, model: type[Item], cells: Sequence[Cell], claims: dict[str, list[Headed]], taken: set[str], sure: set[str]
) -> tuple[Column, list[Question]]:
    """A column that is known by its heading, or is not."""
    empty = not any(cell.text or cell.wrong for cell in cells)
    aside = Column(one.index, one.heading)
    if not one.heading:
        return replace(aside, aside="it has no heading"), []
    if plain(one.heading) in CODES:
        return replace(aside, aside="a code of a maker or dealer is never made an id"), []
    if len(one.fields) == 1:
        (field,) = one.fields
        rivals = claims[field]
        if field in taken:
            return replace(aside, aside=f"{field} is another column's, as --map says"), []
        if len(rivals) == 1:
            return _measured(one, model, cells, _quoted(one, 1))
        return replace(aside, aside=f"one of {len(rivals)} columns for {field}"), _rivals(one, field, rivals)
    near = [] if empty else _near(one, model, taken | sure)
    if near:
        options = tuple(f'--map "{_quoted(one, 1)}={field}"' for field in (*near, "-"))
        about = f'column {letter_of(one.index)} "{one.heading}" may be {" or ".join(near)}, or none of the class'
        return replace(aside, aside="not sure what it is"), [Question(about, options)]
    return replace(aside, aside=f"no field of the class {model.class_name} is called so"), []


def _rivals(one: Headed, field: str, rivals: Sequence[Headed]) -> list[Question]:
    """One question for all columns that claim a field, put at the first of them."""
    if one is not rivals[0]:
        return []
    same = len({flat(rival.heading) for rival in rivals})
    names = [_quoted(rival, 1 if same == len(rivals) else 2) for rival in rivals]
    shown = ", ".join(f'{letter_of(rival.index)} "{rival.heading}"' for rival in rivals)
    return [Question(f"columns {shown} are all {field}", tuple(f'--map "{name}={field}"' for name in names))]


def _near(one: Headed, model: type[Item], without: set[str]) -> list[str]:
    """Fields of a name that is like the heading, and whose dimension its unit has."""
    names = names_of(model)
    if len(one.fields) > 1:
        return sorted(one.fields - without)
    found: list[str] = []
    for name, unit in ways_of(one.heading):
        words = set(name.split())
        like = get_close_matches(name, names, 4, 0.8)
        like += [other for other in names if len(other) > 3 and set(other.split()) <= words]
        for field in sorted({field for other in like for field in names[other]}):
            quantity = model.quantity(field)
            fits = not is_unit(unit) or (quantity is not None and unit_in(unit, quantity.dimension) is not None)
            if fits and field not in without and field not in found:
                found.append(field)
    return found[:3]


def _measured(one: Headed, model: type[Item], cells: Sequence[Cell], name: str) -> tuple[Column, list[Question]]:
    """The column of a field with its unit; a question if bare numbers stand in it and it names none."""
    (field,) = one.fields
    column = Column(one.index, one.heading, field)
    quantity = model.quantity(field)
    if quantity is None:
        return column, []
    unit = unit_in(one.unit, quantity.dimension) if one.unit else None
    if unit or not any(needs_unit(cell) for cell in cells):
        return replace(column, unit=unit or ""), []
    what = f"in {one.unit}, which is no unit of its kind" if one.unit else "without a unit"
    about = f'column {column.letter} "{one.heading}" is {field} {what}'
    choices = choices_of(quantity.dimension, quantity.unit)
    return column, [Question(about, tuple(f'--map "{name}={field} {choice}"' for choice in choices))]
