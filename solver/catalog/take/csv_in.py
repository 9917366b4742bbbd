"""A CSV file to a sheet: encoding, separator and bounds, nothing guessed where two readings are possible.

Contents: `read_csv`, `ENCODINGS`, `SEPARATORS`.

UTF-8 is taken for granted, UTF-16 where its mark stands at the start; anything else must be named. The separator is the
one under which the most cells of one row are headings (`score` says how many); a file that can be read in two ways is
refused until one is named.
"""

from __future__ import annotations

import contextlib
import csv
import io
from collections.abc import Callable
from pathlib import Path

from solver.catalog.take.guard import without_guard
from solver.catalog.take.sheet import (
    LARGEST,
    LONGEST_CELL,
    MOST_COLUMNS,
    MOST_ROWS,
    Cell,
    Row,
    Sheet,
    file_mistake,
)
from solver.errors import InputError

ENCODINGS = ("utf-8", "utf-16", "cp1252", "latin-1", "mac-roman")
SEPARATORS = {"comma": ",", "semicolon": ";", "tab": "\t", "bar": "|"}
_MARKS = (b"\xff\xfe", b"\xfe\xff")

Score = Callable[[tuple[Row, ...]], int]


def read_csv(path: Path, score: Score, encoding: str = "", separator: str = "") -> Sheet:
    """The sheet of a CSV file; InputError if it cannot be read in exactly one way."""
    shown = str(path)
    text, notes = _decoded(_bytes_of(path, shown), shown, encoding)
    said, text = _first_line(text)
    if separator or said:
        mark = SEPARATORS[separator] if separator else said
        rows = _rows(text, mark, shown, 2 if said else 1)
    else:
        mark, rows = _best(text, shown, score)
        if mark != ",":
            notes.append(f"separated by {_name(mark)}s")
    return Sheet(shown, "", rows, tuple(notes), comma_doubt=mark == ";")


def _bytes_of(path: Path, shown: str) -> bytes:
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST + 1)
    except FileNotFoundError:
        raise file_mistake(shown, "nothing there", "a CSV or XLSX file") from None
    except OSError as error:
        reason = (error.strerror or "an error").lower()
        raise file_mistake(shown, f"a file that cannot be read ({reason})", "a CSV or XLSX file") from None
    if len(raw) > LARGEST:
        raise file_mistake(shown, "a larger file", f"at most {LARGEST // 1_000_000} MB", "several smaller files")
    return raw


def _decoded(raw: bytes, shown: str, encoding: str) -> tuple[str, list[str]]:
    """The text, and what is worth saying about its encoding."""
    marked = raw[:2] in _MARKS
    name = encoding or ("utf-16" if marked else "utf-8")
    try:
        text = raw.decode("utf-8-sig" if name == "utf-8" else name)
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        byte = f"the byte 0x{raw[error.start]:02X}, which is no {name.upper()}"
        advice = "saving it as CSV in UTF-8, or --encoding cp1252 if it comes from an older Windows spreadsheet"
        raise file_mistake(shown, byte, "a text file in UTF-8", advice, line) from None
    except UnicodeError:
        raise file_mistake(shown, f"text that is no {name.upper()}", "a text file in UTF-8") from None
    if "\0" in text:
        line = text.count("\n", 0, text.index("\0")) + 1
        raise file_mistake(shown, "a NUL character", "a text file", "saving it as CSV in UTF-8, or as XLSX", line)
    return text, [f"read as {name.upper()}"] if name != "utf-8" else []


def _first_line(text: str) -> tuple[str, str]:
    """The separator that a first line `sep=;` names, and the text without that line."""
    first, end, rest = text.partition("\n")
    word = first.strip().strip('"').lower()
    if end and len(word) == 5 and word.startswith("sep=") and word[4] in SEPARATORS.values():
        return word[4], rest
    return "", text


def _name(mark: str) -> str:
    return next(name for name, one in SEPARATORS.items() if one == mark)


def _best(text: str, shown: str, score: Score) -> tuple[str, tuple[Row, ...]]:
    """The separator under which the most headings are found; InputError if two are as good."""
    ways = []
    for mark in SEPARATORS.values():
        if mark in text:
            with contextlib.suppress(InputError):  # quotation marks may stand rightly for one separator alone
                rows = _rows(text, mark, shown, 1)
                columns = max((len(row.filled()) for row in rows), default=0)
                ways.append((score(rows), columns, mark, rows))
    if not ways:
        return ",", _rows(text, ",", shown, 1)
    most = max(way[0] for way in ways)
    best = [way for way in ways if way[0] == most]
    if most == 0 and len(best) > 1:
        widest = max(way[1] for way in best)
        best = [way for way in best if way[1] == widest]
    if len(best) > 1:
        names = [_name(way[2]) for way in best]
        found = f"columns that {' or '.join(f'{name}s' for name in names)} may separate"
        raise file_mistake(shown, found, "one way to read it", " or ".join(f"--separator {name}" for name in names))
    return best[0][2], best[0][3]


def _rows(text: str, mark: str, shown: str, first: int) -> tuple[Row, ...]:
    """The rows that are not blank; `first` is the line at which the text begins."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    rows: list[Row] = []
    line = first
    try:
        for fields in reader:
            cells = tuple(Cell(without_guard(field.strip())) for field in fields)
            if any(cell.text for cell in cells):
                _within_bounds(cells, shown, line, len(rows))
                rows.append(Row(line, cells))
            line = first + reader.line_num
    except csv.Error as error:
        advice = "quotation marks in pairs around a cell, doubled inside of it"
        raise file_mistake(shown, f"a row that is no CSV ({error})", "CSV", advice, line) from None
    return tuple(rows)


def _within_bounds(cells: tuple[Cell, ...], shown: str, line: int, count: int) -> None:
    if count >= MOST_ROWS:
        raise file_mistake(shown, f"more than {MOST_ROWS:,} rows", "a price list", "several smaller files", line)
    if len(cells) > MOST_COLUMNS:
        raise file_mistake(shown, f"{len(cells):,} columns", f"at most {MOST_COLUMNS}", "", line)
    longest = max((len(cell.text) for cell in cells), default=0)
    if longest > LONGEST_CELL:
        advice = "a closing quotation mark that may be missing"
        raise file_mistake(shown, f"a cell of {longest:,} characters", f"at most {LONGEST_CELL:,}", advice, line)
