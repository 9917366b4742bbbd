"""The number in a cell: decimal points and commas, thousands, fractions, feet and inches. Two readings are no reading.

Contents: `split_figure` (number and what follows), `plain_number` (the number with a decimal point), `only_comma`,
`Convention`.

A figure such as `1.250,00` can only be meant with a decimal comma, `1,250.00` only with a point; `1,250` and `1.250` are
either. Where nothing says that the file is written with commas, `1,250` is one thousand two hundred and fifty; where
something does (a semicolon between the columns, another figure that can only be one with a comma), it is refused.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from solver.errors import EntryError

_POINT = re.compile(r"[+-]?(?:(?:[1-9][0-9]{0,2}(?:,[0-9]{3})+|[0-9]+)(?:\.[0-9]*)?|\.[0-9]+)")
_COMMA = re.compile(r"[+-]?(?:(?:[1-9][0-9]{0,2}(?:(?:\.[0-9]{3})+|(?: [0-9]{3})+)|[0-9]+)(?:,[0-9]*)?|,[0-9]+)")
_FRACTION = re.compile(r"([+-]?)(?:([0-9]{1,4})[ -])?([0-9]{1,4})/([0-9]{1,4})(?![0-9.,/])")
_FEET = re.compile(
    r"([0-9]{1,4})(?:'| ?ft\.?| ?feet) ?-? ?([0-9]{1,2}(?:\.[0-9]+)?)(?: ([0-9]{1,2}/[0-9]{1,2}))? ?(?:\"|''|in\.?)"
)
_NUMBER = re.compile(r"[+-]?[.,]?[0-9][0-9.,]*(?: [0-9]{3}(?![0-9])[0-9.,]*)*(?:[eE][+-]?[0-9]{1,3}(?![0-9A-Za-z]))?")
_FOOTNOTE = re.compile(r"[*†‡§¹]+(?:$|\s)|[0-9.,] ?[*†‡§¹²³⁰⁴-⁹]")
_PARTS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_PLAIN = str.maketrans({
    "\u00a0": " ", "\u2009": " ", "\u202f": " ", "\u2007": " ", "−": "-", "–": "-", "‐": "-", "‑": "-", "⁄": "/",
    "′": "'", "’": "'", "″": '"', "”": '"', "“": '"',
})  # fmt: skip
_BELOW = (2, 3, 4, 8, 16, 32, 64)
"""What stands below the line in a fraction of a price list; `120/240` is no fraction."""


@dataclass(frozen=True)
class Convention:
    """How numbers are written in a file."""

    decimal: str = ""
    """`point` or `comma` where it was said, else empty."""
    doubt: str = ""
    """What speaks for decimal commas, where nothing was said: empty if nothing does."""


def cleaned(text: str) -> str:
    """A text with plain spaces, signs and fractions, such as `2 1/2` for `2½`; EntryError for a footnote's mark."""
    if _FOOTNOTE.search(text):
        raise EntryError(f'"{text[:60]}", with a mark that may belong to a footnote', "one figure", "taking the mark out")
    text = text.translate(_PLAIN)
    for sign, part in _PARTS.items():
        text = text.replace(sign, f" {part}")
    return " ".join(text.split())


def split_figure(text: str) -> tuple[str, str]:
    """The number at the start of a cleaned text (fraction or feet and inches included), and the rest; ("", text) if none.

    Examples
    --------
    >>> split_figure("1,250.00 lb"), split_figure("2-1/2 in"), split_figure("6' 3\\"")
    (('1,250.00', 'lb'), ('2 1/2', 'in'), ('75', 'in'))
    """
    feet = _FEET.match(text)
    if feet:
        return _inches(feet), f"in {text[feet.end() :].strip()}".strip()
    fraction = _FRACTION.match(text)
    if fraction:
        sign, whole, above, below = fraction.groups()
        if int(below) not in _BELOW or int(above) >= int(below):
            raise EntryError(f'"{text[:60]}", two figures or an odd fraction', "one figure")
        number = f"{sign}{whole} {above}/{below}" if whole else f"{sign}{above}/{below}"
        return number, text[fraction.end() :].strip()
    match = _NUMBER.match(text)
    return (match[0], text[match.end() :].strip()) if match else ("", text)


def _inches(feet: re.Match[str]) -> str:
    whole, inches, fraction = feet.groups()
    if float(inches) >= 12 or (fraction and "." in inches):
        raise EntryError(f'"{feet[0]}", no feet and inches', "inches below 12")
    part = ""
    if fraction:
        above, below = (int(piece) for piece in fraction.split("/"))
        if below not in _BELOW or above >= below:
            raise EntryError(f'"{feet[0]}", with an odd fraction', "one figure")
        part = f" {fraction}"
    decimals = inches.partition(".")[2]
    total = int(whole) * 12 + int(inches.partition(".")[0])
    return f"{total}{'.' + decimals if decimals else ''}{part}"


def only_comma(number: str) -> bool:
    """Whether a number can only be meant with a decimal comma, or a point between thousands."""
    return bool(_COMMA.fullmatch(number)) and not _POINT.fullmatch(number)


def plain_number(number: str, convention: Convention) -> str:
    """A number with a decimal point and nothing between thousands; EntryError if it can be read in two ways, or in none.

    Examples
    --------
    >>> plain_number("1,250.00", Convention()), plain_number("1.250,00", Convention("comma"))
    ('1250.00', '1250.00')
    """
    if "/" in number:
        return number
    mantissa, mark, power = number.partition("e" if "e" in number else "E")
    point, comma = bool(_POINT.fullmatch(mantissa)), bool(_COMMA.fullmatch(mantissa))
    if mark and ("," in mantissa or not point):
        raise EntryError(f'"{number}", which is no number', "a number such as 1250 or 1,250.50")
    if convention.decimal == "comma":
        if not comma:
            raise EntryError(f'"{number}", which is no number with a decimal comma', "a number such as 1250 or 1.250,50")
        return mantissa.replace(".", "").replace(" ", "").replace(",", ".") + mark + power
    if comma and not point:
        raise EntryError(
            f'"{number}", which may be written with a decimal comma', "a decimal point, or one way for the whole file",
            "" if convention.decimal else "--decimal comma",
        )  # fmt: skip
    if not point:
        raise EntryError(f'"{number}", which is no number', "a number such as 1250 or 1,250.50")
    if comma and not convention.decimal and convention.doubt and ("," in mantissa or "." in mantissa):
        raise EntryError(
            f'"{number}", which is one figure with a decimal point and another with a comma ({convention.doubt})',
            "one way for the whole file", "--decimal comma or --decimal point",
        )  # fmt: skip
    return mantissa.replace(",", "") + mark + power
