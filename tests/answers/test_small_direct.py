"""Functions of the answers that whole answers on the small world do not reach: refusals word by word, and small parts."""

from __future__ import annotations

import json
import os
import threading
import time
from dataclasses import replace

import numpy as np
import pytest

import solver.answers.beside
from solver.answers.ask import ask
from solver.answers.beside import beside
from solver.answers.certificate import certify, verify
from solver.answers.certificate_file import certificate_text, read_certificate
from solver.answers.frontier import _spread
from solver.answers.money import money_facts
from solver.answers.rivals import rivals
from solver.answers.robust import _monotone, robust
from solver.answers.sheet import price_against_weight, rig_of_lines, sheet_facts
from solver.answers.whatif import _binding, finished, whatif
from solver.answers.why import why
from solver.errors import DoesNotHold, EntryError, InputError, InternalError, NotProven
from tests.answers.small.world import asked, brief, picked, refused, stock


@pytest.mark.parametrize(
    "work, text",
    [
        (lambda: ask(stock(), brief("barns").changed(waived=["WT-01"])),
         'found waived "WT-01"; expected the id of a rule that is practice. Try: taking it out of `waived`'),
        (lambda: ask(stock(), brief("barns").changed(waived=["NO-01"])),
         'found waived "NO-01"; expected the id of a rule that is practice. Try: taking it out of `waived`'),
        (lambda: why(stock(), brief("barns"), rules=("NO-01",)),
         'found rule "NO-01"; expected the id of a rule, as in docs/rules.md.'),
        (lambda: why(stock(), brief("barns"), better_by=0.0),
         "found better by 0; expected a share above 0 % and at most 90 %. Try: 5 %"),
        (lambda: why(stock(), brief("barns"), better_by=0.91),
         "found better by 0.91; expected a share above 0 % and at most 90 %. Try: 5 %"),
        (lambda: why(stock(), brief("barns"), most_conflicts=0),
         "found 0 conflicts; expected a number of at least 1. Try: 4"),
        (lambda: why(stock(), brief("wishes"), rules=("HEAT-04",)),
         "found a working asked for where no rig fits; expected a brief with a rig. Try: `rigset why` without --rule"),
        (lambda: rivals(stock(), brief("barns"), differ=()),
         "found no slot to differ in; expected one slot or more. Try: --differ proportioner,compressor,generator,vehicle"),
        (lambda: rivals(stock(), brief("barns"), count=0), "found a count of 0; expected 1 or more."),
        (lambda: robust(stock(), brief("barns")),
         "found a brief without ranges; expected at least one. Try: ranges: {duty.altitude: {from: 0 ft, to: 7000 ft}}"),
        (lambda: robust(stock(), brief("barns"), dict.fromkeys(SEVEN, (0.0, 0.0))),
         "found 7 ranges; expected at most 6, since every corner counts."),
        (lambda: whatif(stock(), brief("barns"), ()),
         "found nothing to vary; expected at least one requirement. Try: --vary duty.hose_reach=100ft:300ft:50ft"),
        (lambda: whatif(stock(), brief("barns"), ("output=9lb/min", "barns.output=8lb/min")),
         'found "barns.output", varied twice; expected each requirement once. Try: all its values in one --vary'),
        (lambda: whatif(stock(), brief("barns"), ("output=9lb/min", "output=8lb/min")),
         'found "output", varied twice; expected each requirement once. Try: all its values in one --vary'),
        (lambda: whatif(stock(), brief("barns"), ("output=9lb/min",), binding="some"),
         'found binding "some"; expected one of none, rules, savings. Try: savings'),
        (lambda: whatif(stock(), brief("barns"), {"output": tuple(np.linspace(0.05, 0.1, 1001)),
                                                  "altitude": tuple(np.linspace(0.0, 900.0, 1000))}),
         "found 1,001,000 cells; expected at most 1,000,000. Try: fewer values, or --one-at-a-time"),
    ],
)  # fmt: skip
def test_what_cannot_be_asked_is_refused(work, text):
    assert refused(EntryError, work) == text


