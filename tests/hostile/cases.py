"""Hostile files by the thousand, from a seed, and what every one of them must come to.

Contents: `FIGURES`, `WORDS`, `mutated` (a file changed in a few places), `garbage`, `quantity`, `Bench` (the readers, each
with a file that is right to start from), `judged` (an answer, or whole sentences).

A case fails if it raises anything but a RigsetError, or if what it says is not one line a mistake, short enough to read,
with the file it is about.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from functools import cached_property
from pathlib import Path

from solver.answers.ask import Asked, ask
from solver.answers.rig_file import read_named, read_rig
from solver.brief import read_brief
from solver.catalog import read_catalog
from solver.errors import InputError, InternalError, RigsetError
from solver.files import read_yaml
from solver.quantities import UNITS, parse
from tests.demo.demo import FOLDER, brief_path, stock

LONGEST_LINE = 1_200
"""Characters of a message that a person can still read. The longest list every word that a field takes."""

FIGURES = (
    "0", "-0", "-1", "1e999", "-1e999", "1e-400", "5e-324", "1e308", "1e15", "1e12", "nan", ".nan", "inf", "-.inf", "NaN",
    "1_000", "0x1F", "0o17", "010", "1:30:00", "1,5", "0,125", "1,25,000", "1.2.3", "120/240", "1/0", "2/4", "½", "1250²",
    "٣", "12", "１２", "+-3", "--3", "1e5e5", "9" * 400, "1" + "0" * 30, ".", ",", "-", "+", "e5", "1e", "0.1e-320", "1 2",
)  # fmt: skip
WORDS = (
    "", "~", "null", "no", "yes", "true", "*a", "&a 1", "!!python/object/apply:os.system [ls]", "!!binary aGk=", "<<", "[]",
    "{}", "[[[[", "{a: {b: {c: {d: 1}}}}", "|\n  x", "> y", "'", '"', "\\u202e", "\u202eabc", "pump\u200b-1", "gun\u0430-01",
    "../../etc/passwd", "/dev/zero", "C:\\x", "a\x00b", "a\tb", "\ufeff", "none", "gun", "GUN-01", "x" * 5000, "- - - -",
    "? a", "%YAML 9.9", "---", "...", "\x1b[31mred", "😀", "\u2028", "\ud7ff", "{", "]", "a: b: c", "@", "`", "# not",
    "gun-01", "material-02", "[gun-01, gun-01]", "{min: 1, max: 2}", "1 ft:9 ft:0 ft",
)  # fmt: skip
UNIT_WORDS = (
    "ft", "kW", "lb", "USD", "%", "degF", "delta_degF", "psi", "scfm", "m^9^9", "kg kg", "FT", "furlong", "k\u0433",
    "ft²", "1/h", "W/ft/K", "", "USD/board_foot", "lb/min", "(5)", "/0", "**", "m" * 300, "__import__", "h/0", "kW·h",
)  # fmt: skip


def quantity(chance: random.Random, dimension: str = "length") -> str:
    """A text that may be a figure with a unit of this dimension."""
    number = chance.choice(FIGURES)
    if chance.random() < 0.4:
        number = repr(chance.uniform(-10, 10) * 10 ** chance.randint(-30, 30))
    parts = [number, chance.choice(UNIT_WORDS if chance.random() < 0.5 else list(UNITS[dimension]))]
    if chance.random() < 0.2:
        parts.insert(chance.randint(0, 2), chance.choice(FIGURES + WORDS))
    return chance.choice(("", " ", "  ", "\u00a0")).join(parts)


def garbage(chance: random.Random) -> bytes:
    """Bytes that may or may not be YAML."""
    kind = chance.randrange(4)
    if kind == 0:
        return chance.randbytes(chance.randint(0, 200))
    text = "".join(chance.choice("ab1 :-\n\t[]{}#&*!|>'\"%@`,?~\\\x00é\u202e") for _ in range(chance.randint(0, 300)))
    return text.encode(("utf-8", "utf-16", "utf-8-sig")[kind - 1])


def mutated(chance: random.Random, text: str) -> bytes:
    """The file changed in one to three places, and now and then cut, or in another encoding."""
    lines = text.split("\n")
    for _ in range(chance.randint(1, 3)):
        _change(chance, lines)
    content = "\n".join(lines)
    last = chance.random()
    if last < 0.03:
        return content[: chance.randint(0, len(content))].encode()
    if last < 0.05:
        return content.encode("utf-16")
    if last < 0.07:
        return content.encode("latin-1", "replace").replace(b"e", b"\xe9", 1)
    return content.encode("utf-8", "surrogatepass")


def _change(chance: random.Random, lines: list[str]) -> None:
    at = chance.randrange(len(lines))
    key, colon, _ = lines[at].partition(":")
    kind = chance.randrange(10)
    if kind < 3 and colon:
        lines[at] = f"{key}: {quantity(chance)}"
    elif kind < 5 and colon:
        lines[at] = f"{key}: {chance.choice(WORDS)}"
    elif kind == 5:
        del lines[at : at + chance.randint(1, 3)]
    elif kind == 6:
        lines.insert(at, lines[chance.randrange(len(lines))])
    elif kind == 7:
        lines[at] = chance.choice(("\t", " ", "   ", "- ", "[", "&x ", "*x ")) + lines[at]
    elif kind == 8:
        lines[at] = lines[at].replace(chance.choice("abeionrst-_1"), chance.choice("\u0430\u0435\u200f\u202e;\t#"), 1)
    else:
        words = lines[at].split(" ")
        words[chance.randrange(len(words))] = chance.choice(WORDS + FIGURES)
        lines[at] = " ".join(words)
    if not lines:
        lines.append("")


def judged(read: Callable[[], object], path: str = "") -> str:
    """What a case came to: "read" or the kind of its error. AssertionError if that is no clear sentence."""
    try:
        read()
    except InternalError as error:
        raise AssertionError(f"a fault of the program: {error}") from error
    except RigsetError as error:
        said = str(error).split("\n") if isinstance(error, InputError) else [str(error)]
        for line in said:
            assert line.isprintable(), f"not printable: {line[:200]!r}"
            assert len(line) <= LONGEST_LINE, f"too long: {line[:200]}"
            assert line.startswith(path), f"no place: {line[:200]}"
        return type(error).__name__
    return "read"


class Bench:
    """The readers, each tried with files of its own in one folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.file = folder / "a.yaml"

    @cached_property
    def asked(self) -> Asked:
        """A brief laid over the demo catalog, for rig files."""
        return ask(stock(), read_brief(brief_path("first_rig"), stock()))

    @cached_property
    def items(self) -> list[str]:
        """Two items of every class, as text."""
        found = []
        for path in sorted((FOLDER / "catalog").glob("*.yaml")):
            head, *parts = path.read_text("utf-8").split("\n- id:")
            found.append(head + "".join(f"\n- id:{part}" for part in parts[:2]))
        return found

    @cached_property
    def briefs(self) -> list[str]:
        """The demo briefs."""
        return [path.read_text("utf-8") for path in sorted((FOLDER / "briefs").glob("*.yaml"))]

    @cached_property
    def rigs(self) -> list[str]:
        """Rigs of which some slots are filled."""
        slots = {name: table.items[0] for name, table in self.asked.setting.slots.items()}
        mapping = "rig:\n" + "".join(f"  {slot}: {item}\n" for slot, item in slots.items())
        lines = "rig:\n" + "".join(f"- {{slot: {slot}, item: {item}}}\n" for slot, item in slots.items())
        return [mapping, lines, "rig:\n  gun: gun-01\naboard:\n- tool-01\n- safety-item-01\n"]

    def _put(self, content: bytes) -> str:
        self.file.write_bytes(content)
        return str(self.file)

    def yaml(self, chance: random.Random) -> str:
        """Bytes as YAML."""
        path = self._put(garbage(chance))
        return judged(lambda: read_yaml(path), path)

    def quantity(self, chance: random.Random) -> str:
        """A text as a figure."""
        dimension = chance.choice(list(UNITS))
        text = quantity(chance, dimension)
        return judged(lambda: parse(text, dimension), "found ")

    def catalog(self, chance: random.Random) -> str:
        """A catalog of one file."""
        self._put(mutated(chance, chance.choice(self.items)))
        return judged(lambda: read_catalog(self.folder), str(self.folder))

    def brief(self, chance: random.Random) -> str:
        """A brief against the demo catalog."""
        path = self._put(mutated(chance, chance.choice(self.briefs)))
        return judged(lambda: read_brief(path, stock()), path)

    def rig(self, chance: random.Random) -> str:
        """A rig file, whole or in part."""
        path = self._put(mutated(chance, chance.choice(self.rigs)))
        read = chance.choice((read_rig, read_named))
        return judged(lambda: read(self.file, self.asked), path)

    def compiled(self, chance: random.Random) -> str:
        """A brief with one figure moved by powers of ten, laid over the catalog and turned into whole numbers."""
        lines = chance.choice(self.briefs).split("\n")
        places = [k for k, line in enumerate(lines) if any(c.isdigit() for c in line) and not line.startswith("#")]
        at = chance.choice(places)
        words = lines[at].split(" ")
        numbers = [k for k, word in enumerate(words) if word.replace(".", "", 1).isdigit()]
        if numbers:
            words[chance.choice(numbers)] = chance.choice(("0", "1e-14", "0.001", "1e4", "1e6", "1e8", "9.9e8"))
        lines[at] = " ".join(words)
        path = self._put("\n".join(lines).encode())
        return judged(lambda: ask(stock(), read_brief(path, stock())).program)
