"""What is kept of a what-if and what is varied in it: journals on the disk, studies as bytes, values from text."""

from __future__ import annotations

import errno
import itertools
import json
import os
from dataclasses import replace

import pytest

from solver.answers import whatif_store, whatif_values
from solver.answers.facts import Totals
from solver.answers.whatif_facts import Cell, Study, Swap, from_plain, to_plain
from solver.answers.whatif_store import Journal, packed, study_digest, unpacked
from solver.answers.whatif_values import axis_from, axis_of, figure_of
from solver.brief.requirements import REQUIREMENTS
from solver.errors import CannotWrite, EntryError, NotANumber, UnitForgotten
from tests.answers.small.world import brief, picked, refused, stock

# --- journals ---------------------------------------------------------------------------------------------------------
CELLS = [
    Cell(k, (None, 0.1 + k), "found", True, "é", (1, k), Totals(1.0, 2.0, 1 / 3), picked("barns").money, (("WT-03", None),
         ("GUN-01", 0.1)), ("WT-01",), ("x",), (Swap("gun", "", "A"),)) for k in range(5)
]  # fmt: skip


def study_of(*vary, **more):
    of = brief("barns")
    axes = tuple(axis_of(text, of) for text in vary or ("outlets=1,2", "altitude=0ft,100ft"))
    return replace(Study(stock(), of, "price", axes), **more)


def begun(folder, *cells, study=None):
    """A journal with these cells, closed again."""
    journal = Journal(folder / "run.csv", study or study_of())
    assert journal.open(False, False) == {}
    journal.add(cells)
    journal.close()
    return journal


def resumed(folder):
    """The cells that a journal is found to hold."""
    journal = Journal(folder / "run.csv", study_of())
    found = journal.open(True, False)
    journal.close()
    return found


def test_a_cell_comes_back_from_plain_data_as_it_was():
    for cell in (*CELLS, Cell(3, (), "none")):
        assert from_plain(json.loads(json.dumps(to_plain(cell)))) == cell


def test_a_study_is_known_by_all_that_its_cells_depend_on():
    smaller = replace(stock(), classes={**stock().classes, "gun": stock().classes["gun"][:1]})
    others = [study_of(by="weight"), study_of(one_at_a_time=True), study_of(binding="rules"), study_of("outlets=1,2")]
    others += [study_of("outlets=1,2", "altitude=0ft,101ft"), study_of(brief=brief("wishes")), study_of(catalog=smaller)]
    assert study_digest(study_of()) == study_digest(study_of()) != study_digest(others[0])
    assert len({study_digest(study) for study in (study_of(), *others)}) == 1 + len(others)
    data = packed(study_of())
    assert unpacked(data).cells == study_of().cells and unpacked(data).brief == brief("barns")
    assert refused(TypeError, lambda: unpacked(packed("a study"))) == "a piece of work without its study"


def test_a_journal_holds_whole_lines_only_and_goes_on_behind_them(tmp_path):
    path = begun(tmp_path, *CELLS[:3]).path
    assert path == tmp_path / "run.csv.part"
    whole = path.read_bytes()
    lines = whole.splitlines(keepends=True)
    assert lines[0] == f"rigset what-if 1 {study_digest(study_of())}\n".encode() and len(lines) == 4
    ends = list(itertools.accumulate(map(len, lines)))
    for cut, kept in [(ends[3], 3), (ends[3] - 1, 2), (ends[2] + 1, 2), (ends[0], 0), (ends[0] - 1, 0), (0, 0)]:
        path.write_bytes(whole[:cut])
        journal = Journal(tmp_path / "run.csv", study_of())
        assert journal.open(True, False) == {k: CELLS[k] for k in range(kept)}
        journal.add(CELLS[4:])
        journal.close()
        assert path.read_bytes().splitlines(keepends=True)[:-1] == lines[: kept + 1]
        assert resumed(tmp_path) == {k: CELLS[k] for k in (*range(kept), 4)}
    for place in (ends[0] + 3, ends[1] + 15, ends[1] + 17, ends[2] + 40):
        path.write_bytes(whole[:place] + b"~" + whole[place + 1 :])
        kept = sum(end <= place for end in ends) - 1
        assert resumed(tmp_path) == {k: CELLS[k] for k in range(kept)}


