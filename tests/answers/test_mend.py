"""mend: the least change that makes a rig fit, against trying all rigs; what a swap is and what it costs."""

from __future__ import annotations

import numpy as np
import pytest

from solver.answers.check import check
from solver.answers.failing import failing
from solver.answers.mend import changes_from, least_change, mend
from solver.report.as_data import to_json
from solver.report.mend_data import mend_data
from tests.answers.small_rigs import every_rig, loose, small, write_rig
from tests.demo.demo import IMPOSSIBLE, POSSIBLE, asked, brief, stock


def change(found, price, old, columns):
    """(money, swaps, wirings) from one rig to another, slot by slot: the meaning written out."""
    money = swaps = wirings = 0
    for (name, table), column, start in zip(
        found.setting.slots.items(), columns.tolist(), found.program.offsets.tolist(), strict=False
    ):
        was, now = old[name], column - start
        if was == now:
            continue
        if table.items[was] != table.items[now]:
            money, swaps = money + int(price[start + now]), swaps + 1
        else:
            money += max(0, int(price[start + now]) - int(price[start + was]))
            if table.counts[was] != table.counts[now]:
                swaps += 1
            else:
                wirings += 1
    return money, swaps, wirings


@pytest.mark.parametrize("block", range(2))
def test_the_least_change_equals_exhaustive_search(block):
    """120 random problems from a random rig, by money and by swaps, with the reduction and without."""
    differ = impossible = wired = 0
    for seed in range(block * 60, (block + 1) * 60):
        found, rng = (loose, small)[seed % 2](seed), np.random.default_rng(3000 + seed)
        price = found.program.costs["price"]
        old = {name: int(rng.integers(0, len(table))) for name, table in found.setting.slots.items()}
        changes = changes_from(found.setting.slots, price, old)
        answers = []
        rigs = every_rig(found.program)
        for fewest in (False, True):
            keys = []
            for columns in rigs:
                money, swaps, wirings = change(found, price, old, columns)
                first = (swaps, money) if fewest else (money, swaps)
                keys.append((*first, wirings, tuple(columns.tolist())))
            for domination in (True, False):
                rig = least_change(found.program, changes, fewest, domination)
                assert rig.proven
                assert (rig.columns is None) == (not keys)
                if rig.columns is not None:
                    assert tuple(rig.columns.tolist()) == min(keys)[3], (seed, fewest)
            answers += [min(keys)[3]] if keys else []
            wired += bool(keys) and min(keys)[2] > 0
        impossible += not answers
        differ += len(set(answers)) == 2
    assert differ > 0 and impossible > 3 and wired > 0, "a block must put both orders and wirings to the test"


@pytest.mark.parametrize("name", POSSIBLE)
def test_a_rig_that_fits_needs_no_swap(name, tmp_path):
    of = asked(name)
    rig = of.rig_of(of.best().columns)
    for fewest in (False, True):
        found = mend(stock(), brief(name), write_rig(tmp_path / "rig.json", of, rig), fewest)
        assert (found.status, found.swaps, found.rewired, found.spending, found.failures) == ("fits", (), (), 0.0, ())
        assert found.rig == of.lines(rig)
        assert found.before == found.total == of.totals(rig)


def spoilt(of, rig, seed):
    """A rig with some slots emptied or filled otherwise, and the slots."""
    rng = np.random.default_rng(seed)
    slots = [name for name, table in of.setting.slots.items() if len(table) > 1 and name not in ("generator", "hose")]
    chosen = rng.choice(slots, 4, replace=False).tolist()
    other = {name: int(rng.integers(0, len(of.setting.slots[name]))) for name in chosen}
    return {**rig, **other}, [name for name in chosen if other[name] != rig[name]]