SEVEN = ("output", "altitude", "hose_reach", "limits.budget", "outlets", "humidity", "tool_power")


# --- work beside ------------------------------------------------------------------------------------------------------
@pytest.fixture
def alone(monkeypatch):
    """As if no thread ran: those that other tests have left do no harm here."""
    monkeypatch.setattr(threading, "active_count", lambda: 1)


def test_work_is_shared_between_two_processes_and_comes_back_in_order(monkeypatch, alone, tmp_path):
    monkeypatch.setattr(os, "cpu_count", lambda: 2)

    def work(k):
        """Done once another process has taken a piece too, or after a while."""
        (tmp_path / str(os.getpid())).touch()
        for _ in range(200):
            if len(list(tmp_path.iterdir())) > 1:
                break
            time.sleep(0.01)
        return k, os.getpid()

    seen = beside([lambda k=k: work(k) for k in range(40)])
    assert [k for k, _ in seen] == list(range(40))
    assert os.getpid() in {process for _, process in seen}
    assert len({process for _, process in seen}) == 2


@pytest.mark.parametrize("cores, alike", [(1, True), (None, True), (2, False)])
def test_one_core_works_alone(cores, alike, monkeypatch, alone):
    monkeypatch.setattr(os, "cpu_count", lambda: cores)
    assert solver.answers.beside._of_use() is not alike
    assert beside([lambda: 1]) == [1]
    assert beside([]) == []


def test_no_second_process_beside_threads(monkeypatch):
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    done = threading.Event()
    thread = threading.Thread(target=done.wait)
    thread.start()
    try:
        assert not solver.answers.beside._of_use()
    finally:
        done.set()
        thread.join()


@pytest.mark.parametrize("wrong", range(6))
def test_an_error_of_either_process_is_raised_here(wrong, monkeypatch, alone):
    monkeypatch.setattr(os, "cpu_count", lambda: 2)

    def work(k):
        if k == wrong:
            raise EntryError(f"job {k}", "another")
        return sum(range(50_000))

    text = refused(EntryError, lambda: beside([lambda k=k: work(k) for k in range(6)]))
    assert text == f"found job {wrong}; expected another."


# --- small parts ------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "values, good",
    [((), True), ((3,), True), ((1, 1, 2), True), ((2, 1, 1), True), ((1, 2, 1), False), ((2, 1, 2), False),
     ((None, None), True), ((None, 1), False), ((1, None), False)],
)  # fmt: skip
def test_monotone(values, good):
    assert _monotone(values) is good


def test_points_that_are_shown_are_spread_evenly():
    costs = np.array([[float(k), float(100 - k)] for k in range(101)])
    assert _spread(costs[:24]) == tuple(range(24))
    assert _spread(costs, 24) == tuple(sorted({0, 100, *(int(np.ceil(round(100 * k / 23, 9))) for k in range(1, 23))}))
    uneven = np.array([[0.0, 9.0, 5.0], [1.0, 8.0, 0.0], [2.0, 7.0, 5.0], [3.0, 6.0, 5.0], [90.0, 5.0, 5.0]])
    assert _spread(uneven, 4) == (0, 1, 2, 4)  # both ends, the least third cost, and the half of a way of 3.31
    level = np.array([[float(k), 3.0] for k in range(10)])
    assert _spread(level, 4) == (0, 3, 6, 9)


def test_a_rig_is_read_from_its_lines():
    of, lines = asked("barns"), picked("barns").rig
    rig = rig_of_lines(of, lines)
    assert of.lines(rig) == lines
    wrong = (replace(lines[0], item="proportioner-99"), *lines[1:])
    assert refused(InternalError, lambda: rig_of_lines(of, wrong)) == str(
        InternalError(f"slot proportioner has 0 options called proportioner-99 {lines[0].choice}")
    )
    dearer = replace(picked("barns"), total=replace(picked("barns").total, price=1.0))
    assert refused(InternalError, lambda: sheet_facts(stock(), brief("barns"), dearer)) == str(
        InternalError("the rig of the answer is not the one that its lines name")
    )


