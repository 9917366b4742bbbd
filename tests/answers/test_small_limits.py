"""What answers say where the limit of work ends before them, where the program itself is at fault, and of parts of a proof
that are left to the engine; on the small world."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from functools import cache, partial
from math import prod

import numpy as np
import pytest

import solver.search.best
import solver.search.front
import solver.search.least
from solver.answers.ask import Asked, ask
from solver.answers.certificate import certify, verify
from solver.answers.certificate_file import certificate_text
from solver.answers.complete import complete
from solver.answers.frontier import frontier
from solver.answers.insist import insist
from solver.answers.mend import mend
from solver.answers.pick import pick
from solver.answers.rivals import rivals
from solver.answers.sheet import price_against_weight
from solver.answers.why import why
from solver.errors import EntryError, InputError, InternalError, NotProven
from solver.program.matrix import Program
from solver.search.best import Found
from tests.answers.small.world import asked, brief, picked, refused, rig_file, stock

NOTHING = Found(None, False, None, None, 1)
"""What the engine room says where the limit of work ended."""


@pytest.fixture(autouse=True)
def _known():
    """The picks are worked out before anything is changed."""
    picked("barns"), picked("wishes")


def test_a_slot_to_differ_in_is_one_of_the_rig():
    names = ", ".join(list(asked("barns").setting.slots)[:22])
    text = f'found slot "seat"; expected a slot of the rig. Try: one or more of {names}'
    assert refused(EntryError, lambda: rivals(stock(), brief("barns"), differ=("gun", "seat"))) == text


def test_a_brief_with_ranges_has_no_certificate():
    ranged = brief("barns").changed(ranges={"barns.altitude": {"from": "0 ft", "to": "900 ft"}})
    text = (
        "found a certificate asked for a brief with `ranges`; expected a brief in which every figure is one number. Try: a "
        "copy of the brief for each point of the ranges that matters"
    )
    assert refused(EntryError, lambda: certify(stock(), ranged, picked("barns"))) == text


# --- where the limit of work ends -------------------------------------------------------------------------------------
BEST = "the limit of work ended before the best rig was proven"
ENDED = {
    "why": (lambda folder: why(stock(), brief("barns")), BEST),
    "workings": (lambda folder: why(stock(), brief("barns"), rules=("WT-03",)), BEST),
    "insist": (lambda folder: insist(stock(), brief("barns")), BEST),
    "complete": (lambda folder: complete(stock(), brief("barns"), rig_file(folder, picked("barns").rig)),
                 "the limit of work ended before it was known whether what is named can be completed"),
    "mend": (lambda folder: mend(stock(), brief("barns"), rig_file(folder, picked("barns").rig)),
             "the limit of work ended before it was known whether the rig can be mended"),
    "trades": (lambda folder: price_against_weight(stock(), brief("barns"), 6),
               "the limit of work ended before a point of the front was certain"),
}  # fmt: skip


@pytest.mark.parametrize("kind", ENDED)
def test_an_answer_that_is_not_known_is_none(kind, monkeypatch, tmp_path):
    work, text = ENDED[kind]
    monkeypatch.setattr(Asked, "best", lambda *given, **more: NOTHING)
    monkeypatch.setattr(solver.search.best, "best", lambda question: NOTHING)
    monkeypatch.setattr(solver.search.least, "least", lambda *given: NOTHING)
    assert refused(NotProven, lambda: work(tmp_path)) == text


def test_sets_to_let_go_that_are_not_known_are_none(monkeypatch, tmp_path):
    path = rig_file(tmp_path, picked("barns").rig, generator="generator-03", vehicle="vehicle-01")
    monkeypatch.setattr(solver.search.least, "least", lambda *given: NOTHING)
    text = "the limit of work ended before it was known which of the named slots stand in the way"
    assert refused(NotProven, lambda: complete(stock(), brief("barns"), path)) == text


def test_a_pick_that_is_not_known_says_so(monkeypatch):
    monkeypatch.setattr(Asked, "cheapest", lambda *given: NOTHING)
    monkeypatch.setattr(Asked, "settled", lambda of, found: found)
    unknown = {"status": "unknown", "proven": False, "reasons": False, "conflicts": ()}
    assert pick(stock(), brief("wishes")) == replace(picked("wishes"), **unknown)


def test_a_conflict_that_is_not_known_is_left_out(monkeypatch):
    def ended(of):
        raise NotProven("ended")

    monkeypatch.setattr("solver.answers.pick.conflict", ended)
    assert pick(stock(), brief("wishes")) == replace(picked("wishes"), conflicts=(), reasons=False)


def test_savings_that_are_not_known_are_left_out(monkeypatch):
    def ended(of, columns):
        raise NotProven("ended")

    monkeypatch.setattr("solver.answers.reasons.binding_rules", ended)
    assert pick(stock(), brief("barns")) == replace(picked("barns"), binding=(), reasons=False)


def test_a_rig_that_is_not_proven_has_a_bound(monkeypatch):
    found = asked("barns").best()
    monkeypatch.setattr(Asked, "cheapest", lambda *given: replace(found, proven=False, bound=6_000_050))
    monkeypatch.setattr(Asked, "settled", lambda of, found: found)
    told = pick(stock(), brief("barns"))
    assert told == replace(picked("barns"), proven=False, bound=60_000.5, binding=(), reasons=False)


# --- faults of the program itself -------------------------------------------------------------------------------------
def test_a_rig_that_breaks_a_row_is_a_fault():
    of = asked("barns")
    assert refused(InternalError, lambda: of.recheck(of.program.offsets[:-1])) == "the engine's rig breaks an integer row"


def test_a_rig_that_fails_the_re_check_is_a_fault(monkeypatch):
    of = ask(stock(), brief("barns"))
    columns = of.program.offsets[:-1]
    first = next(balance for balance in of.balances(of.rig_of(columns)) if not balance.holds)
    monkeypatch.setattr(Program, "fits", lambda *given: True)
    assert refused(InternalError, lambda: of.recheck(columns)) == f"the engine's rig fails the re-check at {first.place}"


def test_balances_are_kept_for_the_last_rig_alone():
    of = ask(stock(), brief("barns"))
    rig, other = (of.rig_of(columns) for columns in (of.program.offsets[:-1], of.program.offsets[1:] - 1))
    assert of.balances(rig) is of.balances(dict(rig))
    assert of.balances(other) == asked("barns").balances(other) != of.balances(rig)


def test_a_point_of_the_front_that_breaks_a_row_is_a_fault(monkeypatch):
    found = solver.search.front.front

    def spoilt(*given, **more):
        points = found(*given, **more)
        monkeypatch.setattr(Program, "fits", lambda *given: False)
        return points

    monkeypatch.setattr(solver.search.front, "front", spoilt)
    told = []
    text = "a rig of the front breaks an integer row"
    work = partial(frontier, stock(), brief("thrifty"), progress=lambda *words: told.append(words))
    assert refused(InternalError, work) == text
    assert told[-1] == ("front", 1.0)
    assert all(re.fullmatch("[0-9,]+ rigs known, [0-9,]+ zones open", words) and share == 0.0 for words, share in told[:-1])


# --- certificates -----------------------------------------------------------------------------------------------------
@cache
def content(name):
    """The certificate of a brief as text."""
    return certificate_text(certify(stock(), brief(name), picked(name))[0])


def verified(folder, data):
    """What is said of a certificate under the barns."""
    path = folder / "certificate.json"
    path.write_text(json.dumps(data), "utf-8")
    return verify(stock(), brief("barns"), path)


def test_a_rig_that_breaks_a_row_is_refused_by_its_place(tmp_path):
    of = asked("barns")
    rig = of.rig_of(of.best().columns)
    rig["generator"] = of.setting.slots["generator"].items.index("generator-03")
    broken = np.flatnonzero(of.program.rows[:, of.columns_of(rig)].sum(axis=1) > of.program.rhs)
    (line,) = (line for line in of.lines(rig) if line.slot == "generator")
    data = json.loads(content("barns"))
    next(row for row in data["rig"] if row["slot"] == "generator").update(item=line.item, choice=line.choice)
    assert verified(tmp_path, data).refusal == f"the rig breaks {of.program.labels[int(broken[0])]}"


def test_a_whole_left_to_the_engine_is_listed(tmp_path):
    told = verified(tmp_path, json.loads(content("barns")) | {"proof": [{"step": "by-engine"}]})
    sizes = [len(table) for table in asked("barns").setting.slots.values()]
    (left,) = told.left
    assert (told.status, told.refusal, left.part, left.fixed) == ("in part", "", "", ())
    assert (left.single, left.choices) == (sizes.count(1), prod(sizes))
    assert (told.total, told.rig, told.least) == (picked("barns").total, picked("barns").rig, 6944700)


def test_parts_left_to_the_engine_say_what_is_open_in_them(tmp_path):
    of = asked("barns")
    slot = list(of.setting.slots).index("gun")
    first, end = of.program.slices[slot]
    groups = [[first], list(range(first + 1, end))]
    steps = [{"step": "split", "slot": slot, "groups": groups}, {"step": "by-engine"}, {"step": "by-engine"}]
    told = verified(tmp_path, json.loads(content("barns")) | {"proof": steps})
    table = of.setting.slots["gun"]
    rows = list(zip(table.items, table.labels, table.choices, strict=True))
    parts = [[(name, [(p.slot, (p.item, p.label, p.choice)) for p in own], size) for name, own, size in part.fixed]
             for part in told.left]  # fmt: skip
    assert told.status == "in part"
    assert [part.part for part in told.left] == ["1", "2"]
    assert parts == [
        [("gun", [("gun", row) for row in rows[:1]], len(rows))],
        [("gun", [("gun", row) for row in rows[1:]], len(rows))],
    ]


def test_a_certificate_of_another_question_is_told_by_its_marks(tmp_path):
    marks = {name: json.loads(content(name))["program"]["fingerprint"] for name in ("barns", "wishes")}
    text = (
        f"{tmp_path}/certificate.json: found the certificate of another question, {marks['wishes'][:12]}... (brief "
        f'"More than can be had", catalog "catalog"); expected that of this brief and catalog, {marks["barns"][:12]}.... '
        "Try: brief and catalog as they were when it was written, or a new one by `rigset pick BRIEF --certificate FILE`"
    )
    assert refused(InputError, lambda: verified(tmp_path, json.loads(content("wishes")))) == text
