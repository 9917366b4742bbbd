"""A catalog read once is kept as a checked binary copy, so that the next start need not read it again.

Contents: `kept_catalog`, `cache_folder`.

The copy's name is the digest of everything it depends on: names and content of the catalog's files, the program's version,
and the reading code itself. So a change of any of them is another name, and a stale copy is never found. Inside, the copy
begins with the digest of its own content: a damaged one is noticed, left aside and made anew. A copy that cannot be written
is no mistake. `RIGSET_CACHE` names another folder, or `off`. Copies are as trusted as the rest of the user's own files.
"""

from __future__ import annotations

import contextlib
import hashlib
import os
import pickle
from pathlib import Path

from solver import __version__
from solver.catalog.read import Catalog, read_catalog
from solver.errors import RigsetError
from solver.files import find_yaml, write_whole

_MOST_COPIES = 20
_HEAD = b"rigset catalog 1\n"
_DIGEST = 32


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
    digest = hashlib.sha256(f"{__version__}\n{folder}\n".encode())
    here = Path(__file__).parent
    for path in sorted((*here.glob("*.py"), *here.parent.glob("*.py"))):
        stat = path.stat()
        digest.update(f"{path.name} {stat.st_size} {stat.st_mtime_ns}\n".encode())
    for path in find_yaml(folder):
        digest.update(f"{path}\n".encode())
        digest.update(hashlib.sha256(path.read_bytes()).digest())
    return f"catalog-{digest.hexdigest()[:40]}.bin"


def _load(path: Path) -> Catalog | None:
    try:
        content = path.read_bytes()
    except OSError:
        return None
    start = len(_HEAD) + _DIGEST
    if content[: len(_HEAD)] != _HEAD or hashlib.sha256(content[start:]).digest() != content[len(_HEAD) : start]:
        return None
    try:
        found = pickle.loads(content[start:])
    except Exception:  # whatever a copy by another library version may hold: it is made anew
        return None
    return found if isinstance(found, Catalog) else None


def _keep(catalog: Catalog, path: Path) -> None:
    body = pickle.dumps(catalog, protocol=pickle.HIGHEST_PROTOCOL)
    with contextlib.suppress(OSError, RigsetError):
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, _HEAD + hashlib.sha256(body).digest() + body, force=True)
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
    except OSError:
        return read_catalog(folder)
    found = _load(path)
    if found is None:
        found = read_catalog(folder)
        _keep(found, path)
    return found
