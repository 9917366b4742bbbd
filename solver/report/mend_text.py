"""The answer to check --mend, for people: what fails, the swaps in words with their price, the mended rig.

Contents: `mend_text`.
"""

from __future__ import annotations

from solver.answers.mend import Mended, Swap
from solver.options.table import NONE
from solver.report.check_text import failure_lines
from solver.report.complete_text import named_line, slot_words
from solver.report.layout import bullet, heading, paragraph
from solver.report.money_text import money_lines
from solver.report.pick_text import assumed_lines, caution_lines, conflict_lines, mass, money, shopping

_MEANING = (
    "Money is what must be bought anew: what stays costs nothing more, what goes brings nothing back; of a thing that stays "
    "in another number only what is missing is bought. Prices without tax and freight."
)


def swap_words(swap: Swap) -> str:
    """A swap in words, with its price."""
    slot, before, after = slot_words(swap.after), swap.before, swap.after
    price = money(swap.cost)
    if after.item == NONE:
        return f"{slot}: {named_line(before)} left out, nothing comes back"
    if before.item == NONE:
        return f"{slot}: {named_line(after)} added, {'owned' if after.owned else price}"
    if before.item == after.item:
        return f"{slot}: {after.choice or after.count} instead of {before.choice or before.count} of {after.label} " \
               f"[{after.item}], {price}"  # fmt: skip
    return f"{slot}: {named_line(after)} instead of {named_line(before)}, {'owned' if after.owned else price}"


def rewired_words(swap: Swap) -> str:
    """A slot that keeps its item: how it is wired or set instead."""
    slot, before, after = slot_words(swap.after), swap.before, swap.after
    if before.choice == after.choice:
        return f"{slot}: {after.label} [{after.item}], {after.choice}, on the other supply system"
    return f"{slot}: {after.choice} instead of {before.choice} of {after.label} [{after.item}]"


def mend_text(mended: Mended, width: int, units: str = "us") -> str:
    """The whole answer in at most `width` columns."""
    lines = [mended.title, ""]
    lines += _verdict(mended, width, units)
    if mended.failures:
        lines += heading("What fails now") + failure_lines(mended.failures, width, units)
    if mended.total is not None and mended.money is not None:
        if mended.swaps:
            lines += heading("Swaps")
            for swap in mended.swaps:
                lines += bullet(swap_words(swap) + ".", width)
            lines += ["", *paragraph(_MEANING, width)]
        if mended.rewired:
            lines += heading("Wired or set otherwise, at no price")
            for swap in mended.rewired:
                lines += bullet(rewired_words(swap) + ".", width)
        lines += heading("The mended rig" if mended.failures else "The rig")
        lines += shopping(mended.rig, mended.total, units).lines(width)
        lines += heading("Money of the whole rig") + money_lines(mended.money, width)
    else:
        lines += conflict_lines(mended.conflicts, width, units)
    lines += assumed_lines(mended.assumptions, mended.waived, width) + caution_lines(mended.cautions, width)
    return "\n".join(lines) + "\n"


def _verdict(m: Mended, width: int, units: str) -> list[str]:
    if m.status == "fits":
        return paragraph("This rig fits the brief: every rule holds. There is nothing to mend.", width)
    if m.total is None:
        return paragraph("This rig does not fit, and no swaps mend it.", width)
    count = len(m.swaps)
    swaps = f"{count} swap{'' if count == 1 else 's'}" if count else "wiring alone"
    order = (
        "none takes fewer swaps, and of those none costs less; --mend alone puts money before swaps"
        if m.fewest
        else "none costs less, and of those as cheap none takes fewer swaps; --fewest-swaps puts swaps before money"
    )
    proof = f"Proven: {order}." if m.proven else "NOT PROVEN: the limit of work ended before every better rig was excluded."
    whole = f"The whole rig is then {money(m.total.price)}, {mass(m.total.weight, units)} of equipment and empty vehicle"
    before = f"before {money(m.before.price)}, {mass(m.before.weight, units)}"
    return paragraph(f"This rig does not fit. Mended by {swaps} for {money(m.spending)}. {proof} {whole}; {before}.", width)
