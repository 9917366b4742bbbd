"""The journal of a long what-if: every settled cell on disk at once, so that a stopped run goes on where it stopped.

Contents: `Journal`, `study_digest`.

It stands beside the output as `NAME.part`: a first line with the digest of the study (brief, catalog, what is varied,
version), then a line of JSON for every cell. Lines are appended and flushed to the disk; a line counts when it is whole
and its own digest is right, so that whatever a crash leaves of the last one is cut off. The output itself is written
whole when all cells are there, and the journal goes.

While a run works it holds the journal by a lock of the system, which goes with its process however that ends; a second run
on the same journal is refused. Where a system has no such locks the journal is not held.
"""

from __future__ import annotations

import hashlib
import json
import os
import pickle
from collections.abc import Iterable
from pathlib import Path

from solver import __version__
from solver.answers.whatif_facts import Cell, Study, from_plain, to_plain
from solver.errors import CannotWrite, EntryError

_FORM = "rigset what-if 1"


def study_digest(study: Study) -> str:
    """A digest of all that the cells depend on."""
    parts = (
        _FORM,
        __version__,
        study.by,
        study.one_at_a_time,
        study.binding,
        study.brief.entry.model_dump_json(by_alias=True),
        [(axis.path, axis.duties, axis.values) for axis in study.axes],
        [[item.model_dump_json(by_alias=True) for item in items] for _, items in sorted(study.catalog.classes.items())],
    )
    return hashlib.sha256(repr(parts).encode()).hexdigest()


class Journal:
    """Settled cells on disk. `open` finds those of an earlier run; `add` appends; `close` and `remove` end it."""

    def __init__(self, out: Path, study: Study) -> None:
        self.path = out.with_name(f"{out.name}.part")
        self._digest = study_digest(study)
        self._file: int | None = None

    def open(self, resume: bool, force: bool) -> dict[int, Cell]:
        """Begin, or go on where an earlier run stopped; the cells that are settled already.

        Raises
        ------
        EntryError
            Another run is working on the journal; the journal of a stopped run is there and neither resume nor force
            was asked for; or it is of another study.
        CannotWrite
            The folder is not there or may not be written.
        """
        try:
            there = self.path.exists()
            self._file = os.open(self.path, os.O_RDWR | os.O_CREAT, 0o666)
            if not _held(self._file, self.path):
                found = f"{self.path}, on which another run is working"
                raise EntryError(found, "a journal of one run", "waiting for that run, or another --out")
            if there and not resume and not force:
                found = f"{self.path}, left by a run that was stopped"
                raise EntryError(found, "a fresh start", "--resume to go on with it, or --force to begin anew")
            cells, good = self._read(self.path.read_bytes()) if there and resume else ({}, 0)
            os.ftruncate(self._file, good)
            os.lseek(self._file, 0, os.SEEK_END)
            if not good:
                self._write(f"{_FORM} {self._digest}\n".encode())
            return cells
        except OSError as error:
            self.close()
            raise CannotWrite(str(self.path), (error.strerror or "an error of the file system").lower()) from None
        except EntryError:
            self.close()
            raise

    def _read(self, content: bytes) -> tuple[dict[int, Cell], int]:
        """Cells of the whole lines, and the length of what is whole."""
        head, mark, _ = content.partition(b"\n")
        if not mark:
            return {}, 0
        if head != f"{_FORM} {self._digest}".encode():
            found = f"{self.path}, the journal of another study"
            expected = "the same brief, catalog and values as when it was stopped"
            raise EntryError(found, expected, "the old command again, another --out, or --force to begin anew")
        cells: dict[int, Cell] = {}
        good = len(head) + 1
        while True:
            end = content.find(b"\n", good)
            line = content[good:end] if end >= 0 else b""
            if end < 0 or hashlib.sha256(line[17:]).hexdigest()[:16].encode() != line[:16]:
                return cells, good
            cell = from_plain(json.loads(line[17:]))
            cells[cell.number] = cell
            good = end + 1

    def add(self, cells: Iterable[Cell]) -> None:
        """Append cells; they are on the disk when this returns."""
        lines = []
        for cell in cells:
            text = json.dumps(to_plain(cell), ensure_ascii=False, separators=(",", ":")).encode()
            lines.append(hashlib.sha256(text).hexdigest()[:16].encode() + b" " + text + b"\n")
        try:
            self._write(b"".join(lines))
        except OSError as error:
            raise CannotWrite(str(self.path), (error.strerror or "an error of the file system").lower()) from None

    def _write(self, data: bytes) -> None:
        if self._file is None:
            return
        view = memoryview(data)
        while view:
            view = view[os.write(self._file, view) :]
        os.fsync(self._file)

    def close(self) -> None:
        """Leave the journal as it is."""
        if self._file is not None:
            os.close(self._file)
            self._file = None

    def remove(self) -> None:
        """The output is written: the journal is not needed any more."""
        self.close()
        self.path.unlink(missing_ok=True)


def _held(file: int, path: Path) -> bool:
    """Hold the file against other runs; False where one of them holds it, or has just ended and taken it away."""
    try:
        import fcntl
    except ImportError:
        return True
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    except OSError:
        return True
    return path.exists() and os.path.samestat(path.stat(), os.fstat(file))


def packed(study: Study) -> bytes:
    """The study as bytes for a worker: some tens of kilobytes, sent with every piece of work."""
    import zlib

    return zlib.compress(pickle.dumps(study, protocol=pickle.HIGHEST_PROTOCOL), 6)


def unpacked(data: bytes) -> Study:
    """The study of `packed`. The bytes come from this program's own other half, never from a file."""
    import zlib

    found = pickle.loads(zlib.decompress(data))
    if not isinstance(found, Study):
        raise TypeError("a piece of work without its study")
    return found
