"""The journal of a what-if: nothing that was settled is lost, whatever is left of the last line; another study is refused."""

from __future__ import annotations

import random
import subprocess
import sys
from functools import cache
from importlib.util import find_spec

import pytest

from solver.answers import whatif as whatif_module
from solver.answers.whatif import whatif
from solver.answers.whatif_facts import Study, from_plain, to_plain
from solver.answers.whatif_store import Journal, packed, unpacked
from solver.answers.whatif_values import axis_of
from solver.errors import CannotWrite, EntryError
from solver.report.whatif_data import to_csv
from tests.answers.whatif_small import small
from tests.cli.run import ROOT
from tests.demo.demo import brief

VARY = ("limits.budget=70000USD:90000USD:2500USD",)


@cache
def settled():
    """A study without savings, worked out once."""
    return whatif(small("first_rig"), brief("first_rig"), VARY, binding="none", jobs=1)


def study(*vary: str) -> Study:
    """The same, before it is worked out."""
    named = brief("first_rig")
    return Study(small("first_rig"), named, "price", tuple(axis_of(text, named) for text in vary or VARY), binding="none")


def test_a_cell_goes_through_the_journal_unchanged(tmp_path):
    out = tmp_path / "run.csv"
    journal = Journal(out, study())
    assert journal.open(resume=False, force=False) == {}
    cells = (settled().base, *settled().cells)
    journal.add(cells[:3])
    journal.add(cells[3:5])
    journal.close()
    again = Journal(out, study())
    found = again.open(resume=True, force=False)
    again.close()
    plain = {cell.number: from_plain(to_plain(cell) | {"changed": []}) for cell in cells[:5]}
    assert {number: from_plain(to_plain(cell) | {"changed": []}) for number, cell in found.items()} == plain


@pytest.mark.parametrize("seed", range(25))
def test_whatever_is_left_of_a_journal_is_gone_on_with(tmp_path, seed, monkeypatch):
    """Cut anywhere, or with its last bytes damaged, it gives the output of a run that was never stopped."""
    rng = random.Random(seed)
    out = tmp_path / "run.csv"
    monkeypatch.setattr(whatif_module, "CHUNK", 3)
    asked = []
    real = whatif_module.settle

    def counted(of, base, numbers):
        asked.extend(numbers)
        return tuple(cells[number] for number in numbers)

    cells = {cell.number: cell for cell in (settled().base, *settled().cells)}
    journal = Journal(out, study())
    journal.open(resume=False, force=False)
    journal.add(cells[number] for number in range(rng.randrange(len(cells))))
    journal.close()
    content = journal.path.read_bytes()
    kept = content[: rng.randrange(len(content) + 1)]
    if b"\n" in kept and rng.random() < 0.5:
        kept += bytes(rng.randrange(256) for _ in range(rng.randrange(60)))
    journal.path.write_bytes(kept)
    monkeypatch.setattr(whatif_module, "settle", counted if seed else real)
    found = whatif(small("first_rig"), brief("first_rig"), VARY, binding="none", jobs=1, out=out, resume=True)
    assert to_csv(found) == to_csv(settled())
    whole = kept.count(b"\n") - 1
    assert len(asked) >= len(cells) - max(0, whole) or not seed
    assert len(set(asked)) == len(asked)


def test_a_journal_of_another_study_is_refused(tmp_path):
    out = tmp_path / "run.csv"
    first = Journal(out, study())
    first.open(resume=False, force=False)
    first.close()
    with pytest.raises(EntryError) as caught:
        Journal(out, study("limits.budget=70000USD")).open(resume=True, force=False)
    assert str(caught.value) == (
        f"found {out}.part, the journal of another study; expected the same brief, catalog and values as when it was "
        "stopped. Try: the old command again, another --out, or --force to begin anew"
    )


def test_a_journal_is_not_overwritten_unless_asked(tmp_path):
    out = tmp_path / "run.csv"
    first = Journal(out, study())
    first.open(resume=False, force=False)
    first.add([settled().base])
    first.close()
    with pytest.raises(EntryError) as caught:
        Journal(out, study()).open(resume=False, force=False)
    assert str(caught.value) == (
        f"found {out}.part, left by a run that was stopped; expected a fresh start. Try: --resume to go on with it, or "
        "--force to begin anew"
    )
    again = Journal(out, study())
    assert again.open(resume=False, force=True) == {}
    again.close()
    assert first.path.read_bytes().count(b"\n") == 1


@pytest.mark.skipif(find_spec("fcntl") is None, reason="no locks of this kind here")
@pytest.mark.parametrize(("resume", "force"), [(False, False), (True, False), (False, True)])
def test_a_second_run_on_one_journal_is_refused_and_spoils_nothing(tmp_path, resume, force):
    out = tmp_path / "run.csv"
    first = Journal(out, study())
    first.open(resume=False, force=False)
    with pytest.raises(EntryError) as caught:
        Journal(out, study()).open(resume, force)
    assert str(caught.value) == (
        f"found {out}.part, on which another run is working; expected a journal of one run. Try: waiting for that run, or "
        "another --out"
    )
    first.add([settled().base])
    first.close()
    again = Journal(out, study())
    assert list(again.open(resume=True, force=False)) == [0]
    again.close()


HOLDING = (
    "import sys, time; from pathlib import Path; from tests.answers.test_whatif_store import Journal, study; "
    "Journal(Path(sys.argv[1]), study()).open(False, False); print('held', flush=True); time.sleep(60)"
)


@pytest.mark.skipif(find_spec("fcntl") is None, reason="no locks of this kind here")
def test_a_journal_is_free_again_when_its_run_was_killed(tmp_path):
    out = tmp_path / "run.csv"
    with subprocess.Popen([sys.executable, "-c", HOLDING, str(out)], stdout=subprocess.PIPE, cwd=ROOT) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == b"held\n"
        with pytest.raises(EntryError, match="on which another run is working"):
            Journal(out, study()).open(resume=True, force=False)
        holder.kill()
        holder.wait()
    again = Journal(out, study())
    assert again.open(resume=True, force=False) == {}
    again.close()


def test_a_folder_that_is_not_there(tmp_path):
    out = tmp_path / "no" / "run.csv"
    with pytest.raises(CannotWrite) as caught:
        Journal(out, study()).open(resume=False, force=False)
    assert str(caught.value) == (
        f"{out}.part could not be written (no such file or directory). Nothing was written. Try: another folder"
    )


def test_a_study_goes_to_a_worker_and_back():
    data = packed(study())
    assert len(data) < 100_000
    found = unpacked(data)
    assert (found.brief, found.axes, found.cells) == (study().brief, study().axes, study().cells)
    assert found.catalog.items == small("first_rig").items
