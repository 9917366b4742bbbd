"""What the reader of workbooks does not say in its reading way: bounds before opening, and merged cells.

Contents: `check_archive`, `merged_ranges`.

A workbook is a ZIP archive of XML files. Before anything is unpacked, the sizes that it states are added up; while a
sheet is read the same bound holds for what really comes out. A document type in any part is refused: none is needed, and
it could make entities grow.
"""

from __future__ import annotations

import re
import zipfile
from pathlib import Path, PurePosixPath
from xml.etree import ElementTree

from solver.catalog.take.sheet import LARGEST, file_mistake

MOST_UNPACKED = 100_000_000
"""Bytes of all parts of a workbook together."""
MOST_PARTS = 2_000
"""Files in a workbook."""
MOST_MERGES = 5_000
"""Merged ranges of one sheet that are read."""

_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"
_RANGE = re.compile(r"([A-Z]{1,3})([0-9]{1,7}):([A-Z]{1,3})([0-9]{1,7})")

Area = tuple[int, int, int, int]
"""First row, first column, last row, last column of a merged range; rows from 1, columns from 0."""


def check_archive(path: Path, shown: str) -> None:
    """InputError if the file is no archive, or one that unpacks to too much."""
    expected = "an XLSX workbook"
    try:
        if path.stat().st_size > LARGEST:
            raise file_mistake(shown, "a larger file", f"at most {LARGEST // 1_000_000} MB", "fewer sheets")
        with zipfile.ZipFile(path) as archive:
            parts = archive.infolist()
            if len(parts) > MOST_PARTS or sum(part.file_size for part in parts) > MOST_UNPACKED:
                limit = f"at most {MOST_UNPACKED // 1_000_000} MB in at most {MOST_PARTS:,} parts"
                raise file_mistake(shown, "a workbook that unpacks to far more than a price list", limit)
            for part in parts:
                _check_part(archive, part, shown)
    except FileNotFoundError:
        raise file_mistake(shown, "nothing there", "a CSV or XLSX file") from None
    except OSError as error:
        reason = (error.strerror or "an error").lower()
        raise file_mistake(shown, f"a file that cannot be read ({reason})", expected) from None
    except (zipfile.BadZipFile, EOFError, NotImplementedError, RuntimeError, ValueError) as error:
        advice = "saving it anew as XLSX, without a password, or as CSV"
        raise file_mistake(shown, f"no readable workbook ({_words(error)})", expected, advice) from None


def _words(error: Exception) -> str:
    return " ".join(str(error).split())[:80].rstrip(".") or type(error).__name__


def _check_part(archive: zipfile.ZipFile, part: zipfile.ZipInfo, shown: str) -> None:
    """Unpack an XML part without keeping it: it must be as long as it says, and hold no document type."""
    if not part.filename.endswith((".xml", ".rels")):
        return
    before = b""
    with archive.open(part) as file:  # reading ends with an error where length or checksum are not as stated
        while piece := file.read(1 << 20):
            if b"<!DOCTYPE" in before + piece or b"<!ENTITY" in before + piece:
                raise file_mistake(shown, f"a document type in {part.filename}", "a plain XLSX workbook")
            before = piece[-16:]


def merged_ranges(path: Path, sheet: str) -> list[Area]:
    """The merged ranges of a sheet of a workbook that was checked before."""
    with zipfile.ZipFile(path) as archive:
        part = _part_of(archive, sheet)
        if part is None:
            return []
        areas: list[Area] = []
        with archive.open(part) as file:
            for _, element in ElementTree.iterparse(file):
                if element.tag == f"{_MAIN}mergeCell" and len(areas) < MOST_MERGES:
                    areas.extend(_area(element.get("ref", "")))
                if element.tag in (f"{_MAIN}row", f"{_MAIN}mergeCell"):
                    element.clear()
    return areas


def _part_of(archive: zipfile.ZipFile, sheet: str) -> str | None:
    """The name of the part that holds a sheet."""
    names = set(archive.namelist())
    if not {"xl/workbook.xml", "xl/_rels/workbook.xml.rels"} <= names:
        return None
    book = ElementTree.fromstring(archive.read("xl/workbook.xml"))
    links = ElementTree.fromstring(archive.read("xl/_rels/workbook.xml.rels"))
    targets = {link.get("Id"): link.get("Target", "") for link in links}
    for element in book.iter(f"{_MAIN}sheet"):
        if element.get("name") == sheet:
            target = targets.get(element.get(_RELATION), "")
            part = target.lstrip("/") if target.startswith("/") else str(PurePosixPath("xl", target))
            return part if part in names else None
    return None


def _area(text: str) -> list[Area]:
    match = _RANGE.fullmatch(text)
    if match is None:
        return []
    first, top, last, bottom = match.groups()
    return [(int(top), _column(first), int(bottom), _column(last))]


def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - 64
    return number - 1
