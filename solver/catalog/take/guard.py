"""Text in a CSV file that a spreadsheet program would take for a formula: an apostrophe before it, and off again.

Contents: `with_guard`, `without_guard`. Each undoes the other, whatever the text.
"""

from __future__ import annotations

import re

_FORMULA = re.compile(r"'*[=+\-@\t\r]")
_GUARDED = re.compile(r"''*[=+\-@\t\r]")
_NUMBER = re.compile(r"[+-]?[0-9.,]+(?: ?[A-Za-z%/]+)?")


def with_guard(text: str) -> str:
    """The text as it is written; figures such as `-5` and `-5 degF` are left alone, and so is a lone hyphen.

    Examples
    --------
    >>> with_guard("=1+1"), with_guard("-5 degF"), with_guard("gun")
    ("'=1+1", '-5 degF', 'gun')
    """
    if not _FORMULA.match(text) or text == "-" or _NUMBER.fullmatch(text):
        return text
    return f"'{text}"


def without_guard(text: str) -> str:
    """The text as it was before.

    Examples
    --------
    >>> without_guard("'=1+1"), without_guard("'tis a gun")
    ('=1+1', "'tis a gun")
    """
    return text[1:] if _GUARDED.match(text) else text