def test_no_trade_where_no_rig_fits():
    assert price_against_weight(stock(), brief("wishes")) == ()


def test_two_trades_are_the_ends():
    ends = price_against_weight(stock(), brief("barns"), 2)
    assert [end.total for end in ends] == [picked("barns").total, ends[1].total]
    assert ends[1].total.weight < ends[0].total.weight and ends[1].total.price > ends[0].total.price


# --- certificates -----------------------------------------------------------------------------------------------------
@pytest.fixture(scope="module")
def certificate():
    """That of `barns`."""
    return certify(stock(), brief("barns"), picked("barns"))[0]


def verified(certificate, folder, name="barns"):
    path = folder / "certificate.json"
    path.write_text(certificate_text(certificate), encoding="utf-8")
    return verify(stock(), brief(name), path)


def test_a_certificate_is_read_as_it_was_written(certificate, tmp_path):
    path = tmp_path / "certificate.json"
    path.write_text(certificate_text(certificate), encoding="utf-8")
    assert certificate_text(read_certificate(path)) == certificate_text(certificate)


@pytest.mark.parametrize(
    "change, text",
    [
        (lambda c: {"least": c.least + 1}, "the rig does not cost what is said to be the least"),
        (lambda c: {"least": c.least - 1}, "the rig does not cost what is said to be the least"),
        (lambda c: {"rig": c.rig[1:]}, "the rig does not name every slot once, in their order"),
        (lambda c: {"rig": (replace(c.rig[0], item="proportioner-99"), *c.rig[1:])},
         "the rig has an option in slot proportioner that this catalog does not have"),
        (lambda c: {"slots": c.slots + 1}, "the numbers of slots, options and rows are not those of its program"),
        (lambda c: {"options": c.options + 1}, "the numbers of slots, options and rows are not those of its program"),
        (lambda c: {"rows": c.rows - 1}, "the numbers of slots, options and rows are not those of its program"),
    ],
)  # fmt: skip
def test_a_certificate_that_does_not_hold(certificate, change, text, tmp_path):
    found = verified(replace(certificate, **change(certificate)), tmp_path)
    assert (found.status, found.refusal) == ("refused", str(DoesNotHold(text)))
    assert (found.findings, found.left, found.total, found.rig) == (None, (), None, ())


def test_a_certificate_of_another_question(certificate, tmp_path):
    text = refused(InputError, lambda: verified(certificate, tmp_path, "wishes"))
    assert "found the certificate of another question, " in text
    assert f'(brief "{certificate.title}", catalog "catalog"); expected that of this brief and catalog, ' in text


def test_nothing_is_certified_that_is_not_proven():
    for change in ({"proven": False}, {"status": "unknown"}):
        unsure = replace(picked("barns"), **change)
        assert refused(NotProven, lambda: certify(stock(), brief("barns"), unsure)) == str(  # noqa: B023
            NotProven("the answer is not proven, so no certificate was written")
        )


