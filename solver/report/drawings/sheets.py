"""Worksheets by their place, for drawings that read their figures there.

Contents: `Sheets`.
"""

from __future__ import annotations

from solver.rules.worksheet import Worksheet


class Sheets:
    """Worksheets by rule, duty, state, end and part."""

    def __init__(self, worksheets: tuple[Worksheet, ...]):
        self._found = {_key(sheet): sheet for sheet in worksheets}

    def get(self, rule: str, duty: str = "", state: str = "", end: str = "", part: str = "") -> Worksheet | None:
        """The worksheet of this place, None where there is none."""
        return self._found.get((rule, duty, state, end, part))

    def need(self, *place: str) -> float | None:
        """The need there."""
        sheet = self.get(*place)
        return None if sheet is None else sheet.balance.need

    def supply(self, *place: str) -> float | None:
        """The supply there."""
        sheet = self.get(*place)
        return None if sheet is None else sheet.balance.supply

    def entry(self, what: str, *place: str) -> float | None:
        """The value of the entry called so, None where the place or the entry is not there."""
        sheet = self.get(*place)
        found = [entry.value for entry in sheet.entries if entry.what == what] if sheet else []
        return sum(found) if found else None


def _key(sheet: Worksheet) -> tuple[str, str, str, str, str]:
    place = sheet.balance.place
    return place.rule, place.duty, place.state, place.end, place.part
