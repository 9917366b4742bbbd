"""What a program is known by: one number over all its figures, the same on any machine.

Contents: `fingerprint`, `short`.
"""

from __future__ import annotations

import hashlib

import numpy as np

from solver.program.matrix import Ints, Program

FORM = b"rigset program 1\n"
"""Start of what is hashed; another form of it gets another number here."""


def fingerprint(program: Program) -> str:
    """SHA-256 over rows, right-hand sides, columns of the slots, costs and names of the rows, in hexadecimal.

    Each is preceded by its name and size; whole numbers are 8 bytes, lowest first, rows one after the other; costs stand in
    the order of their names.
    """
    digest = hashlib.sha256(FORM)

    def add(name: str, size: tuple[int, ...], data: bytes) -> None:
        digest.update(f"{name} {' '.join(map(str, size))}\n".encode() + data + b"\n")

    def numbers(name: str, values: Ints) -> None:
        add(name, values.shape, np.ascontiguousarray(values, "<i8").tobytes())

    numbers("rows", program.rows)
    numbers("rhs", program.rhs)
    numbers("offsets", program.offsets)
    for by in sorted(program.costs):
        numbers(f"cost {by}", program.costs[by])
    for label in program.labels:
        words = str(label).encode()
        add("label", (len(words),), words)
    return digest.hexdigest()


def short(whole: str) -> str:
    """The first figures of a fingerprint, as a message shows it."""
    return f"{whole[:12]}..."