@pytest.mark.parametrize(
    "change, expected",
    [
        ({"format": "another"}, 'found no certificate; expected a file with "format": "rigset certificate".'),
        ({"version": 2},
         "found a certificate of another version; expected version 1. Try: the version of rigset that wrote it"),
        ({"version": True},
         "found a certificate of another version; expected version 1. Try: the version of rigset that wrote it"),
        ({"more": 1},
         "found other keys in the certificate; expected format, version, claim, by, unit, least, brief, catalog, "
         "program, rig, proof."),
        ({"claim": "best"}, "found another claim; expected `claim`: least or none."),
        ({"by": "size"}, "found another objective; expected `by`: price, weight, yearly-cost."),
        ({"by": 1}, "found another objective; expected `by`: price, weight, yearly-cost."),
        ({"unit": "grams"}, "found another unit; expected `unit`: cents."),
        ({"least": None}, "found something else under `least`; expected a whole number."),
        ({"least": True}, "found something else under `least`; expected a whole number."),
        ({"claim": "none"}, "found something else under `least`; expected null."),
        ({"claim": "none", "least": None},
         "found something else under `rig`; expected a list of slots; an empty one where no rig fits."),
        ({"brief": {"title": 1}}, "found something else under `title`; expected text."),
        ({"catalog": {"name": 1, "items": 1}}, "found something else under `name`; expected text."),
        ({"catalog": {"name": "a", "items": "b"}}, "found something else under `items`; expected a whole number."),
        ({"catalog": []}, "found other keys in `catalog`; expected name, items."),
        ({"rig": {}}, "found something else under `rig`; expected a list of slots; an empty one where no rig fits."),
        ({"rig": [{"slot": "gun", "item": 1, "choice": ""}]}, "found something else in a line of `rig`; expected text."),
        ({"proof": {}}, "found something else under `proof`; expected a list of steps."),
    ],
)  # fmt: skip
def test_a_file_that_is_no_certificate(certificate, change, expected, tmp_path):
    path = tmp_path / "certificate.json"
    path.write_text(json.dumps({**json.loads(certificate_text(certificate)), **change}), encoding="utf-8")
    assert refused(InputError, lambda: read_certificate(path)) == f"{path}: {expected}"


# --- money and what is kept -------------------------------------------------------------------------------------------
def test_without_a_price_of_foam_nothing_is_earned():
    of = asked("attics")
    facts = money_facts(of, of.rig_of(of.best().columns))
    work = facts.material_per_board_foot + facts.labour_per_board_foot + facts.fuel_per_board_foot
    assert facts.contribution_per_board_foot == pytest.approx(facts.foam_price - work)
    assert facts.yearly_cost == pytest.approx(facts.fixed_yearly_cost + facts.fuel_a_year, abs=0.02)
    assert (facts.break_even_board_feet is None) == (facts.contribution_per_board_foot <= 0.0)


def test_a_study_that_was_stopped_goes_on(tmp_path):
    out = tmp_path / "cells.csv"
    study = ("output=9lb/min,10lb/min",)
    told = []
    first = whatif(stock(), brief("barns"), study, jobs=1, out=out, progress=lambda done, of: told.append((done, of)))
    assert told == [(3, 3)]
    part = tmp_path / "cells.csv.part"
    assert refused(EntryError, lambda: whatif(stock(), brief("barns"), study, jobs=1, out=out)) == (
        f"found {part}, left by a run that was stopped; expected a fresh start. Try: --resume to go on with it, or --force "
        "to begin anew"
    )
    lines = part.read_bytes().splitlines(keepends=True)
    part.write_bytes(b"".join(lines[:-1]) + lines[-1][:-9])
    assert whatif(stock(), brief("barns"), study, jobs=1, out=out, resume=True) == first
    assert part.read_bytes().splitlines(keepends=True) == lines
    other = ("output=9lb/min,11lb/min",)
    assert refused(EntryError, lambda: whatif(stock(), brief("barns"), other, jobs=1, out=out, resume=True)) == (
        f"found {part}, the journal of another study; expected the same brief, catalog and values as when it was stopped. "
        "Try: the old command again, another --out, or --force to begin anew"
    )
    finished(out)
    finished(out)
    assert not part.exists()


def test_a_large_study_says_which_rules_bind_without_savings():
    assert _binding(None, 101) == "savings"
    assert _binding(None, 102) == "rules"
    assert [_binding(said, 200) for said in ("none", "rules", "savings")] == ["none", "rules", "savings"]
