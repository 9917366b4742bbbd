"""Every answer on the small world, whole, against its file, and with no more questions to the engine than it used to take.

The files are written by `python -m tests.answers.small.write`; `test_small_truths.py` says why what they hold is true.
"""

from __future__ import annotations

import json

import pytest

import solver.answers.beside
from tests.answers.small.work import COUNTED, PATH, counted, most
from tests.answers.small.world import ANSWERS, FOLDER, first_difference, plain, stored


@pytest.mark.parametrize("name", ANSWERS)
def test_the_answer_is_that_of_its_file(name, monkeypatch):
    monkeypatch.setattr(solver.answers.beside, "_of_use", lambda: False)
    answer, questions = counted(name)
    difference = first_difference(json.loads(json.dumps(plain(answer))), stored(name))
    assert difference == ""
    assert questions <= most(name)


def test_no_file_is_without_its_answer():
    assert sorted(path.stem for path in (FOLDER / "answers").glob("*.json")) == sorted(ANSWERS)
    assert sorted(json.loads(PATH.read_text(encoding="utf-8"))) == sorted(COUNTED)
