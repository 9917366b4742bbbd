"""Small catalogs for tests that pick many times: a third of the demo's items and all of the best rig's.

Contents: `small`.
"""

from __future__ import annotations

from functools import cache

from solver.catalog import Catalog
from tests.demo.demo import asked, brief
from tests.laws.smaller import kept_by, nested_parts


@cache
def small(name: str) -> Catalog:
    """A part of the demo catalog in which this demo brief has a rig."""
    of = asked(name)
    columns = of.cheapest().columns
    assert columns is not None
    items = frozenset(line.item for line in of.lines(of.rig_of(columns)))
    return nested_parts(1, (0.3,), kept_by(brief(name)) | items)[0]
