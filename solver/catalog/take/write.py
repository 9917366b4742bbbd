"""Items as the text of a YAML file, and refused rows as a CSV file that can be mended and taken again.

Contents: `yaml_text`, `refused_csv`, `check_reads_back`.
"""

from __future__ import annotations

import csv
import io
import json
import re
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from solver.catalog.take.guard import with_guard
from solver.catalog.take.headings import Column
from solver.catalog.take.rows import Read, Taken
from solver.catalog.take.sheet import Cell
from solver.catalog.take.units import unit_in
from solver.catalog.take.words import parts_of
from solver.errors import InternalError
from solver.files import read_yaml

_PLAIN = re.compile(r"[A-Za-z0-9$.+][A-Za-z0-9 .,%/()$+_^-]*")
_FLOW = re.compile(r"[A-Za-z0-9.+][A-Za-z0-9 .%/()+_^-]*")


def yaml_text(class_name: str, note: str, items: Sequence[Read]) -> str:
    """A file of a catalog. Text that could mean something else to YAML stands in quotation marks."""
    lines = [f"class: {class_name}", f"note: {_quoted(note)}", "items:"]
    for read in items:
        lines.append("")
        for k, (name, entry) in enumerate(read.entry.items()):
            lines.extend(_field("- " if k == 0 else "  ", name, entry))
    return "\n".join(lines) + "\n"


def _field(start: str, name: str, entry: Any) -> Iterator[str]:
    if not isinstance(entry, list):
        yield f"{start}{name}: {_scalar(entry, _PLAIN)}"
    elif entry and isinstance(entry[0], Mapping):
        yield f"{start}{name}:"
        for part in entry:
            yield f"  - {{{', '.join(f'{key}: {_scalar(text, _FLOW)}' for key, text in part.items())}}}"
    else:
        yield f"{start}{name}: [{', '.join(_scalar(text, _FLOW) for text in entry)}]"


def _scalar(text: str, safe: re.Pattern[str]) -> str:
    return text if safe.fullmatch(text) and text == text.strip() else _quoted(text)


def _quoted(text: str) -> str:
    """A double-quoted scalar: JSON's quoting is also YAML's."""
    return json.dumps(text, ensure_ascii=not text.isprintable())


def check_reads_back(text: str, class_name: str, items: Sequence[Read]) -> None:
    """InternalError unless the text, read as a catalog file, says exactly what was taken."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "taken.yaml")
        path.write_text(text, "utf-8")
        data = read_yaml(path).data
    wanted = [read.entry for read in items]
    if not isinstance(data, dict) or data.get("class") != class_name or data.get("items") != wanted:
        raise InternalError(f"the {class_name} file does not read back as it was written")


def refused_csv(taken: Taken) -> str:
    """The refused rows under their headings, with row number and reason first."""
    of = taken.of
    columns = [column for column in of.columns if column.field or column.heading]
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(["refused row", "reason", *(with_guard(_heading(column, taken)) for column in columns)])
    for refused in taken.refused:
        reason = " ".join(f"{mistake.found}; expected {mistake.expected}." for mistake in refused.mistakes)
        cells = [with_guard(_cell(refused.row.cell(column.index))) for column in columns]
        writer.writerow([str(refused.row.number), with_guard(" ".join(reason.split())), *cells])
    return "\ufeff" + out.getvalue()


def _heading(column: Column, taken: Taken) -> str:
    """The heading as it stood; the field with its unit where one of them came from elsewhere."""
    quantity = taken.model.quantity(column.field) if column.field else None
    units = [column.heading, *(unit for _, unit in parts_of(column.heading))]
    said = not column.unit or (quantity and column.unit in [unit_in(unit, quantity.dimension) for unit in units])
    if said and not (column.by_hand and column.field):
        return column.heading
    return f"{column.field} ({column.unit})" if column.unit else column.field


def _cell(cell: Cell) -> str:
    if cell.wrong:
        return f"({cell.wrong})"
    if cell.number and cell.hint == "%":
        return cell.text
    return f"{cell.text} {cell.hint}" if cell.number and cell.hint else cell.text
