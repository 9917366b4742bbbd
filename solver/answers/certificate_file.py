"""A certificate as a file: JSON of our own plain form, read as if a stranger had written it.

Contents: `Certificate`, `RigLine`, `certificate_text`, `read_certificate`.

The keys stand in the order of `_KEYS`; every step of the proof has a line of its own (see `solver/program/proof.py`).
Whole numbers only. Docs: `docs/certificates.md`.
"""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from solver.errors import EntryError, InputError, Mistake
from solver.files import read_bytes
from solver.program.objectives import OBJECTIVES
from solver.program.proof import Part, from_steps, to_steps

FORMAT = "rigset certificate"
VERSION = 1
STEP = {"price": "cents", "weight": "grams", "yearly-cost": "cents a year"}
"""What one step of an objective is."""
_KEYS = ("format", "version", "claim", "by", "unit", "least", "brief", "catalog", "program", "rig", "proof")
_CLAIMS = ("least", "none")
_LONGEST_NUMBER = 200
"""Figures of a whole number in the file."""
_FORM = "the form of a certificate, as `rigset pick BRIEF --certificate FILE` writes it"


@dataclass(frozen=True)
class RigLine:
    """What fills a slot: item and choice as the catalog names them, item "none" for an empty slot."""

    slot: str
    item: str
    choice: str


@dataclass(frozen=True, eq=False)
class Certificate:
    """What the file holds."""

    title: str
    """Title of the brief; a name only."""
    catalog: str
    """Name of the catalog's folder; a name only."""
    items: int
    by: str
    least: int | None
    """The cost said to be least, in steps of the objective; None where the claim is that no rig fits."""
    fingerprint: str
    slots: int
    options: int
    rows: int
    rig: tuple[RigLine, ...]
    """Every slot in order; nothing where no rig fits."""
    root: Part


def certificate_text(certificate: Certificate) -> str:
    """The file: the same certificate gives the same bytes."""
    head = {
        "format": FORMAT,
        "version": VERSION,
        "claim": "none" if certificate.least is None else "least",
        "by": certificate.by,
        "unit": STEP[certificate.by],
        "least": certificate.least,
        "brief": {"title": certificate.title},
        "catalog": {"name": certificate.catalog, "items": certificate.items},
        "program": {"fingerprint": certificate.fingerprint, "slots": certificate.slots, "options": certificate.options,
                    "rows": certificate.rows},
    }  # fmt: skip
    lines = [f"{json.dumps(key)}: {json.dumps(value, ensure_ascii=False)}" for key, value in head.items()]
    rig = [{"slot": line.slot, "item": line.item, "choice": line.choice} for line in certificate.rig]
    lines += [f'"{key}": {_lines(rows)}' for key, rows in (("rig", rig), ("proof", to_steps(certificate.root)))]
    return "{\n" + ",\n".join(lines) + "\n}\n"


def _lines(rows: Sequence[Any]) -> str:
    """A list with one entry a line."""
    if not rows:
        return "[]"
    return "[\n" + ",\n".join(json.dumps(row, ensure_ascii=False, separators=(",", ":")) for row in rows) + "\n]"


def read_certificate(path: Path) -> Certificate:
    """The certificate in a file; InputError with what is wrong with its form. Whether it holds is not judged."""
    shown = str(path)
    try:
        return _certificate(_json(path, shown))
    except EntryError as error:
        raise InputError([error.at(shown, 0)]) from None


def _json(path: Path, shown: str) -> Any:
    try:
        raw = read_bytes(path, shown)
    except InputError as error:
        raise InputError(
            Mistake(m.file, m.line, m.found, m.expected.replace("a YAML file", "a certificate"), "") for m in error.mistakes
        ) from None
    try:
        return json.loads(
            raw.decode("utf-8"), object_pairs_hook=_mapping, parse_int=_whole_number, parse_float=_no_number,
            parse_constant=_no_number,
        )  # fmt: skip
    except UnicodeDecodeError:
        raise EntryError("text that is not UTF-8", _FORM) from None
    except RecursionError:
        raise EntryError("lists or mappings too deep inside each other", _FORM) from None
    except json.JSONDecodeError as error:
        raise InputError([Mistake(shown, error.lineno, "text that is no JSON", _FORM)]) from None


def _mapping(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs):
        raise EntryError("a key a second time", "each key once")
    return found


def _whole_number(text: str) -> int:
    if len(text) > _LONGEST_NUMBER:
        raise EntryError(f"a number of {len(text):,} figures", f"at most {_LONGEST_NUMBER}")
    return int(text)


def _no_number(text: str) -> int:
    raise EntryError(f"the number {text[:40]}", "whole numbers only")


def _certificate(data: Any) -> Certificate:
    _expect(isinstance(data, dict) and data.get("format") == FORMAT, "no certificate", f'a file with "format": "{FORMAT}"')
    _expect(_is_whole(data.get("version")) and data["version"] == VERSION, "a certificate of another version",
            f"version {VERSION}", "the version of rigset that wrote it")  # fmt: skip
    _keys(data, _KEYS, "the certificate")
    claim, by, least, rig = data["claim"], data["by"], data["least"], data["rig"]
    _expect(claim in _CLAIMS, "another claim", f"`claim`: {' or '.join(_CLAIMS)}")
    _expect(isinstance(by, str) and by in OBJECTIVES, "another objective", f"`by`: {', '.join(OBJECTIVES)}")
    _expect(data["unit"] == STEP[by], "another unit", f"`unit`: {STEP[by]}")
    _expect(least is None if claim == "none" else _is_whole(least), "something else under `least`",
            "null" if claim == "none" else "a whole number")  # fmt: skip
    brief = _keys(data["brief"], ("title",), "`brief`")
    catalog = _keys(data["catalog"], ("name", "items"), "`catalog`")
    program = _keys(data["program"], ("fingerprint", "slots", "options", "rows"), "`program`")
    for name, value in (("title", brief["title"]), ("name", catalog["name"])):
        _expect(isinstance(value, str), f"something else under `{name}`", "text")
    for name, value in (("items", catalog["items"]), *((key, program[key]) for key in ("slots", "options", "rows"))):
        _expect(_is_whole(value), f"something else under `{name}`", "a whole number")
    mark = program["fingerprint"]
    _expect(isinstance(mark, str) and re.fullmatch("[0-9a-f]{64}", mark) is not None, "something else under `fingerprint`",
            "64 figures from 0 to f")  # fmt: skip
    _expect(isinstance(rig, list) and (claim == "least" or not rig), "something else under `rig`",
            "a list of slots; an empty one where no rig fits")  # fmt: skip
    _expect(isinstance(data["proof"], list), "something else under `proof`", "a list of steps")
    return Certificate(
        brief["title"], catalog["name"], catalog["items"], by, least, mark, program["slots"], program["options"],
        program["rows"], tuple(_line(entry) for entry in rig), from_steps(data["proof"]),
    )  # fmt: skip


def _line(entry: Any) -> RigLine:
    found = _keys(entry, ("slot", "item", "choice"), "a line of `rig`")
    _expect(all(isinstance(value, str) for value in found.values()), "something else in a line of `rig`", "text")
    return RigLine(found["slot"], found["item"], found["choice"])


def _keys(data: Any, keys: tuple[str, ...], where: str) -> dict[str, Any]:
    _expect(isinstance(data, dict) and set(data) == set(keys), f"other keys in {where}", ", ".join(keys))
    found: dict[str, Any] = data
    return found


def _is_whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def _expect(good: bool, found: str, expected: str, advice: str = "") -> None:
    if not good:
        raise EntryError(found, expected, advice)
