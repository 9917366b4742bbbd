"""Which set of equipment does the work, at the least cost, and what exactly holds it there.

Floors, each importing only from those below it: errors, quantities, files, formulas, catalog, brief, options, rules,
program, search, answers, report, cli.

The door for Python: what is named in `__all__` can be imported from here and is loaded when it is first asked for, so that
`import solver` itself loads nothing. Editors and type checkers find the same names in `__init__.pyi`.

>>> from solver import pick, read_brief, read_catalog, to_frame                                      # doctest: +SKIP
>>> catalog = read_catalog(Path("catalog_demo/catalog"))                                             # doctest: +SKIP
>>> picked = pick(catalog, read_brief(Path("catalog_demo/briefs/first_rig.yaml"), catalog))          # doctest: +SKIP
>>> to_frame(picked, "balances")                                                                     # doctest: +SKIP
"""

from importlib import import_module
from typing import Any

__version__ = "0.1.0"

_ROOMS = {
    "solver.answers.check": ("Checked", "check"),
    "solver.answers.complete": ("Completed", "complete"),
    "solver.answers.facts": ("Picked",),
    "solver.answers.frontier": ("Frontier", "frontier"),
    "solver.answers.insist": ("Insist", "insist"),
    "solver.answers.mend": ("Mended", "mend"),
    "solver.answers.pick": ("pick",),
    "solver.answers.rivals": ("Rivals", "rivals"),
    "solver.answers.robust": ("robust",),
    "solver.answers.robust_facts": ("Robust",),
    "solver.answers.whatif": ("WhatIf", "whatif"),
    "solver.answers.why": ("Why", "why"),
    "solver.brief": ("Brief", "read_brief"),
    "solver.catalog": ("Catalog", "read_catalog"),
    "solver.errors": ("InputError", "NotProven", "RigsetError"),
    "solver.report.frames": ("tables_of", "to_frame"),
}
"""Where each name of the door lives. The types stand in `__init__.pyi`; a test holds the two against each other."""

_ROOM_OF = {name: room for room, names in _ROOMS.items() for name in names}
__all__ = sorted(_ROOM_OF)


def __getattr__(name: str) -> Any:
    """What the door leads to, loaded when it is first asked for."""
    if name not in _ROOM_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = getattr(import_module(_ROOM_OF[name]), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
