"""The air of a rig as a drawing: compressor, receiver, dryer, filters, then each user with its flow and pressure.

Contents: `air_drawing`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from solver.report.drawings import symbols
from solver.report.drawings.canvas import Canvas, wrapped
from solver.report.drawings.flow_air import Air, AirUser
from solver.report.sheet.figures import Figure, Text, bare, fig, unit_word

WIDTH, TRUNK, WORDS = 420.0, 74.0, 116.0
STEP, SMALL = 15.5, 50
COLUMNS = (304.0, 358.0, 414.0)


def air_drawing(air: Air, name: str, units: str = "us", of: str = "") -> Canvas:
    """How air flows in one duty. `of` is the place of the flows in the JSON of the answer."""
    c = Canvas(
        name,
        f"Compressed air, {air.duty}",
        f"From the compressor through receiver{', dryer' if air.dryer else ''} and filters to "
        f"{len(air.users)} users of air, with average flows and the pressure each needs.",
        WIDTH,
    )
    y = 14.0
    for draw, words in _machines(air, units, of):
        y = _machine(c, y, draw, words)
    y = _users(c, y, air, units, of)
    c.height = y
    return c


_SYMBOLS: dict[str, Callable[[Canvas, float, float], None]] = {
    "receiver": symbols.receiver, "dryer": symbols.dryer, "filter": symbols.filter_,
}  # fmt: skip


def _machine(c: Canvas, y: float, draw: str, words: list[tuple[str | Figure | Text, str]]) -> float:
    """One machine on the trunk with its words beside it; the y below."""
    height = max(48.0, STEP * len(words) + 14.0)
    middle = y + height / 2 - 4
    c.line((TRUNK, y if draw != "compressor" else middle), (TRUNK, y + height), look="pipe")
    if draw == "compressor":
        c.line((TRUNK - 30, middle - 2), (TRUNK - 17, middle - 2))
        c.line((TRUNK - 30, middle + 2), (TRUNK - 17, middle + 2))
        symbols.motor(c, TRUNK - 43, middle)
        symbols.compressor(c, TRUNK, middle)
    else:
        _SYMBOLS[draw](c, TRUNK, middle)
    line = middle - STEP * (len(words) - 1) / 2 + 4
    for text, look in words:
        c.text(WORDS, line, text, look)
        line += STEP
    return y + height


Words = list[tuple["str | Figure | Text", str]]


def _machines(air: Air, units: str, of: str) -> Iterator[tuple[str, Words]]:
    def told(name: str, unit: str) -> Figure:
        value = getattr(air, name)
        return fig(f"{of}.{name}", 0.0 if value is None else value, unit, units)

    words: Words = [("Compressor", "strong"), *((line, "small") for line in wrapped(air.compressor, SMALL))]
    if air.delivered is not None:
        words.append((("gives ", told("delivered", "scfm"), " from the hot body's air"), ""))
    if air.cut_in is not None:
        pressures: list[str | Figure] = ["starts again at ", told("cut_in", "psi")]
        if air.cut_out:
            pressures += [", stops at ", told("cut_out", "psi")]
        words.append((pressures, ""))
    yield "compressor", words
    for name, title, label in (("own_receiver", "Its receiver", ""), ("extra_receiver", "Extra receiver", air.receiver)):
        if getattr(air, name):
            more = [(line, "small") for line in wrapped(label, SMALL)] if label else []
            yield "receiver", [((f"{title}: ", told(name, "gal")), "strong"), *more]
    if air.dryer:
        words = [("Air dryer", "strong"), *((line, "small") for line in wrapped(air.dryer, SMALL))]
        if air.dryer_drop is not None:
            words.append((("takes ", told("dryer_drop", "psi"), " of pressure"), ""))
        if air.dew_point is not None:
            words.append((("dew point under pressure ", told("dew_point", "degF")), ""))
        yield "dryer", words
    if air.filter_drop:
        yield "filter", [("Filters", "strong"), (("take ", told("filter_drop", "psi"), " of pressure"), "")]


def _users(c: Canvas, y: float, air: Air, units: str, of: str) -> float:
    """The users, one below the other, with their columns."""
    y += 8
    for x, head, unit in zip(COLUMNS, ("spraying", "cleaning", "needs"), ("scfm", "scfm", "psi"), strict=True):
        c.text(x, y + 8, head, "small end")
        c.text(x, y + 21, unit_word(unit, units).split(" ")[0], "small end")
    c.line((TRUNK, y - 8), (TRUNK, y + 22), look="pipe")
    y += 22
    for k, user in enumerate(air.users):
        lines = wrapped(user.label, SMALL, 1)
        c.line((TRUNK, y), (TRUNK, y + 22), look="pipe")
        c.line((TRUNK, y + 22), (TRUNK + 18, y + 22), look="pipe")
        symbols.user(c, TRUNK + 22, y + 22)
        if k < len(air.users) - 1:
            c.line((TRUNK, y + 22), (TRUNK, y + 42), look="pipe")
        c.text(WORDS + 2, y + 19, _name(user))
        c.text(WORDS + 2, y + 33, lines[0], "small")
        place = f"{of}.users.{k}"
        for x, name in zip(COLUMNS, ("spraying", "cleaning"), strict=False):
            value = getattr(user, name)
            if value:
                c.text(x, y + 19, bare(fig(f"{place}.{name}", value, "scfm", units)), "end")
        if user.pressure is not None:
            c.text(COLUMNS[2], y + 19, bare(fig(f"{place}.pressure", user.pressure, "psi", units)), "end")
        y += 42
    if air.line_drop is not None:
        told: Text = (
            "The gun's line takes ",
            fig(f"{of}.line_drop", air.line_drop, "psi", units),
            " on its way at its design air.",
        )
        c.text(20, y + 16, told, "small")
        y += 18
    return y + 12


_SHORT = {
    "purge air of the gun": "gun", "air of the blow gun": "blow gun", "purge of the air dryer": "dryer's purge",
    "air that drives the proportioner": "proportioner", "air of the drum mixer": "drum mixer",
    "air of the respirators": "respirators", "air of feed pump A": "feed pump A", "air of feed pump B": "feed pump B",
}  # fmt: skip


def _name(user: AirUser) -> str:
    return _SHORT.get(user.what, user.what)
