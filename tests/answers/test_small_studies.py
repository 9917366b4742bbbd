"""How the pieces of a what-if are shared out: who gets which, how many ahead, and that it changes no cell."""

from __future__ import annotations

import concurrent.futures
import json
import multiprocessing
import os
import signal
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager

import pytest

from solver.answers import whatif as module
from solver.answers.whatif import whatif
from solver.answers.whatif_facts import Cell, Study, cell_values, to_plain
from solver.answers.whatif_values import axis_of
from solver.errors import EntryError
from tests.answers.small.world import asked, brief, plain, stock, stored


class Pool:
    """An executor that answers at once, or not before it is told to; it notes what it was given."""

    def __init__(self, at_once=True):
        self.at_once, self.given, self.futures, self.shut = at_once, [], [], []

    def submit(self, work, data, piece):
        assert (work, data) == (module.settled_piece, b"study")
        self.given.append(piece)
        self.futures.append(Future())
        if self.at_once:
            self.answer(-1)
        return self.futures[-1]

    def answer(self, place):
        self.futures[place].set_result([to_plain(Cell(number, (), "none")) for number in self.given[place]])

    def shutdown(self, **how):
        self.shut.append(how)


def pieces(count):
    return [(2 * k, 2 * k + 1) for k in range(count)]


def numbers(found):
    return sorted(cell.number for cells in found for cell in cells)


@pytest.mark.parametrize(
    "runs, k, idle, more, left",
    [
        ([[1], [2, 3]], 0, True, True, [[1], [2, 3]]),
        ([[1], [2, 3]], 0, False, True, [[1], [2, 3]]),
        ([[1, 2, 3, 4, 5], []], 1, True, True, [[1, 2], [3, 4, 5]]),
        ([[1, 2, 3, 4, 5], []], 1, False, False, [[1, 2, 3, 4, 5], []]),
        ([[], [7], [1, 2]], 0, True, True, [[2], [7], [1]]),
        ([[7], []], 1, True, True, [[], [7]]),
        ([[], []], 0, True, False, [[], []]),
    ],
)
def test_who_has_nothing_left_to_do_takes_the_further_half_of_the_longest_run(runs, k, idle, more, left):
    assert module._more(runs, k, idle) is more
    assert runs == left


def test_two_pieces_go_to_two_executors():
    pools = [Pool(at_once=False), Pool(at_once=False)]
    found = module._spread(pools, b"study", pieces(2))
    for pool in pools:
        pool.submit = lambda work, data, piece, own=pool, given=pool.submit: (given(work, data, piece), own.answer(-1))[0]
    assert numbers(found) == [0, 1, 2, 3]
    assert [pool.given for pool in pools] == [[(0, 1)], [(2, 3)]]


