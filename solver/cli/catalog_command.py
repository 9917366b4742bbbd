"""rigset catalog: check DIR (every mistake, with file and line), take FILE (a price list in), put DIR (and out)."""

from __future__ import annotations

import json
import shlex
import sys
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from solver.cli.options import JsonOption, Units, UnitsOption

if TYPE_CHECKING:
    from solver.catalog.take.headings import Question
    from solver.catalog.take.open import Opening
    from solver.catalog.take.take import Result
    from solver.catalog.take.understand import Wish

app = typer.Typer(help="Look after a catalog.", no_args_is_help=True, rich_markup_mode=None)

_REST = "..."
"""What stands in an offered option for the value that only a person knows."""


class Decimal(StrEnum):
    """What stands before the decimals."""

    POINT = "point"
    COMMA = "comma"


class Separator(StrEnum):
    """What stands between the columns of a CSV file."""

    COMMA = "comma"
    SEMICOLON = "semicolon"
    TAB = "tab"
    BAR = "bar"


class Encoding(StrEnum):
    """How a CSV file writes its letters."""

    UTF_8 = "utf-8"
    UTF_16 = "utf-16"
    CP1252 = "cp1252"
    LATIN_1 = "latin-1"
    MAC_ROMAN = "mac-roman"


ForceOption = Annotated[bool, typer.Option("--force", help="Replace files that are there already.")]


@app.callback()
def group() -> None:
    """Look after a catalog."""


@app.command("check")
def check(folder: Annotated[Path, typer.Argument(metavar="DIR", help="Folder of the catalog.")]) -> None:
    """Read a whole catalog and report every mistake, with file and line; then count what it holds."""
    from solver.catalog import read_catalog

    catalog = read_catalog(folder)
    count = sum(len(items) for items in catalog.classes.values())
    lines = [f"{name.replace('_', ' ')}: {len(items)}" for name, items in catalog.classes.items()]
    sys.stdout.write("\n".join([f"No mistakes. {count} items:", *lines]) + "\n")


@app.command("take")
def take(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The price list, a .csv or .xlsx file.")],
    into: Annotated[Path | None, typer.Option("--into", metavar="DIR", help="Folder of the catalog to write into.")] = None,
    class_name: Annotated[str, typer.Option("--class", metavar="CLASS", help="Class of the items.")] = "",
    sheet: Annotated[str, typer.Option("--sheet", metavar="NAME", help="The sheet of the workbook.")] = "",
    maps: Annotated[
        list[str] | None,
        typer.Option("--map", metavar='"HEADING=FIELD UNIT"', help="What a column is; FIELD - leaves it aside."),
    ] = None,
    fills: Annotated[
        list[str] | None,
        typer.Option("--fill", metavar='"FIELD=VALUE"', help="A value for every row that does not say it."),
    ] = None,
    row: Annotated[int | None, typer.Option("--row", metavar="N", min=1, help="The row of the headings.")] = None,
    decimal: Annotated[Decimal | None, typer.Option("--decimal", help="What stands before the decimals.")] = None,
    separator: Annotated[Separator | None, typer.Option("--separator", help="Between the columns of a CSV file.")] = None,
    encoding: Annotated[Encoding | None, typer.Option("--encoding", help="Of a CSV file.")] = None,
    leave_out: Annotated[
        bool, typer.Option("--leave-out", help="Take the right rows, write the refused ones beside.")
    ] = False,
    dry: Annotated[bool, typer.Option("--dry", help="Show what would be taken; write nothing.")] = False,
    force: ForceOption = False,
    as_json: JsonOption = False,
) -> None:
    """Take a price list into a catalog: say what is plain, ask what is not, drop nothing in silence."""
    from solver.catalog.take.open import Opening
    from solver.catalog.take.understand import Wish
    from solver.errors import EntryError

    if into is None and not dry:
        raise EntryError("no --into DIR", "the folder of the catalog to write into", "--into DIR, or --dry to look first")
    opening = Opening(sheet, encoding.value if encoding else "", separator.value if separator else "")
    wish = Wish(class_name, tuple(maps or ()), tuple(fills or ()), decimal.value if decimal else "", row or 0)
    result = _asked(file, opening, wish, into, force)
    _told(result, into, (leave_out, dry, force, as_json))


