"""A thing for winter work; each item is a yes/no slot of its own."""

from solver.catalog.base import Item
from solver.catalog.fields import NeededTags


class WinterKit(Item):
    """A thing for winter work; each item is a yes/no slot of its own."""

    class_name = "winter_kit"

    provides: NeededTags
    """What it provides, as tags; the rules ask for some of them."""
