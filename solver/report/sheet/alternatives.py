"""Alternatives for the page: the next best rigs that differ in the slots that matter, side by side with the pick.

Contents: `AlternativeRow`, `alternative_rows`, `alternatives_json`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from solver.report.as_data import number, pounds
from solver.report.sheet.figures import Figure, dollars, pounds_of, typeset
from solver.report.sheet.subjects import is_kit, slot_words

if TYPE_CHECKING:
    from solver.answers.rivals import Rival, Rivals
    from solver.answers.swaps import Swap


@dataclass(frozen=True)
class AlternativeRow:
    """One rig: how it differs from the pick, its totals, and how much more it costs and weighs."""

    what: tuple[str, ...]
    price: Figure
    weight: Figure
    yearly: Figure
    more_price: Figure | None
    more_weight: Figure | None
    proven: bool


def alternatives_json(found: Rivals | None) -> dict[str, Any] | None:
    """The alternatives as data; differences are to the pick, which comes first."""
    if found is None or not found.rivals:
        return None
    first = found.rivals[0].total
    return {
        "differ": list(found.differ),
        "exhausted": found.exhausted,
        "rigs": [
            {
                "price": number(rival.total.price, 2),
                "weight_lb": pounds(rival.total.weight),
                "yearly_cost": number(rival.total.yearly_cost, 2),
                "more_price": number(rival.total.price - first.price, 2),
                "more_weight_lb": pounds(rival.total.weight - first.weight),
                "proven": rival.proven,
                "differs": list(_differs(rival)),
            }
            for rival in found.rivals
        ],
    }


def alternative_rows(found: Rivals | None, units: str, of: str = "alternatives.rigs") -> tuple[AlternativeRow, ...]:
    """Every rig, the pick first."""
    return () if found is None else tuple(_row(found, k, rival, f"{of}.{k}", units) for k, rival in enumerate(found.rivals))


def _row(found: Rivals, k: int, rival: Rival, of: str, units: str) -> AlternativeRow:
    first, total = found.rivals[0].total, rival.total
    price = dollars(f"{of}.more_price", total.price - first.price)
    weight = pounds_of(f"{of}.more_weight_lb", total.weight - first.weight, units)
    return AlternativeRow(
        _differs(rival),
        dollars(f"{of}.price", total.price),
        pounds_of(f"{of}.weight_lb", total.weight, units),
        dollars(f"{of}.yearly_cost", total.yearly_cost),
        _signed(price) if k else None,
        _signed(weight) if k else None,
        rival.proven,
    )


def _signed(figure: Figure) -> Figure:
    """A difference with its sign."""
    return figure if figure.value <= 0.0 else Figure(figure.of, figure.value, f"+{figure.text}")


def _differs(rival: Rival) -> tuple[str, ...]:
    """What stands in other slots, in words; other wiring and other kit are only counted."""
    main = [swap for swap in rival.swaps if (swap.item or swap.number) and not is_kit(swap.item_class)]
    words = [_words(swap) for swap in main]
    kit = sum(swap.item for swap in rival.swaps if is_kit(swap.item_class))
    if kit:
        words.append(f"{kit} {_pieces(kit)} of kit otherwise")
    return tuple(typeset(word) for word in words)


def _pieces(count: int) -> str:
    return "piece" if count == 1 else "pieces"


def _words(swap: Swap) -> str:
    name = slot_words(swap.slot, swap.item_class)
    if swap.after is None:
        return f"no {name}"
    choice = f" ({swap.after.choice})" if swap.after.choice and swap.slot == "hose" else ""
    return f"{name}: {swap.after.label}{choice}"


def slots_words(slots: Iterable[str]) -> str:
    """Slots in words, joined."""
    names = [slot_words(slot, slot) for slot in slots]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"
