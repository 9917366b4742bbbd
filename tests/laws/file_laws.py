"""All laws of the answer to pick through files, by name: `LAWS`.

The laws that set it against other ways of answering stand in `laws_of_rows.py`, those on changed files in
`laws_of_files.py`.
"""

from __future__ import annotations

from collections.abc import Callable

from tests.laws import laws_of_files, laws_of_rows
from tests.laws.law_case import LawCase

Law = Callable[[LawCase], int]
LAWS: dict[str, Law] = {
    law.__name__: law
    for law in (
        laws_of_rows.equals_highs, laws_of_rows.equals_every_rig, laws_of_rows.check_agrees, laws_of_rows.rules_dropped,
        laws_of_rows.items_forced_or_forbidden, laws_of_rows.resolution_finer, laws_of_files.items_unwanted,
        laws_of_files.prices_scaled, laws_of_files.dominated_item, laws_of_files.equal_item_later,
        laws_of_files.equal_item_earlier, laws_of_files.duty_twice, laws_of_files.states_twice,
    )
}  # fmt: skip
