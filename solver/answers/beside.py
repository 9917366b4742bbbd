"""Work that is mostly ours, not the engine's, shared between two processes.

Contents: `beside`.

Laying rules and compiling rows holds the interpreter's lock, so threads do not help. A second process is made by a fork,
which shares everything worked out so far at no cost. It is made only where that is safe and of use: the system can fork, has
more than one core, and no thread is running. The results are the same either way.
"""

from __future__ import annotations

import os
import pickle
import threading
from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

R = TypeVar("R")
_WIDTH, _MOST = 2, 16_000
"""Bytes of a number in the pipe, and how many numbers surely fit it."""


def beside(jobs: Sequence[Callable[[], R]]) -> list[R]:
    """What each job gives, in order; a second process takes its share of them where it can be made.

    Both take the next job from one list of numbers in a pipe. An exception of either process is raised here. What the jobs
    give must be picklable.
    """
    if len(jobs) < 2 or len(jobs) > _MOST or not _of_use():
        return [job() for job in jobs]
    numbers, filling = os.pipe()
    os.write(filling, b"".join(k.to_bytes(_WIDTH, "big") for k in range(len(jobs))))
    os.close(filling)
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        _serve(jobs, numbers, writing)
    os.close(writing)
    try:
        found = dict(_taken(jobs, numbers))
        with os.fdopen(reading, "rb") as stream:
            content = stream.read()
    finally:
        os.close(numbers)
        _end(child)
    others, fault = pickle.loads(content) if content else ({}, None)
    if fault is not None:
        raise fault
    found.update(others)
    return [found[k] if k in found else job() for k, job in enumerate(jobs)]


def _taken(jobs: Sequence[Callable[[], R]], numbers: int) -> Iterator[tuple[int, R]]:
    """Jobs taken from the list until it is empty, with what they give."""
    while taken := os.read(numbers, _WIDTH):
        k = int.from_bytes(taken, "big")
        yield k, jobs[k]()


def _of_use() -> bool:
    return hasattr(os, "fork") and (os.cpu_count() or 1) > 1 and threading.active_count() == 1


def _serve(jobs: Sequence[Callable[[], R]], numbers: int, writing: int) -> None:
    """The second process: do its share, write the results, and leave without touching what the first one has open."""
    from solver.search.engine import solve_directly

    code = 1
    try:
        solve_directly()
        try:
            content = pickle.dumps((dict(_taken(jobs, numbers)), None))
        except Exception as fault:
            content = pickle.dumps((None, fault))
        with os.fdopen(writing, "wb") as stream:
            stream.write(content)
        code = 0
    finally:
        os._exit(code)


def _end(child: int) -> None:
    """Wait for the second process; stop it first where the first one was interrupted."""
    import signal

    done, _ = os.waitpid(child, os.WNOHANG)
    if not done:
        os.kill(child, signal.SIGTERM)
        os.waitpid(child, 0)
