"""From a file to items, or to what must be asked first. The whole of `rigset catalog take`, without the asking.

Contents: `Result`, `take_file`, `answered` (a wish with one more answer).
"""

from __future__ import annotations

import shlex
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from solver.catalog.take.headings import Question
from solver.catalog.take.open import Opening, open_sheets
from solver.catalog.take.place import file_name, known_ids
from solver.catalog.take.rows import Taken, take_rows
from solver.catalog.take.sheet import Sheet, file_mistake
from solver.catalog.take.understand import Understood, Wish, understand
from solver.errors import EntryError, InternalError


@dataclass(frozen=True)
class Result:
    """What was made of a file: questions, or the rows of every sheet."""

    questions: tuple[Question, ...]
    understood: tuple[Understood, ...]
    taken: tuple[Taken, ...] = ()


def take_file(path: Path, opening: Opening, wish: Wish, into: Path | None, force: bool = False) -> Result:
    """Read, understand and take a file; InputError or EntryError where it cannot be read or was described wrongly."""
    sheets, questions = open_sheets(path, replace(opening, class_name=wish.class_name))
    if questions:
        return Result(tuple(questions), ())
    if len(sheets) > 1 and (wish.maps or wish.fills or wish.row):
        raise EntryError("--map, --fill or --row for a workbook with several sheets", "one sheet", "--sheet NAME as well")
    understood = tuple(understand(sheet, wish) for sheet in sheets)
    questions = [question for one in understood for question in one.questions]
    if questions:
        return Result(tuple(questions), understood)
    return Result((), understood, _taken(understood, into, force))


def _taken(understood: Sequence[Understood], into: Path | None, force: bool) -> tuple[Taken, ...]:
    replaced = [into / f"{_name(one)}.yaml" for one in understood] if into is not None and force else []
    known = dict(known_ids(into, replaced)) if into is not None else {}
    taken = []
    for one in understood:
        rows = take_rows(one, known)
        if not rows.items and not rows.refused:
            raise file_mistake(one.sheet.shown, "no rows under the headings", "an item in each row", "", _row(one.sheet, one))
        known |= {read.item.id: f"{one.sheet.shown}:{read.row.number}" for read in rows.items}
        taken.append(rows)
    return tuple(taken)


def _name(one: Understood) -> str:
    if one.model is None:
        raise InternalError("a file was named before its class was known")
    return file_name(one.model.class_name, one.sheet.path)


def _row(sheet: Sheet, one: Understood) -> int:
    return one.heading.number if one.heading is not None else sheet.rows[0].number


def answered(opening: Opening, wish: Wish, option: str) -> tuple[Opening, Wish]:
    """What was said, with one more option as a question offers it, `--map "Wt=weight lb"`; EntryError if it is none."""
    try:
        name, value = shlex.split(option)
    except ValueError:
        name, value = "", ""
    if name == "--map":
        return opening, replace(wish, maps=(*wish.maps, value))
    if name == "--fill":
        return opening, replace(wish, fills=(*wish.fills, value))
    if name == "--class":
        return opening, replace(wish, class_name=value)
    if name == "--sheet":
        return replace(opening, sheet=value), wish
    raise EntryError(f"the answer {option}", "an option as they are offered, in quotation marks")
