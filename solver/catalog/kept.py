"""A catalog read once is kept as a checked binary copy, so that the next start need not read it again.

Contents: `kept_catalog`, `cache_folder`.

The copy's name is the digest of everything it depends on: names and content of the catalog's files, the program's version,
and the reading code itself. So a change of any of them is another name, and a stale copy is never found. Inside, the copy
begins with the digest of its own content: a damaged one is noticed, left aside and made anew. A copy that cannot be written
is no mistake. `RIGSET_CACHE` names another folder, or `off`.

What that protects from: the digest from accidents (a full disk, a torn file), not from intent, since whoever can write the
copy can write its digest. Against intent, a copy counts only if it is a plain file that belongs to this user and that nobody
else may write, and nothing is built from it but the catalog's own records and numpy's arrays: it cannot name a function to
call. What it does not protect from: someone who acts as this user can put wrong figures into a copy, as into the catalog
itself.
"""

from __future__ import annotations

import contextlib
import hashlib
import io
import os
import pickle
import stat
from pathlib import Path
from typing import Any

from solver import __version__
from solver.catalog.read import Catalog, read_catalog
from solver.errors import InputError, RigsetError
from solver.files import find_yaml, read_bytes, write_whole

_MOST_COPIES = 20
_HEAD = b"rigset catalog 1\n"
_DIGEST = 32
_LARGEST = 400_000_000
"""Bytes of a copy."""
_OTHERS_MAY_WRITE = stat.S_IWGRP | stat.S_IWOTH
_ARRAYS = {("numpy._core.numeric", "_frombuffer"), ("numpy.core.numeric", "_frombuffer"), ("numpy", "dtype"),
           ("numpy", "ndarray"), ("numpy._core.multiarray", "_reconstruct"),
           ("numpy.core.multiarray", "_reconstruct")}  # fmt: skip
"""All that a copy may name besides classes of this package."""


def cache_folder() -> Path | None:
    """Where copies are kept; None if they are not."""
    said = os.environ.get("RIGSET_CACHE", "")
    if said.lower() == "off":
        return None
    if said:
        return Path(said)
    base = os.environ.get("XDG_CACHE_HOME")
    try:
        return (Path(base) if base else Path.home() / ".cache") / "rigset"
    except RuntimeError:  # no home folder
        return None


def _name(folder: Path) -> str:
    digest = hashlib.sha256(f"{__version__}\n".encode() + os.fsencode(folder) + b"\n")
    here = Path(__file__).parent
    for path in sorted((*here.glob("*.py"), *here.parent.glob("*.py"))):
        stat = path.stat()
        digest.update(f"{path.name} {stat.st_size} {stat.st_mtime_ns}\n".encode())
    for path in find_yaml(folder):
        digest.update(os.fsencode(path) + b"\n")
        digest.update(hashlib.sha256(read_bytes(path, str(path))).digest())
    return f"catalog-{digest.hexdigest()[:40]}.bin"


class _Records(pickle.Unpickler):
    """Builds records of the catalog and arrays, and nothing else."""

    def find_class(self, module: str, name: str) -> Any:
        if (module, name) in _ARRAYS:
            return super().find_class(module, name)
        if module.startswith("solver.catalog.") and "." not in name:
            found = super().find_class(module, name)
            if isinstance(found, type) and found.__module__ == module:
                return found
        raise pickle.UnpicklingError(f"{module}.{name} is no part of a catalog")


def _content(path: Path) -> bytes:
    """The bytes of a copy that this user alone may write; nothing if it is none."""
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        with os.fdopen(os.open(path, flags), "rb") as file:
            about = os.fstat(file.fileno())
            if not stat.S_ISREG(about.st_mode) or about.st_size > _LARGEST:
                return b""
            if hasattr(os, "geteuid") and (about.st_uid != os.geteuid() or about.st_mode & _OTHERS_MAY_WRITE):
                return b""
            return file.read()
    except OSError:
        return b""


def _load(path: Path) -> Catalog | None:
    content = _content(path)
    start = len(_HEAD) + _DIGEST
    if content[: len(_HEAD)] != _HEAD or hashlib.sha256(content[start:]).digest() != content[len(_HEAD) : start]:
        return None
    try:
        found = _Records(io.BytesIO(memoryview(content)[start:])).load()
    except Exception:  # whatever a copy by another library version may hold: it is made anew
        return None
    return found if isinstance(found, Catalog) else None


def _keep(catalog: Catalog, path: Path) -> None:
    body = pickle.dumps(catalog, protocol=pickle.HIGHEST_PROTOCOL)
    with contextlib.suppress(OSError, RigsetError):
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        if path.is_symlink():  # a name that leads elsewhere is no copy of ours: what it leads to stays as it is
            path.unlink()
        write_whole(path, _HEAD + hashlib.sha256(body).digest() + body, force=True)
        path.chmod(0o600)
        copies = sorted(path.parent.glob("catalog-*.bin"), key=lambda p: p.stat().st_mtime, reverse=True)
        for old in copies[_MOST_COPIES:]:
            old.unlink()


def kept_catalog(folder: Path) -> Catalog:
    """The catalog of a folder, from its copy where there is one; InputError as from `read_catalog`."""
    cache = cache_folder()
    if cache is None:
        return read_catalog(folder)
    try:
        path = cache / _name(folder)
    except (OSError, InputError):
        return read_catalog(folder)
    found = _load(path)
    if found is None:
        found = read_catalog(folder)
        with contextlib.suppress(OSError, InputError):
            if cache / _name(folder) == path:  # nothing was changed while it was read
                _keep(found, path)
    return found