def _asked(file: Path, opening: Opening, wish: Wish, into: Path | None, force: bool) -> Result:
    """What was made of the file; on a terminal after every question is answered."""
    from solver.catalog.take.take import answered, take_file
    from solver.errors import RigsetError

    result = take_file(file, opening, wish, into, force)
    while result.questions and sys.stdin.isatty() and sys.stderr.isatty():
        option = _ask(result.questions[0])
        if not option:
            break
        try:
            said = answered(opening, wish, option)
            result = take_file(file, *said, into, force)
        except RigsetError as error:
            sys.stderr.write(f"{error}\n")
        else:
            opening, wish = said
    return result


def _ask(question: Question) -> str:
    """The option that answers a question; empty if the person would rather stop."""
    from solver.report.layout import paragraph, width_of_terminal

    sys.stderr.write("\n".join(["", *paragraph(question.about, width_of_terminal())]) + "\n")
    if len(question.options) == 1 and _REST in question.options[0]:
        name, value = shlex.split(question.options[0])
        field = value.partition("=")[0]
        answer = _answer(f"{field} for every row (empty to stop)")
        return f"{name} {shlex.quote(f'{field}={answer}')}" if answer else ""
    for number, option in enumerate(question.options, 1):
        sys.stderr.write(f"  {number}  {option}\n")
    answer = _answer("Number, or an option (empty to stop)")
    if answer.isdecimal() and 1 <= int(answer) <= len(question.options):
        return question.options[int(answer) - 1]
    return answer


def _answer(text: str) -> str:
    """What a person types; empty if they stop."""
    try:
        return str(typer.prompt(text, default="", show_default=False, err=True)).strip()
    except typer.Abort:
        return ""


def _told(result: Result, into: Path | None, said: tuple[bool, bool, bool, bool]) -> None:
    """Print what was understood; write the files unless something stands against it."""
    from solver.catalog.take.place import place
    from solver.report.layout import width_of_terminal
    from solver.report.take_data import take_data
    from solver.report.take_text import refused_lines, refused_text, take_text, unsure_text, written_lines

    leave_out, dry, force, as_json = said
    width = width_of_terminal()
    refused = any(one.refused for one in result.taken)
    nothing = bool(result.taken) and not any(one.items for one in result.taken)
    kept_back = nothing or (refused and not leave_out)
    status = "unsure" if result.questions else "refused" if kept_back else "dry" if dry else "taken"
    placed = place(result.taken, into or Path(), force, dry) if status in ("dry", "taken") else None
    if as_json:
        sys.stdout.write(json.dumps(take_data(result, status, placed), indent=2, ensure_ascii=False) + "\n")
    else:
        sys.stdout.write(take_text(result, width))
        if placed is not None:
            sys.stdout.write("\n".join(written_lines(placed, dry, width)) + "\n")
    if status == "unsure":
        sys.stderr.write(unsure_text(result.questions, width))
    elif status == "refused":
        sys.stderr.write(refused_text(result.taken, nothing))
    elif refused:
        sys.stderr.write("\n".join(refused_lines(result.taken)) + "\n")
    if status in ("unsure", "refused"):
        raise typer.Exit(2)


@app.command("put")
def put(
    folder: Annotated[Path, typer.Argument(metavar="DIR", help="Folder of the catalog.")],
    out: Annotated[Path, typer.Argument(metavar="OUT.xlsx", help="The workbook to write.")],
    class_name: Annotated[str, typer.Option("--class", metavar="CLASS", help="This class alone.")] = "",
    units: UnitsOption = Units.US,
    force: ForceOption = False,
) -> None:
    """Put a catalog into a workbook, one sheet a class; `take` reads it back unchanged."""
    from solver.catalog.take.put import put_workbook
    from solver.files import write_whole

    book = put_workbook(folder, out, class_name, units.value)
    write_whole(out, book.content, force)
    count = sum(book.counts.values())
    sheets = f"{len(book.counts)} sheet{'s' * (len(book.counts) != 1)}"
    sys.stdout.write(f"written: {out}, {count} item{'s' * (count != 1)} on {sheets}, and a sheet of notes\n")