@pytest.mark.parametrize("name", POSSIBLE)
def test_a_spoilt_rig_is_mended(name, tmp_path):
    """The mended rig passes check, costs no more than going back, and takes no more swaps than were spoilt."""
    of = asked(name)
    good = of.rig_of(of.best().columns)
    bad, slots = next(pair for pair in (spoilt(of, good, seed) for seed in range(20)) if failing(of, pair[0]))
    path = write_rig(tmp_path / "rig.json", of, bad)
    before = check(stock(), brief(name), path)
    back = sum(line.price for line in of.lines(good) if line.slot in slots)
    by_money, by_swaps = (mend(stock(), brief(name), path, fewest) for fewest in (False, True))
    for found in (by_money, by_swaps):
        assert (found.status, found.proven) == ("mended", True)
        assert found.failures == before.failures
        assert found.before == before.total
        assert found.spending == pytest.approx(sum(swap.cost for swap in found.swaps))
        for swap in found.swaps:
            assert (swap.before.item, swap.before.count) != (swap.after.item, swap.after.count)
        for swap in found.rewired:
            assert (swap.before.item, swap.before.count) == (swap.after.item, swap.after.count)
        whole = tmp_path / "mended.json"
        whole.write_text(to_json(mend_data(found)), "utf-8")
        checked = check(stock(), brief(name), whole)
        assert (checked.fits, checked.rig) == (True, found.rig)
    assert by_money.spending <= min(back, by_swaps.spending)
    assert len(by_swaps.swaps) <= min(len(slots), len(by_money.swaps))


def test_of_a_hose_only_the_missing_sections_are_bought():
    """From 3 long sections and none short: one long one more, a short one more, or some left over."""
    of = asked("first_rig")
    table = of.setting.slots["hose"]
    item = table.items[0]
    ways = {
        (int(long), int(short)): j
        for j, (long, short) in enumerate(zip(table.long_count, table.short_count, strict=True))
        if table.items[j] == item
    }
    whole = next(entry for entry in stock().classes["hose"] if entry.id == item)
    rig = {**dict.fromkeys(of.setting.slots, 0), "hose": ways[3, 0]}
    changes = changes_from(of.setting.slots, of.costs["price"], rig)
    start = of.offsets["hose"]
    spent = {counts: int(changes.money[start + j]) for counts, j in ways.items()}
    assert spent[3, 0] == spent[2, 0] == spent[1, 0] == 0
    assert spent[4, 0] == round(100 * whole.price)
    assert spent[2, 1] == spent[3, 1] == round(100 * whole.short_price)
    assert spent[5, 1] == round(100 * (2 * whole.price + whole.short_price))
    other = next(j for j, found in enumerate(table.items) if found != item)
    assert changes.money[start + other] == of.costs["price"][start + other]
    assert [int(changes.swaps[start + ways[counts]]) for counts in ((3, 0), (2, 1), (4, 0))] == [0, 1, 1]


def test_another_wiring_of_the_same_item_is_no_swap():
    of = asked("first_rig")
    table = of.setting.slots["compressor"]
    same = [j for j, item in enumerate(table.items) if table.items.count(item) > 1 and item == table.items[same_as(table)]]
    rig = {**dict.fromkeys(of.setting.slots, 0), "compressor": same[0]}
    changes = changes_from(of.setting.slots, of.costs["price"], rig)
    column = of.offsets["compressor"] + same[1]
    assert (changes.money[column], changes.swaps[column], changes.wirings[column]) == (0, 0, 1)
    column = of.offsets["compressor"] + same[0]
    assert (changes.money[column], changes.swaps[column], changes.wirings[column]) == (0, 0, 0)


def same_as(table):
    """First option whose item comes in several ways."""
    return next(j for j, item in enumerate(table.items) if table.items.count(item) > 1)


def test_what_is_owned_costs_nothing_to_swap_in(tmp_path):
    """The owner's truck instead of the one in the file: a swap at no price."""
    of = asked("owned_truck")
    good = of.rig_of(of.best().columns)
    truck = of.setting.slots["vehicle"]
    bad = {**good, "vehicle": next(j for j, item in enumerate(truck.items) if item != truck.items[good["vehicle"]])}
    found = mend(stock(), brief("owned_truck"), write_rig(tmp_path / "rig.json", of, bad))
    assert [(swap.slot, swap.after.owned, swap.cost) for swap in found.swaps] == [("vehicle", True, 0.0)]
    assert found.spending == 0.0


def test_where_no_rig_fits_there_is_the_conflict(tmp_path):
    of = asked(IMPOSSIBLE)
    other = asked("mountain_winter")
    path = write_rig(tmp_path / "rig.json", other, other.rig_of(other.best().columns))
    found = mend(stock(), brief(IMPOSSIBLE), path)
    assert (found.status, found.total, found.rig, found.swaps, found.money) == ("none", None, (), (), None)
    assert {clash.rule for clash in found.conflicts[0].members} <= set(of.groups)
    assert found.failures