def test_a_journal_is_on_the_disk_whatever_is_taken_at_a_time(tmp_path, monkeypatch):
    whole = begun(tmp_path, *CELLS).path
    expected, synced = whole.read_bytes(), []
    journal = Journal(tmp_path / "run.csv", study_of())
    real = os.write
    monkeypatch.setattr(os, "write", lambda file, data: real(file, data[:7]))
    monkeypatch.setattr(os, "fsync", lambda file: synced.append(os.fstat(file).st_size))
    assert journal.open(False, True) == {}
    journal.add(CELLS)
    assert "é".encode() in expected
    assert (synced, whole.read_bytes()) == ([expected.index(b"\n") + 1, len(expected)], expected)
    monkeypatch.setattr(os, "write", lambda file, data: (_ for _ in ()).throw(OSError(errno.ENOSPC, "No Space Left")))
    text = f"{whole} could not be written (no space left). Nothing was written. Try: another folder"
    assert refused(CannotWrite, lambda: journal.add(CELLS)) == text
    monkeypatch.setattr(os, "write", lambda file, data: (_ for _ in ()).throw(OSError()))
    text = f"{whole} could not be written (an error of the file system). Nothing was written. Try: another folder"
    assert refused(CannotWrite, lambda: journal.add(CELLS)) == text
    journal.remove()
    assert (journal._file, whole.exists()) == (None, False)
    journal.remove()
    journal.add(CELLS)
    assert refused(CannotWrite, lambda: Journal(tmp_path / "no" / "run.csv", study_of()).open(False, False)) == (
        f"{tmp_path}/no/run.csv.part could not be written (no such file or directory). Nothing was written. "
        "Try: another folder"
    )


def test_a_journal_may_be_read_like_any_other_file(tmp_path):
    before = os.umask(0)
    try:
        assert begun(tmp_path).path.stat().st_mode & 0o777 == 0o666
    finally:
        os.umask(before)


def test_a_journal_is_held_by_one_run(tmp_path, monkeypatch):
    fcntl = pytest.importorskip("fcntl")
    first = Journal(tmp_path / "run.csv", study_of())
    first.open(False, False)
    second = Journal(tmp_path / "run.csv", study_of())
    found = f"found {first.path}, on which another run is working"
    text = f"{found}; expected a journal of one run. Try: waiting for that run, or another --out"
    for given in ((False, False), (True, False), (False, True)):
        assert refused(EntryError, lambda: second.open(*given)) == text  # noqa: B023
        assert second._file is None
    other = os.open(tmp_path / "other", os.O_RDWR | os.O_CREAT)
    assert not whatif_store._held(other, first.path), "the file of this name is another one by now"
    assert not whatif_store._held(other, tmp_path / "gone")
    assert whatif_store._held(other, tmp_path / "other")
    os.close(other)
    first.close()
    monkeypatch.setattr(fcntl, "flock", lambda *given: (_ for _ in ()).throw(OSError(errno.ENOLCK, "no locks")))
    assert second.open(True, False) == {} and second._file is not None
    second.close()


# --- values -----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "text, figures",
    [
        ("output=9lb/min", ["9 lb/min"]),
        ("hose_reach=100ft:100ft:50ft", ["100 ft"]),
        ("hose_reach=0.1in:0.3in:0.1in", ["0.008333 ft", "0.016667 ft", "0.025 ft"]),
        ("hose_reach=+1e2 ft : 12e1 ft : 10 ft", ["100 ft", "110 ft", "120 ft"]),
        ("hose_reach=30m:120ft:1m", ["98.425197 ft", "101.706037 ft", "104.986877 ft", "108.267717 ft", "111.548556 ft",
                                     "114.829396 ft", "118.110236 ft"]),
        ("budget=70000USD:$71000:500 USD", ["70,000 USD", "70,500 USD", "71,000 USD"]),
        ("coldest_air=-5degC:5degC:5degC", ["23 degF", "32 degF", "41 degF"]),
        ("coldest_air=30degF:31degF:0.5 delta_degC", ["30 degF", "30.9 degF"]),
        ("coldest_air=30°F:40°F:5degF", ["30 degF", "35 degF", "40 degF"]),
        ("air_share=0.5:0.6:5%", ["50 %", "55 %", "60 %"]),
        ("air_share=50 %:0.6:0.05", ["50 %", "55 %", "60 %"]),
        ("outlets=1:999999:499999", ["1", "500000", "999999"]),
        ("warm_up_time=90min:2h:15min", ["1.5 h", "1.75 h", "2 h"]),
        ("outlets= 3 , 1,2", ["3", "1", "2"]),
    ],
)  # fmt: skip
def test_values_of_an_axis(text, figures):
    axis = axis_of(text, brief("barns"))
    assert [figure_of(axis.requirement, value) for value in axis.values] == figures
    assert axis.path == text.partition("=")[0] and all(type(value) is float for value in axis.values)


