"""Taken items into the folder of a catalog: which files, which ids are used there already, all of it or nothing.

Contents: `file_name`, `known_ids`, `Placed`, `place`, `items_in` (every item of a folder, whole catalog or not).
"""

from __future__ import annotations

import contextlib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from solver.catalog.base import Item, item_classes
from solver.catalog.quick import quick_item
from solver.catalog.read import read_catalog
from solver.catalog.take.rows import Known, Taken
from solver.catalog.take.sheet import short
from solver.catalog.take.write import check_reads_back, refused_csv, yaml_text
from solver.errors import CannotWrite, InputError, InternalError, Mistake, OutputExists, RigsetError
from solver.files import find_yaml, read_yaml, write_whole


@dataclass(frozen=True)
class Placed:
    """What was written, or would be."""

    files: tuple[Path, ...]
    """YAML files, one a class."""
    beside: tuple[Path, ...]
    """CSV files of refused rows."""
    lacks: tuple[str, ...]
    """Classes that a whole catalog needs and the folder does not have; empty too where nothing was written."""


def file_name(class_name: str, path: str) -> str:
    """The name of the YAML file, from the class and the file that the rows came from, without its ending."""
    stem = "-".join(re.findall(r"[a-z0-9]+", Path(path).stem.lower()))[:60].strip("-")
    return class_name if stem in ("", class_name.replace("_", "-")) else f"{class_name}-{stem}"


def known_ids(folder: Path, replaced: Sequence[Path] = ()) -> Known:
    """Every id of a folder with the file and line where it stands; files that will be replaced do not count.

    A folder with mistakes is no place to add items to: InputError with all of them.
    """
    known: dict[str, str] = {}
    gone = {path.resolve() for path in replaced}
    paths = find_yaml(folder) if folder.exists() else ()
    if paths:
        wrong = [m for m in _mistakes(folder) if not _lacking(m.found) and Path(m.file).resolve() not in gone]
        if wrong:
            raise InputError(wrong)
    for path in paths:
        if path.resolve() in gone:
            continue
        document = read_yaml(path)
        items = document.data.get("items") if isinstance(document.data, dict) else None
        for at, entry in enumerate(items if isinstance(items, list) else []):
            item_id = entry.get("id") if isinstance(entry, dict) else None
            if isinstance(item_id, str):
                known.setdefault(item_id, f"{document.path}:{document.line(('items', at, 'id'))}")
    return known


def items_in(folder: Path) -> dict[str, list[Item]]:
    """Per class the items of a folder, in the order of the files; InputError as `read_catalog` gives it."""
    wrong = [mistake for mistake in _mistakes(folder) if not _lacking(mistake.found)]
    if wrong:
        raise InputError(wrong)
    found: dict[str, list[Item]] = {name: [] for name in item_classes()}
    for path in find_yaml(folder):
        data = read_yaml(path).data
        if not isinstance(data, dict):
            raise InternalError(f"{path} changed while it was read")
        name, entries = str(data["class"]), data["items"]
        for entry in entries if isinstance(entries, list) else []:
            model = item_classes()[name]
            found[name].append(quick_item(model, entry) or model.model_validate(entry))
    return found


def _mistakes(folder: Path) -> tuple[Mistake, ...]:
    try:
        read_catalog(folder)
    except InputError as error:
        return error.mistakes
    return ()


def place(taken: Sequence[Taken], folder: Path, force: bool, dry: bool) -> Placed:
    """Write every sheet's items, and refused rows beside them; nothing at all if any file cannot be written."""
    contents: dict[Path, str] = {}
    beside: list[Path] = []
    for one in taken:
        name = file_name(one.model.class_name, one.of.sheet.path)
        if one.items:
            text = yaml_text(one.model.class_name, _note(one), one.items)
            check_reads_back(text, one.model.class_name, one.items)
            contents[folder / f"{name}.yaml"] = text
        if one.refused:
            beside.append(folder / f"{name}.refused.csv")
            contents[beside[-1]] = refused_csv(one)
    files = tuple(path for path in contents if path.suffix == ".yaml")
    if dry:
        return Placed(files, tuple(beside), ())
    _write(contents, folder, force)
    return Placed(files, tuple(beside), tuple(_lacks(folder)))


def _note(taken: Taken) -> str:
    sheet = taken.of.sheet
    name = f", sheet {sheet.name}" if sheet.name else ""
    return f"Taken from {short(Path(sheet.path).name, 80)}{short(name, 50)}."


def _write(contents: dict[Path, str], folder: Path, force: bool) -> None:
    for path in contents:
        if path.exists() and not force:
            raise OutputExists(str(path))
    made = not folder.exists()
    before = {path: path.read_bytes() if path.exists() else None for path in contents}
    done: list[Path] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for path, text in contents.items():
            write_whole(path, text, force)
            done.append(path)
    except (RigsetError, OSError) as error:
        _undo(done, before, folder if made else None)
        if isinstance(error, RigsetError):
            raise
        raise CannotWrite(str(folder), (error.strerror or "an error").lower()) from None


def _undo(done: Sequence[Path], before: dict[Path, bytes | None], made: Path | None) -> None:
    """Everything as it was."""
    with contextlib.suppress(OSError):
        for path in done:
            old = before[path]
            if old is None:
                path.unlink()
            else:
                path.write_bytes(old)
        if made is not None:
            made.rmdir()


def _lacking(found: str) -> str:
    """The class that a finding says is missing from a catalog; empty if it says something else."""
    match = re.fullmatch(r"no items of class (\w+)", found)
    return match[1] if match else ""


def _lacks(folder: Path) -> list[str]:
    """Classes missing from a folder; InternalError if a file that was just written has a mistake."""
    lacking = []
    for mistake in _mistakes(folder):
        name = _lacking(mistake.found)
        if not name:
            raise InternalError(f"what was written has a mistake: {mistake}")
        lacking.append(name)
    return lacking
