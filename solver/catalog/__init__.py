"""What can be bought: one model per class, reading, and columns in SI.

Contents: `read_catalog` (a folder of YAML files to a `Catalog`), `kept_catalog` (the same
from its checked binary copy), `Catalog`, `Item`, `Table`, `Words`, `item_classes`.
A class is one file of this folder; see `base.py` for how to add one.
"""

from solver.catalog.base import Item, item_classes
from solver.catalog.columns import Table, Words
from solver.catalog.kept import kept_catalog
from solver.catalog.read import Catalog, read_catalog

__all__ = ["Catalog", "Item", "Table", "Words", "item_classes", "kept_catalog", "read_catalog"]
