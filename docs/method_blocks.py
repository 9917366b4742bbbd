"""Blocks of the method page that are read off the program: the day's table, the resolutions, the engine's settings.

Contents: `method_blocks`.
"""

from __future__ import annotations

import inspect
import re

from docs.markdown import table
from solver.rules.balance import RESOLUTION
from solver.rules.day import DAY, INTERLOCKS, PHASES, Share
from solver.rules.record import ENDS
from solver.search import engine

_SETTING = re.compile(r"^\s*parameters\.(\w+) = (.+)$", re.M)


def _words(share: Share) -> str:
    if isinstance(share, str):
        return f"`{share}`"
    return f"{share:.0%}" if share else ""


def _day() -> str:
    rows = []
    for load, row in DAY.items():
        air = "" if set(row.ends) == set(ENDS) else " and ".join(row.ends)
        rows.append((load.replace("_", " "), *(_words(row.phases.get(phase, 0.0)) for phase in PHASES), air,
                     _words(row.average)))  # fmt: skip
    return table(("load", *PHASES, "only at the air", "average while it runs"), rows)


def _interlocks() -> str:
    lines = []
    for name, loads in INTERLOCKS.items():
        told = [
            f"{load.replace('_', ' ')} in {phase}: {share if isinstance(share, str) else f'{share:.0%}'}"
            for load, phases in loads.items()
            for phase, share in phases.items()
        ]
        lines.append(f"- `{name}`: {'; '.join(told)}\n")
    return "".join(lines)


def _resolutions() -> str:
    by_size: dict[float, list[str]] = {}
    for unit, size in RESOLUTION.items():
        by_size.setdefault(size, []).append({"1": "counts"}.get(unit, unit))
    rows = [(f"{size:g}", ", ".join(units)) for size, units in sorted(by_size.items())]
    return table(("resolution", "units"), rows)


def _settings() -> str:
    found: dict[str, str] = dict(_SETTING.findall(inspect.getsource(engine.solve_rows)))
    shown = {"limits.seed": f"{engine.Limits().seed}", "limits.work": f"{engine.Limits().work:g}",
             "limits.seconds": "only when asked for"}  # fmt: skip
    rows = [(f"`{name}`", shown.get(value, value)) for name, value in found.items()]
    return table(("setting of CP-SAT", "value"), rows)


def method_blocks() -> dict[str, str]:
    """The blocks by name."""
    return {
        "day": _day(),
        "interlocks": _interlocks(),
        "resolutions": _resolutions(),
        "engine-settings": _settings(),
    }
