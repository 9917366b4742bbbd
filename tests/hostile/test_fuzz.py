"""A few thousand hostile files for every reader; `tests/bench/fuzz_readers.py` runs as many as one likes."""

from __future__ import annotations

import random
from collections import Counter

import pytest

from tests.hostile.cases import Bench

CASES = {"quantity": 2500, "yaml": 700, "catalog": 400, "brief": 300, "rig": 250, "compiled": 8}


@pytest.fixture(scope="module")
def bench(tmp_path_factory):
    return Bench(tmp_path_factory.mktemp("hostile"))


@pytest.mark.parametrize("reader", CASES)
def test_every_case_is_read_or_refused_in_whole_sentences(bench, reader):
    """`judged` fails a case for any other kind of error, for a message without its file, and for one nobody can read."""
    ends = Counter(getattr(bench, reader)(random.Random(f"2 {reader} {number}")) for number in range(CASES[reader]))
    assert ends.total() == CASES[reader]
    assert ends.total() > ends["read"]
    if reader != "catalog":  # which lacks the other classes
        assert ends["read"] > 0
