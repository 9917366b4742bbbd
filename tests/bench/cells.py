"""A thousand what-if cells against one pick.

Contents: `cells`, `STUDIES`.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import partial

from docs.performance_page import Row
from tests.bench.answers import middle
from tests.bench.timing import Desk, Settings, Spent, brief_path, desk, ratio, rounds

STUDIES = {
    "first_rig": ("duty.hose_reach=80ft:200ft:5ft", "duty.output=6lb/min:13.8lb/min:0.2lb/min"),
    "humid_coast": ("duty.hose_reach=200ft:320ft:5ft", "duty.output=14lb/min:21.8lb/min:0.2lb/min"),
}
"""A thousand cells around a brief's own values: 25 reaches times 40 outputs."""
SMALL = {
    "first_rig": ("duty.hose_reach=100ft:120ft:10ft", "duty.output=8lb/min:9.4lb/min:0.2lb/min"),
}
"""A few cells, to see whether it runs."""


def cells(settings: Settings) -> tuple[list[Row], list[str]]:
    """The studies as whole commands on two processes and on one."""
    told: list[Row] = []
    with desk() as place:
        for name, vary in (SMALL if settings.quick else STUDIES).items():
            told += _commands(place, name, vary, settings)
    return told, []


def _commands(place: Desk, name: str, vary: tuple[str, ...], settings: Settings) -> list[Row]:
    words = ("whatif", brief_path(name), *(word for path in vary for word in ("--vary", path)), "--json", "--jobs")
    jobs: dict[str, Callable[[], Spent]] = {
        "pick": partial(middle, partial(place.rigset, "pick", brief_path(name)), settings.few(5)),
        "two": partial(place.started, *words, "2"),
        "one": partial(place.started, *words, "1"),
    }
    found = rounds(jobs, 1)
    answer = json.loads(found["two"][0].said)["cells"]
    empty = sum(cell["status"] != "found" for cell in answer)
    title = f"{name}: {len(answer):,} what-ifs"
    return [
        ratio(f"{title}, two processes", found["two"], found["pick"], "whatif", f"{empty} of them without a rig"),
        ratio(f"{title}, one process", found["one"], found["pick"]),
    ]

