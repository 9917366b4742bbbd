"""A tool; each item is a yes/no slot of its own."""

from solver.catalog.base import Item
from solver.catalog.fields import NeededTags


class Tool(Item):
    """A tool; each item is a yes/no slot of its own."""

    class_name = "tool"

    provides: NeededTags
    """What it provides, as tags; the rules ask for some of them."""