def test_each_executor_gets_neighbours_two_at_a_time():
    pools = [Pool(), Pool()]
    found = module._spread(pools, b"study", pieces(7))
    first = next(found)
    assert [len(pool.given) for pool in pools] == [2, 2]
    assert numbers([first, *found]) == list(range(14))
    given = [[piece[0] // 2 for piece in pool.given] for pool in pools]
    assert [own[:3] for own in given] == [[0, 1, 2], [3, 4, 5]]
    assert sorted(given[0][3:] + given[1][3:]) == [6], "the last goes to whoever is through first"


def test_an_executor_that_was_handed_in_gets_sixty_four_at_a_time():
    pool = Pool()
    found = module._spread([pool], b"study", pieces(70))
    first = next(found)
    assert pool.given == pieces(64)
    assert numbers([first, *found]) == list(range(140))
    assert pool.given == pieces(70)


def test_pieces_that_wait_are_given_up_where_it_ends():
    pools = [Pool(at_once=False), Pool()]
    found = module._spread(pools, b"study", pieces(4))
    assert numbers([next(found)]) in ([4, 5], [6, 7])
    found.close()
    assert [future.cancelled() for future in pools[0].futures] == [True, True]


def test_an_error_of_a_piece_ends_the_study():
    pool = Pool(at_once=False)
    future = Future()
    future.set_exception(EntryError("a piece", "another"))
    pool.submit = lambda work, data, piece: future
    with pytest.raises(EntryError) as caught:
        list(module._spread([pool], b"study", pieces(1)))
    assert str(caught.value) == "found a piece; expected another."


@pytest.mark.parametrize(
    "jobs, cores, count, workers",
    [(None, 3, 5, 3), (None, 8, 5, 5), (None, None, 5, None), (1, 8, 5, None), (2, 8, 5, 2), (4, 8, 1, None)],
)
def test_as_many_processes_as_cores_pieces_and_jobs_allow(jobs, cores, count, workers, monkeypatch):
    axis = axis_of(f"altitude=100ft:{100 * count}ft:100ft", brief("barns"))
    study = Study(stock(), brief("barns"), "price", (axis,), False)
    monkeypatch.setattr(os, "cpu_count", lambda: cores)
    monkeypatch.setattr(module, "CHUNK", 1)
    monkeypatch.setattr(module, "settle", lambda study, of, piece: tuple(Cell(number, (), "none") for number in piece))
    made = []

    @contextmanager
    def pools(workers):
        made.append(workers)
        yield []

    def spread(given, data, pieces):
        return (tuple(Cell(number, (), "none") for number in piece) for piece in pieces)

    monkeypatch.setattr(module, "_pools", pools)
    monkeypatch.setattr(module, "_spread", spread)
    done = {0: Cell(0, (), "none")}
    found = list(module._worked(study, asked("barns"), done, jobs, None))
    assert [[cell.number for cell in cells] for cells in found] == [[k] for k in range(1, count + 1)]
    assert made == ([] if workers is None else [workers])


def test_processes_start_afresh_and_are_ended(monkeypatch):
    made = []

    def pool(*given):
        made.append((given, Pool()))
        return made[-1][1]

    monkeypatch.setattr(concurrent.futures, "ProcessPoolExecutor", pool)
    with pytest.raises(EntryError), module._pools(3) as pools:
        raise EntryError("a piece", "another")
    assert [given for given, _ in made] == [(1, multiprocessing.get_context("spawn"), module._in_worker)] * 3
    assert pools == [own for _, own in made]
    assert [own.shut for own in pools] == [[{"wait": True, "cancel_futures": True}]] * 3


def test_a_process_that_begins_does_not_hear_ctrl_c():
    def masked():
        return signal.SIGINT in signal.pthread_sigmask(signal.SIG_BLOCK, [])

    assert not masked()
    with pytest.raises(EntryError), module._deaf():
        assert masked()
        raise EntryError("a piece", "another")
    assert not masked()


def test_an_executor_and_small_pieces_change_no_cell(monkeypatch):
    monkeypatch.setattr(module, "CHUNK", 2)
    told = []
    vary = ("output=9lb/min,12lb/min", "limits.budget=60000USD")
    with ThreadPoolExecutor(1) as pool:
        given = {"one_at_a_time": True, "binding": "rules", "executor": pool}
        found = whatif(stock(), brief("attics"), vary, "price", progress=lambda *counts: told.append(counts), **given)
        assert pool.submit(lambda: 1).result() == 1
    assert json.loads(json.dumps(plain(found))) == stored("whatif_alone")
    assert told == [(2, 4), (4, 4)]


def test_cells_in_their_order():
    axes = tuple(axis_of(text, brief("barns")) for text in ("outlets=1,2", "altitude=0ft,100ft,200ft"))
    (one, two), (low, middle, high) = (axis.values for axis in axes)
    assert cell_values(axes, False) == (
        (None, None), (one, low), (one, middle), (one, high), (two, low), (two, middle), (two, high),
    )  # fmt: skip
    assert cell_values(axes, True) == (
        (None, None), (one, None), (two, None), (None, low), (None, middle), (None, high),
    )  # fmt: skip