@pytest.mark.parametrize(
    "text, sentence",
    [
        ("outlets=1000000", 'found "1000000"; expected a whole number for outlets. Try: 2'),
        ("outlets=", 'found "outlets="; expected PATH=FROM:TO:STEP or PATH=VALUE,VALUE. Try: '
                     "duty.hose_reach=100ft:300ft:50ft"),
        ("outlets=1:2", 'found "outlets=1:2"; expected a range of three figures, FROM:TO:STEP. Try: outlets=0:4:1'),
        ("hose_margin=1:2", 'found "hose_margin=1:2"; expected a range of three figures, FROM:TO:STEP. Try: '
                            "hose_margin=0degF:4degF:1degF"),
        ("outlets=1:2:0", 'found the step "0" in "outlets=1:2:0"; expected a step above zero.'),
        ("outlets=0:10000:1", 'found 10,001 values in "outlets=0:10000:1"; expected at most 10,000. Try: a larger step'),
    ],
)  # fmt: skip
def test_values_that_are_none(text, sentence):
    kind = NotANumber if "whole number" in sentence else EntryError
    assert refused(kind, lambda: axis_of(text, brief("barns"))) == sentence


@pytest.mark.parametrize("text", ["outlets=7:6:1", "hose_reach=2m:5ft:1ft"])
def test_a_range_begins_at_its_lower_end(text):
    sentence = f'found the range "{text}"; expected first the lower end, then the higher one.'
    assert refused(EntryError, lambda: axis_of(text, brief("barns"))) == sentence


def test_a_comma_inside_of_a_figure_is_told_from_one_between_two():
    ends = (" Try: 12 ft", " Try: a unit at each value, and no comma inside of a figure: 1200ft,1500ft")
    for text, end in zip(("hose_reach=12", "hose_reach=12,13 ft"), ends, strict=True):
        sentence = f'found "12", without a unit; expected a length such as 50 ft.{end}'
        assert refused(UnitForgotten, lambda: axis_of(text, brief("barns"))) == sentence  # noqa: B023


def test_figures_of_an_axis(monkeypatch):
    outlets = REQUIREMENTS["outlets"]
    assert refused(EntryError, lambda: axis_from("outlets", outlets, (), ())) == (
        'found "outlets" without a value; expected at least one value.'
    )
    assert refused(EntryError, lambda: axis_from("outlets", outlets, (), (1, 2, 3, 2.0))) == (
        'found 2 a second time in "outlets"; expected each value once.'
    )
    assert axis_from("outlets", outlets, (), (2, 1)).values == (2.0, 1.0)
    assert refused(EntryError, lambda: axis_from("x", outlets, (), range(10_001))) == (
        'found 10,001 values of "x"; expected at most 10,000. Try: a larger step'
    )
    monkeypatch.setattr(whatif_values, "MOST_VALUES", 3)
    assert axis_of("outlets=1:3:1", brief("barns")).values == axis_from("x", outlets, (), (1, 2, 3)).values == (1.0, 2.0, 3.0)
    text = 'found 4 values in "outlets=1:4:1"; expected at most 3. Try: a larger step'
    assert refused(EntryError, lambda: axis_of("outlets=1:4:1", brief("barns"))) == text
