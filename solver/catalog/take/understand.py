"""A whole sheet against a class: its table, its columns, what is said for every row, and what must be asked.

Contents: `Wish` (what the person said), `Understood`, `understand`, `read_map`, `read_fill`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from difflib import get_close_matches
from typing import Any

from solver.catalog.base import Item, item_classes
from solver.catalog.notes import notes_of
from solver.catalog.reading_errors import expected_of, model_at
from solver.catalog.take.classes import class_of
from solver.catalog.take.columns import columns_of, missing_headings
from solver.catalog.take.headings import Column, Question, Said, heading_row, units_row
from solver.catalog.take.no_items import no_item
from solver.catalog.take.numbers import Convention, cleaned, only_comma, split_figure
from solver.catalog.take.sheet import Cell, Row, Sheet, file_mistake
from solver.catalog.take.units import unit_in
from solver.catalog.take.values import entry_of, example_of
from solver.errors import EntryError


@dataclass(frozen=True)
class Wish:
    """What a person said of a sheet, on the command line or when asked."""

    class_name: str = ""
    maps: tuple[str, ...] = ()
    """Texts such as `Wt=weight lb`."""
    fills: tuple[str, ...] = ()
    """Texts such as `delivery=4 week`."""
    decimal: str = ""
    """`point`, `comma` or empty."""
    row: int = 0
    """The row of the headings, if it was said."""


@dataclass(frozen=True)
class Understood:
    """What was made of a sheet."""

    sheet: Sheet
    model: type[Item] | None
    """The class; None while it is not known."""
    why: str = ""
    """On what the class stands."""
    heading: Row | None = None
    units: Row | None = None
    """A row of units under the headings."""
    columns: tuple[Column, ...] = ()
    fills: Mapping[str, Any] = field(default_factory=dict)
    """Entries for rows that do not say a field."""
    defaults: tuple[str, ...] = ()
    """Fields that nothing says, whose default is taken."""
    questions: tuple[Question, ...] = ()
    convention: Convention = Convention()
    data: tuple[Row, ...] = ()
    """Rows under the headings."""


def understand(sheet: Sheet, wish: Wish) -> Understood:
    """What a sheet says, as far as it is plain; InputError where what was said does not fit it."""
    name, why, questions = (wish.class_name, "as --class says", []) if wish.class_name else class_of(sheet)
    if not name:
        return Understood(sheet, None, questions=tuple(questions))
    model = _class(name)
    said = [_at_file(sheet, read_map, text, model) for text in wish.maps]
    at = _heading_row(sheet, model, said, wish.row)
    following = sheet.rows[at + 1 :]
    units = following[0] if following and units_row(following[0]) else None
    data = following[1:] if units else following
    items = [row for row in data if not no_item(row, sheet.rows[at], ())]
    columns, questions = columns_of(sheet, at, items, model, said, units)
    for heading, near in missing_headings(said, columns):
        raise file_mistake(sheet.shown, f'no column "{heading}"', "a heading of the table", near, sheet.rows[at].number)
    fields = {column.field for column in columns if column.field}
    convention = Convention(wish.decimal, _doubt(sheet, items, columns, model))
    fills = dict(_at_file(sheet, read_fill, text, model) for text in wish.fills)
    left = [f for f in model.model_fields if f not in fields and f not in fills and f != "id"]
    asked = {one for question in questions for one in _fields_in(question, model)}
    questions += _missing(model, [f for f in left if model.model_fields[f].is_required() and f not in asked])
    defaults = tuple(f for f in left if not model.model_fields[f].is_required())
    return Understood(
        sheet, model, why, sheet.rows[at], units, tuple(columns), fills, defaults, tuple(questions), convention, data
    )


def _class(name: str) -> type[Item]:
    classes = item_classes()
    if name not in classes:
        near = get_close_matches(name.lower().replace("-", "_").replace(" ", "_"), classes, 1, 0.5)
        raise EntryError(f'class "{name}"', f"one of {', '.join(classes)}", near[0] if near else "")
    return classes[name]


def _at_file(sheet: Sheet, read: Any, text: str, model: type[Item]) -> Any:
    try:
        return read(text, model)
    except EntryError as error:
        raise EntryError(f"{error.found} for {sheet.shown}", error.expected, error.advice) from None


def _field(name: str, model: type[Item], text: str) -> str:
    plain = name.strip().lower().replace(" ", "_").replace("-", "_")
    if plain in model.model_fields:
        return plain
    near = get_close_matches(plain, model.model_fields, 1, 0.5)
    raise EntryError(f'the field "{name}" in "{text}"', f"a field of the class {model.class_name}", near[0] if near else "")


def read_map(text: str, model: type[Item]) -> Said:
    """`Heading=field`, `Heading=field unit` or `Heading=-`, as a record; EntryError if it is none."""
    heading, mark, rest = text.rpartition("=")
    if not mark or not heading.strip() or not rest.strip():
        raise EntryError(f'--map "{text}"', "a heading, an equals sign and a field", f'--map "{text.strip("= ")}=price"')
    if rest.strip() == "-":
        return Said(heading.strip(), "-")
    name, _, unit = rest.strip().partition(" ")
    field_name = _field(name, model, text)
    quantity = model.quantity(field_name)
    known = unit_in(unit, quantity.dimension) if quantity and unit else ""
    if known is None or (unit and not quantity):
        wanted = f"a unit for {field_name}, such as {quantity.unit}" if quantity else f"no unit, for {field_name} has none"
        raise EntryError(f'the unit "{unit}" in --map "{text}"', wanted)
    return Said(heading.strip(), field_name, known or "")


def read_fill(text: str, model: type[Item]) -> tuple[str, Any]:
    """`field=value` as the field and its entry; EntryError if it is none."""
    name, mark, value = text.partition("=")
    if not mark:
        raise EntryError(f'--fill "{text}"', "a field, an equals sign and a value", f'--fill "{text}=..."')
    field_name = _field(name, model, text)
    if field_name in ("id", "label"):
        raise EntryError(f'--fill "{text}"', f"each item's own {field_name}, from a column")
    try:
        entry = entry_of(Cell(value.strip()), model, field_name, None, Convention("point"))
    except EntryError as error:
        raise EntryError(f'--fill "{text}" with {error.found}', error.expected, error.advice) from None
    if entry is None:
        raise EntryError(f'--fill "{text}" without a value', expected_of(model, field_name))
    return field_name, entry


def _heading_row(sheet: Sheet, model: type[Item], said: Sequence[Said], row: int) -> int:
    if not row:
        at = heading_row(sheet, [model], said)
        if at < 0:
            expected = f"a row with headings of the class {model.class_name}, such as label, price, weight"
            raise file_mistake(sheet.shown, "no headings", expected, '--row and --map "Heading=field"')
        return at
    for at, one in enumerate(sheet.rows):
        if one.number == row:
            return at
    raise file_mistake(sheet.shown, f"nothing in row {row}", "the row of the headings", "", row)


def _doubt(sheet: Sheet, data: Sequence[Row], columns: Sequence[Column], model: type[Item]) -> str:
    """What speaks for decimal commas in the figures of a sheet."""
    figures = [column.index for column in columns if column.field and model.quantity(column.field)]
    for row in data:
        for index in figures:
            cell = row.cell(index)
            number = "" if cell.number else _number(cell.text)
            if number and only_comma(number):
                return f'row {row.number} has "{cell.text[:20]}"'
    return "semicolons stand between the columns" if sheet.comma_doubt else ""


def _number(text: str) -> str:
    try:
        return split_figure(cleaned(text).lstrip("$ "))[0]
    except EntryError:
        return ""


def _fields_in(question: Question, model: type[Item]) -> Iterator[str]:
    """Fields that a question is about."""
    for option in question.options:
        name = option.rpartition("=")[2].strip('"').partition(" ")[0]
        if name in model.model_fields:
            yield name


def _missing(model: type[Item], names: Sequence[str]) -> list[Question]:
    """A question for each field that a rig needs and that nothing says."""
    notes = notes_of(model)
    questions = []
    for name in names:
        about = f"no column is {name}: {notes.get(name, '')} Expected: {expected_of(model, name)}."
        option = f'--map "HEADING={name}"' if name == "label" else f'--fill "{name}={_sample(model, name)}"'
        questions.append(Question(about, (option,)))
    return questions


def _sample(model: type[Item], name: str) -> str:
    """A value as one might give it; the person is to put the true one."""
    inner = model_at(model, (name,))
    if inner is not model:
        return example_of(inner)
    quantity = model.quantity(name)
    return f"... {quantity.unit}" if quantity else "..."
