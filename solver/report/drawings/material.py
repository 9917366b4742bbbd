"""The material of a rig as a drawing: drums, feed pumps, proportioner, heated hose, gun, with flows, heat and pressure.

Contents: `material_drawing`.
"""

from __future__ import annotations

from collections.abc import Callable

from solver.report.drawings import symbols
from solver.report.drawings.canvas import Canvas, wrapped
from solver.report.drawings.flow_material import Material
from solver.report.sheet.figures import Figure, Text, fig

WIDTH, A, B, WORDS = 420.0, 40.0, 96.0, 142.0
STEP, SMALL = 15.5, 46
Words = list[tuple["str | Figure | Text", str]]
Told = Callable[[str, str], Figure]


def material_drawing(material: Material, name: str, units: str = "us", of: str = "") -> Canvas:
    """How material flows in one duty. `of` is the place of the figures in the JSON of the answer."""
    m = material
    c = Canvas(
        name,
        f"Material, {m.duty}",
        "Isocyanate (A) and resin (B) from their drums through feed pumps, proportioner and heated hose to the gun, "
        "with temperatures, pressures and flows.",
        WIDTH,
    )

    def told(field: str, unit: str) -> Figure:
        value = m
        for step in field.split("."):
            value = value[int(step)] if step.isdigit() else getattr(value, step)  # type: ignore[index]
        return fig(f"{of}.{field}", float(value), unit, units)  # type: ignore[arg-type]

    y = _drums(c, m, told)
    y = _pumps(c, y, m, told)
    y = _proportioner(c, y, m, told)
    y = _hose(c, y, m, told)
    c.height = _gun(c, y, m, told)
    return c


def _words(c: Canvas, y: float, words: Words) -> float:
    """Words beside a stage; the y below them."""
    for text, look in words:
        c.text(WORDS, y, text, look)
        y += STEP
    return y


def _small(text: str, most: int = 2) -> Words:
    return [(line, "small") for line in wrapped(text, SMALL, most)]


def _drums(c: Canvas, m: Material, told: Told) -> float:
    sets = f"{m.sets} set{'s' * (m.sets != 1)} of material"
    words: Words = [
        (sets, "strong"),
        *_small(m.set_label),
        (("drums at ", told("drums", "degF"), " in the cold of the day"), ""),
    ]
    if m.mixer:
        words.append((f"stirred: {wrapped(m.mixer, 36, 1)[0]}", "small"))
    below = _words(c, 20, words)
    y = max(68.0, below - 4)
    for x in (A, B):
        c.line((x, 50), (x, y), look="pipe")
    symbols.drum(c, A, 34, "A")
    symbols.drum(c, B, 34, "B")
    return y


def _pumps(c: Canvas, y: float, m: Material, told: Told) -> float:
    words: Words = [("Feed pumps", "strong")]
    for k, side in enumerate(m.sides):
        if side.pump:
            words += [(line, "small") for line in wrapped(f"{side.name}: {side.pump}", SMALL, 2)]
        if side.pump_flow is not None:
            words.append(((f"{side.name} gives ", told(f"sides.{k}.pump_flow", "gpm"), f" of cold {side.liquid}"), ""))
    if m.side_flow is not None:
        words.append((("each side takes ", told("side_flow", "gpm")), ""))
    below = _words(c, y + 14, words)
    end = max(y + 56, below)
    middle = y + 28
    for x in (A, B):
        c.line((x, y), (x, end), look="pipe")
        symbols.pump(c, x, middle)
    return end


def _proportioner(c: Canvas, y: float, m: Material, told: Told) -> float:
    words: Words = [("Proportioner", "strong"), *_small(m.proportioner)]
    if m.output is not None:
        words.append((("sprays ", told("output", "lb/min"), " while the gun is open"), ""))
    if m.sides[0].at_machine is not None and m.sides[1].at_machine is not None:
        words.append((("makes ", told("sides.0.at_machine", "psi"), " (A), ", told("sides.1.at_machine", "psi"), " (B)"), ""))
    if m.flow_heat is not None and m.heat_supply is not None:
        words.append(
            (("heats to ", told("at_gun", "degF"), ": ", told("flow_heat", "kW"), " of ", told("heat_supply", "kW")), "")
        )
        if m.drums_help:
            words.append(("from its heaters and warm drums", "small"))
    if m.circulation:
        words += [(line, "small") for line in wrapped(f"warms the drums by circulation: {m.circulation}", SMALL, 2)]
    below = _words(c, y + 18, words)
    end = max(y + 104, below + 4)
    c.rect(A - 25, y + 6, B - A + 50, 88, "faint", 5)
    for x in (A, B):
        c.line((x, y), (x, end), look="pipe")
        symbols.pump(c, x, y + 28)
        symbols.heater(c, x, y + 70)
    if m.circulation:
        c.line((A - 25, y + 84), (8, y + 84), (8, 34), (A - 17, 34), look="line warm")
        c.line((B + 25, y + 84), (128, y + 84), (128, 34), (B + 17, 34), look="line warm")
    return end


def _hose(c: Canvas, y: float, m: Material, told: Told) -> float:
    words: Words = [("Heated hose", "strong"), (m.sections, "")]
    if m.hose_length is not None:
        words.append((("in all ", told("hose_length", "ft")), ""))
    words.append((("held at ", told("least_in_hose", "degF"), " or warmer"), ""))
    if m.hose_loss is not None and m.hose_heat is not None:
        words.append((("loses ", told("hose_loss", "kW"), " of ", told("hose_heat", "kW"), " of hose heat"), ""))
    for place, name in (("in_hose", "hose"), ("in_whip", "whip")):
        if getattr(m.sides[0], place) is not None:
            words.append(
                ((f"{name} takes ", told(f"sides.0.{place}", "psi"), " (A), ", told(f"sides.1.{place}", "psi"), " (B)"), "")
            )
    below = _words(c, y + 18, words)
    end = max(y + 90, below + 2)
    symbols.heated_line(c, A, y, end - 26, -1)
    symbols.heated_line(c, B, y, end - 26, 1)
    for x in (A, B):
        c.line((x, end - 26), (x, end), look="pipe")
    return end


def _gun(c: Canvas, y: float, m: Material, told: Told) -> float:
    middle = (A + B) / 2
    for x, side in ((A, -9), (B, 9)):
        c.line((x, y), (x, y + 8), (middle + side, y + 16), (middle + side, y + 24), look="pipe")
    symbols.gun(c, middle, y + 24)
    words: Words = [("Gun", "strong"), *_small(m.gun)]
    if m.sides[0].at_gun is not None:
        words.append(((told("sides.0.at_gun", "psi"), " and ", told("at_gun", "degF")), ""))
        words.append(("by the material's data sheet", "small"))
    for k, rating in enumerate(m.ratings):
        words.append(((f"{rating.part} bears ", told(f"ratings.{k}.psi", "psi")), "small"))
    return max(y + 66, _words(c, y + 22, words) + 2)
