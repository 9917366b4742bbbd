"""A thing for safety; each item is a yes/no slot of its own."""

from solver.catalog.base import Item
from solver.catalog.fields import NeededTags


class SafetyItem(Item):
    """A thing for safety; each item is a yes/no slot of its own."""

    class_name = "safety_item"

    provides: NeededTags
    """What it provides, as tags; the rules ask for some of them."""
