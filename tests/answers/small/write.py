"""Writes the files of answers anew: `python -m tests.answers.small.write [NAME ...]`. Read what changed before it is kept."""

from __future__ import annotations

import json
import sys
import time

import solver.answers.beside
from tests.answers.small.work import COUNTED, PATH, counted
from tests.answers.small.world import ANSWERS, path_of, plain, text_of

if __name__ == "__main__":
    solver.answers.beside._of_use = lambda: False
    work = json.loads(PATH.read_text(encoding="utf-8")) if PATH.exists() else {}
    for name in sys.argv[1:] or ANSWERS:
        begun = time.process_time()
        answer, work[name] = counted(name)
        text = text_of(plain(answer)) + "\n"
        path_of(name).write_text(text, encoding="utf-8")
        print(f"{name}: {len(text):,} characters, {work[name]} questions, {time.process_time() - begun:.2f} s")
    PATH.write_text(json.dumps({name: work[name] for name in COUNTED}, indent=1) + "\n", encoding="utf-8")
