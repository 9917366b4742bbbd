"""Proofs that hold and proofs that do not, made by hand; proofs of small problems, by trying every rig."""

from __future__ import annotations

import itertools
import json
import random
import re
from dataclasses import replace
from math import prod
from pathlib import Path

import numpy as np
import pytest

from solver.errors import DoesNotHold, EntryError
from solver.program.fingerprint import fingerprint, short
from solver.program.matrix import Program
from solver.program.proof import KEYS, ByEngine, Closed, LeftOut, Narrowed, Part, Proof, Split, from_steps, to_steps
from solver.program.proof_check import Findings, Left, check_proof
from tests.program.toy import toy


def pumps(needed: int = 5, **changes: object) -> Program:
    """A pump A (5 USD, 3 lb/min) or B (8, 6) and a booster C (4, 1) or D (6, 3) that together give at least 5 lb/min.

    By hand: A + C gives 4, too little; A + D costs 11, B + C 12, B + D 14. So 11 is the least. A second row holds in every
    rig: weights 2, 1 and 0, 3 against 10. A third is the pump's alone: 1 for A, 0 for B, against 1.
    """
    fields = {
        "rows": np.array([[-3, -6, -1, -3], [2, 1, 0, 3], [1, 0, 0, 0]]),
        "rhs": np.array([-needed, 10, 1]),
        "offsets": np.array([0, 2, 4]),
        "costs": {"price": np.array([5, 8, 4, 6])},
        "labels": ("FLOW-01", "WEIGHT-01", "OWN-01"),
        "groups": ("FLOW", "WEIGHT", "OWN"),
    }
    return Program(**{**fields, **changes})  # type: ignore[arg-type]


FLOW = ((0, 1),)
A, B, C, D = range(4)
BY_HAND = Split(1, ((C,), (D,)), (Split(0, ((A,), (B,)), (Closed(FLOW, 0), Closed((), 1))), Closed((), 1)))
"""With C: A gives too little by 1 (L = -3 - 1 + 5 = 1 > 0), B costs 12 > 10. With D: no pump makes it cost less than 11."""


def found(root: Part, least: int = 11, program: Program | None = None, by: str = "price", no_rig: bool = False) -> Findings:
    """What a proof about the pumps is found to consist of."""
    return check_proof(pumps() if program is None else program, Proof(by, least, root), no_rig)


# --- proofs that hold -----------------------------------------------------------------------------------------------------
def test_the_proof_by_hand():
    assert found(BY_HAND) == Findings(closed=3, splits=2, narrowings=0, left_out=0, left=(), choices=4)


def test_one_multiplier_is_enough_where_more_is_needed():
    """At least 6: L = min(5 - 3, 8 - 6) + min(4 - 1, 6 - 3) + 6 = 11."""
    assert found(Closed(FLOW, 1), program=pumps(6)).parts == 1


def test_a_bound_between_two_costs_is_enough():
    """Multiplier 1/2: L = min(3.5, 5) + min(3.5, 4.5) + 2.5 = 9.5 > 9, so nothing costs less than 10."""
    assert found(Closed(FLOW, 2), least=10).closed == 1


def test_options_shut_by_multipliers_and_the_rest():
    """Without multipliers L = 9; with B it is 12 and with D 11, above 10: both go, and A + C gives too little."""
    assert found(Narrowed((), 1, Closed(FLOW, 0))) == Findings(1, 0, 1, 0, (), 4)


def test_a_slot_left_empty_closes_the_part():
    """At least 7: L = 2 + 3 + 7 = 12 > 11 - 1 in every option."""
    assert found(Narrowed(FLOW, 1, None), program=pumps(7)) == Findings(1, 0, 1, 0, (), 4)


def test_an_option_as_good_as_another_is_left_out():
    """B is worse in nothing but its cost and weight; made as cheap as A it may stand for it: A is 1 worse in OWN-01 alone."""
    program = pumps(costs={"price": np.array([8, 8, 4, 6])})
    assert found(LeftOut(((A, B),), Closed((), 1)), 12, program) == Findings(1, 0, 0, 1, (), 4)


def test_a_row_of_one_slot_counts_only_as_kept_or_not():
    """Flow and weight as B's, A's row of its own is kept: so A stands for B, though its entry there is larger."""
    program = pumps(rows=np.array([[-6, -6, -1, -3], [1, 1, 0, 3], [1, 0, 0, 0]]))
    assert found(LeftOut(((B, A),), Closed((), 1)), 9, program).left_out == 1


@pytest.mark.parametrize(
    ("rows", "rhs", "label"),
    [([[-6, -6, -1, -3], [2, 1, 0, 3], [1, 0, 0, 0]], 1, "WEIGHT-01"),
     ([[-6, -6, -1, -3], [2, 1, 0, 0], [1, 0, 0, 0]], 0, "OWN-01")],
)  # fmt: skip
def test_a_row_that_others_enter_or_that_is_not_kept_counts_in_full(rows, rhs, label):
    """A would keep WEIGHT-01 alone, but not with every booster; and OWN-01, its own alone, it does not keep."""
    with pytest.raises(DoesNotHold) as caught:
        found(LeftOut(((B, A),), ByEngine()), program=pumps(rows=np.array(rows), rhs=np.array([-5, 10, rhs])))
    assert str(caught.value) == f"the whole: option 0 is worse than option 1 in {label}"


def test_what_is_left_out_is_shut():
    program = pumps(costs={"price": np.array([8, 8, 4, 6])})
    assert found(LeftOut(((A, B),), Split(0, ((B,),), (Closed((), 1),))), 12, program).splits == 1
    with pytest.raises(DoesNotHold) as caught:
        found(LeftOut(((A, B),), Split(0, ((A, B),), (Closed((), 1),))), 12, program)
    assert str(caught.value) == "the whole, step 2: option 0 of group 1 is not open in slot 0"


def test_parts_of_the_engine_are_listed():
    root = Split(1, ((C,), (D,)), (Split(0, ((A,), (A, B)), (ByEngine(), ByEngine())), Closed((), 1)))
    left = (Left("1.1", ((0, (A,)), (1, (C,))), 2, 1), Left("1.2", ((0, (A, B)), (1, (C,))), 1, 2))
    assert found(root) == Findings(1, 2, 0, 0, left, 4)
    assert (found(root).parts, found(root).nothing_shown) == (3, False)
    assert found(ByEngine()).left == (Left("", (), 0, 4),)
    halves = Split(0, ((A,), (B,)), (ByEngine(), Narrowed((), 0, ByEngine())))
    assert found(ByEngine()).nothing_shown
    assert found(halves).nothing_shown


def test_no_rig_at_all():
    """At most 9 can be given: with 10 asked, L = -6 - 3 + 10 = 1 > 0 at no scale of the cost."""
    assert found(Closed(FLOW, 0), least=0, program=pumps(10), no_rig=True).closed == 1
    assert found(Narrowed(FLOW, 0, None), least=0, program=pumps(10), no_rig=True).closed == 1
    dear = LeftOut(((A, B),), Closed(FLOW, 0))  # dearer, and it does not matter
    assert found(dear, least=0, program=pumps(10), no_rig=True).left_out == 1


# --- proofs that do not hold ----------------------------------------------------------------------------------------------
HUGE = 10**150
WRONG = {
    "too little": (Closed(FLOW, 1), "the whole: L is 10, and closes the part only above 10"),
    "a claim too high": (replace(BY_HAND, parts=(BY_HAND.parts[0], Closed((), 0))),
                         "part 2: L is 0, and closes the part only above 0"),
    "a multiplier changed": (Split(1, ((C,), (D,)), (Split(0, ((A,), (B,)), (Closed(((1, 1),), 0), Closed((), 1))),
                             Closed((), 1))), "part 1.1: L is -8, and closes the part only above 0"),
    "scale below 0": (Closed(FLOW, -1), "the whole: the scale is -1, which is below 0"),
    "scale no number": (Closed(FLOW, 0.5), "the whole: the scale is no whole number"),
    "multiplier 0": (Closed(((0, 0),), 1), "the whole: the multiplier 0 of row 0 is not above 0"),
    "multiplier below 0": (Closed(((0, -HUGE),), 1), "the whole: the multiplier about -2^498 of row 0 is not above 0"),
    "multiplier no number": (Closed(((0, 1.0),), 1), "the whole: a row or multiplier is no whole number"),
    "no such row": (Closed(((3, 1),), 1), "the whole: there is no row 3"),
    "row from the end": (Closed(((-1, 1),), 1), "the whole: there is no row -1"),
    "row a second time": (Closed(((0, 1), (0, 1)), 1), "the whole: row 0 after row 0, where rows ascend"),
    "huge multiplier": (Closed(((0, HUGE),), 1), "the whole: L is about -2^500, and closes the part only above 10"),
    "huge scale": (Closed((), HUGE), "the whole: L is about 2^501, and closes the part only above about 2^501"),
    "goes on though empty": (Narrowed((), 1, Narrowed(((0, 2),), 1, Closed((), 1))),
                             "the whole, step 2: no option of a slot is left, and yet the part goes on"),
    "ends too soon": (Narrowed((), 1, None), "the whole: every slot still has options, and yet the part ends"),
    "wrong after narrowing": (Narrowed((), 1, Closed((), 1)), "the whole, step 2: L is 9, and closes the part only above 10"),
    "shut twice": (LeftOut(((A, B), (A, B)), ByEngine()), "the whole: an option that is shut twice"),
    "two slots": (LeftOut(((A, C),), ByEngine()), "the whole: options 0 and 2 are not of one slot"),
    "shut for itself": (LeftOut(((A, A),), ByEngine()),
                        "the whole: options 0 and 0 are not both open, the second to the end of the step"),
    "kept and shut": (LeftOut(((A, B), (B, A)), ByEngine()),
                      "the whole: options 0 and 1 are not both open, the second to the end of the step"),
    "kept is not open": (Split(0, ((A,), (B,)), (LeftOut(((A, B),), ByEngine()), ByEngine())),
                         "part 1: options 0 and 1 are not both open, the second to the end of the step"),
    "worse in a row": (LeftOut(((B, A),), ByEngine()), "the whole: option 0 is worse than option 1 in FLOW-01"),
    "shut already": (Split(0, ((A,), (B,)), (LeftOut(((B, A),), ByEngine()), ByEngine())),
                     "part 1: options 1 and 0 are not both open, the second to the end of the step"),
    "dearer": (LeftOut(((A, B),), ByEngine()), "the whole: option 1 costs more than option 0"),
    "option no number": (LeftOut((("A", B),), ByEngine()), "the whole: an option is no whole number"),
    "option from the end": (LeftOut(((-1, C),), ByEngine()), "the whole: there is no option -1"),
    "option beyond": (LeftOut(((A, 4),), ByEngine()), "the whole: there is no option 4"),
    "no such slot": (Split(2, ((A,),), (ByEngine(),)), "the whole: there is no slot 2"),
    "slot from the end": (Split(-1, ((C,),), (ByEngine(),)), "the whole: there is no slot -1"),
    "no groups": (Split(0, (), ()), "the whole: option 0 of slot 0 is open and in no group"),
    "an option in no group": (Split(1, ((C,),), (BY_HAND.parts[0],)),
                              "the whole: option 3 of slot 1 is open and in no group"),
    "an empty group": (Split(0, ((A, B), ()), (ByEngine(), ByEngine())), "the whole: group 2 is empty"),
    "option of another slot": (Split(0, ((A, B, C),), (ByEngine(),)),
                               "the whole: option 2 of group 1 is not open in slot 0"),
    "option that is shut": (Split(0, ((A,), (B,)), (ByEngine(), Split(0, ((A, B),), (ByEngine(),)))),
                            "part 2: option 0 of group 1 is not open in slot 0"),
    "huge option": (Split(0, ((HUGE,),), (ByEngine(),)), "the whole: there is no option about 2^498"),
    "a part too few": (Split(0, ((A,), (B,)), (ByEngine(),)), "the whole: 2 groups and 1 parts"),
    "no step": (Split(0, ((A, B),), (None,)), "part 1: no known step"),
    "the first of two": (Split(0, ((A,), (B,)), (Closed((), 0), Closed((), 0))),
                         "part 1: L is 0, and closes the part only above 0"),
}  # fmt: skip


@pytest.mark.parametrize(("root", "message"), WRONG.values(), ids=WRONG)
def test_a_proof_that_does_not_hold(root, message):
    program = pumps(costs={"price": np.array([5, 8, 4, 6])})
    with pytest.raises(DoesNotHold) as caught:
        found(root, program=program)
    assert str(caught.value) == message


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"least": 12}, "part 2: L is 11, and closes the part only above 11"),
        ({"by": "weight"}, 'the whole: the program has no cost "weight"'),
        ({"least": 11.0}, "the whole: the least cost is no whole number"),
        ({"no_rig": True}, "part 1.2: a scale other than 0, where no rig is said to fit at any cost"),
        ({"program": pumps(offsets=np.array([0, 2, 2, 4]))}, "the whole: a slot without any option"),
        ({"program": pumps(4)}, "part 1.1: L is 0, and closes the part only above 0"),
    ],
)
def test_the_right_proof_of_another_claim(changes, message):
    with pytest.raises(DoesNotHold) as caught:
        found(BY_HAND, **changes)
    assert str(caught.value) == message


def test_sums_beyond_64_bits_are_exact():
    """2^70 of everything: the same proof, where 64-bit sums would have gone round."""
    times = 2**70
    assert found(Closed(((0, times),), times), program=pumps(6)).closed == 1
    with pytest.raises(DoesNotHold) as caught:
        found(Closed(((0, times),), times))
    assert str(caught.value) == f"the whole: L is {10 * times:,}, and closes the part only above {10 * times:,}"
    assert found(Narrowed((), times, Closed(((0, times),), 0))) == Findings(1, 0, 1, 0, (), 4)


@pytest.mark.parametrize("times", [2**58, 2**60, 2**61, 2**62, 2**63, 2**64])
def test_no_size_of_a_multiplier_lets_a_false_claim_through(times):
    """Sums of 64 bits would go round for some of these and turn L into a large number."""
    for root in (Closed(((0, times),), times), Closed(((0, times),), 0), Closed((), times), Closed(((1, times),), 1)):
        with pytest.raises(DoesNotHold):
            found(root)


@pytest.mark.parametrize(("multiplier", "scale"), [(HUGE, 1), (1, HUGE), (HUGE, HUGE)])
def test_huge_numbers_times_nothing(multiplier, scale):
    """Rows, right-hand sides and costs of zeros: L is 0, whatever it is multiplied by."""
    zeros = np.zeros(4, np.int64)
    program = pumps(rows=np.zeros((3, 4), np.int64), rhs=zeros[:3], costs={"price": zeros})
    with pytest.raises(DoesNotHold) as caught:
        found(Closed(((1, multiplier),), scale), least=1, program=program)
    assert str(caught.value) == "the whole: L is 0, and closes the part only above 0"


def test_entries_below_zero_count_as_large():
    """FLOW-01 in units so small that its entries, all below 0, take 50 bits: L is -4 of them, or 10 with the cost."""
    program = pumps(rows=pumps().rows * 2**49, rhs=pumps().rhs * 2**49, costs={"price": pumps().costs["price"] * 2**30})
    for times in range(2**10, 2**15, 97):
        assert not holds(Closed(((0, times),), 0), 11, program)
        assert not holds(Closed(((0, times),), times * 2**19), 11 * 2**30, program)
        assert holds(Closed(((0, times),), times * 2**19), 10 * 2**30, program)


@pytest.mark.parametrize("seed", range(20))
def test_every_sum_is_that_of_pythons_integers(seed):
    """Multipliers and scales of up to 75 bits, and claims just at L and just above it: accepted where it is true, and only
    there; else just the options above it are shut."""
    chance = random.Random(seed)
    program = toy(seed).program
    columns = [list(range(first, end)) for first, end in program.slices]
    accepted = set()
    for _ in range(60):
        bits = chance.choice((3, 30, 45, 50, 55, 58, 60, 61, 62, 63, 64, 75))
        rows = sorted(chance.sample(range(len(program.rhs)), chance.randrange(4)))
        pairs = tuple((i, 1 + chance.getrandbits(bits)) for i in rows)
        scale = 1 + chance.getrandbits(chance.choice((1, bits)))
        bound = weighed(program, "price", columns, dict(pairs), scale)
        above = over(program, "price", columns, dict(pairs), scale)
        middle = bound + chance.choice(chance.choice(above))
        for least in (-(-bound // scale), -(-bound // scale) + 1, -(-middle // scale), -(-middle // scale) + 1):
            limit = scale * (least - 1)
            accepted.add(bound > limit)
            assert holds(Closed(pairs, scale), least, program) == (bound > limit)
            assert holds(Narrowed(pairs, scale, None), least, program) == (bound > limit)
            if bound <= limit:
                left = found(Narrowed(pairs, scale, ByEngine()), least, program).left[0]
                assert left.choices == prod(sum(bound + each <= limit for each in slot) for slot in above)
    assert accepted == {True, False}


def holds(root: Part, least: int, program: Program) -> bool:
    """Whether a proof about this program holds."""
    try:
        found(root, least, program)
    except DoesNotHold:
        return False
    return True


DEEP = 10_000
"""Far deeper than Python's functions may call each other."""


def test_a_proof_of_any_depth():
    root: Part = ByEngine()
    for _ in range(DEEP):
        root = Split(0, ((A, B),), (root,))
    left = found(root).left
    assert left[0].part == ".".join(["1"] * DEEP)
    assert left[0].shared == ((0, (A, B)),)
    assert found(from_steps(to_steps(root))).splits == DEEP
    for _ in range(DEEP):
        root = Narrowed((), 0, root)
    assert found(root).narrowings == DEEP
    deep: Part = Closed((), 0)
    for _ in range(DEEP):
        deep = Split(0, ((A, B),), (deep,))
    with pytest.raises(DoesNotHold) as caught:
        found(deep)
    assert str(caught.value) == f"part {'1.' * 30}...: L is 0, and closes the part only above 0"


# --- small problems, by trying every rig ----------------------------------------------------------------------------------
def over(program: Program, by: str, columns: list[list[int]], multipliers: dict[int, int], scale: int) -> list[list[int]]:
    """Per slot by how much each open option is above the least; in Python's integers, term by term."""
    slots = [[worth(program, by, j, multipliers, scale) for j in slot] for slot in columns]
    return [[value - min(slot) for value in slot] for slot in slots]


def worth(program: Program, by: str, j: int, multipliers: dict[int, int], scale: int) -> int:
    """scale cost + multipliers rows, of one option."""
    return scale * int(program.costs[by][j]) + sum(m * int(program.rows[i, j]) for i, m in multipliers.items())


def weighed(program: Program, by: str, columns: list[list[int]], multipliers: dict[int, int], scale: int) -> int:
    """L of the part in which these columns are open."""
    bound = sum(min(worth(program, by, j, multipliers, scale) for j in slot) for slot in columns)
    return bound - sum(m * int(program.rhs[i]) for i, m in multipliers.items())


def closes(program: Program, by: str, columns: list[list[int]], multipliers: dict[int, int], scale: int, least: int) -> bool:
    """Whether multipliers close the part in which these columns are open."""
    return weighed(program, by, columns, multipliers, scale) > scale * (least - 1)


def proved(program: Program, by: str, least: int | None) -> Part:
    """A proof that no rig costs less, by sharing out slot after slot: a part is closed by its cost or by one of the rows.

    Without `least`, that no rig keeps the rows.
    """

    def part(columns: list[list[int]], slot: int) -> Part:
        if least is not None and closes(program, by, columns, {}, 1, least):
            return Closed((), 1)
        for i in range(len(program.rhs)):
            if closes(program, by, columns, {i: 1}, 0, 0):
                return Closed(((i, 1),), 0)
        groups = tuple((j,) for j in columns[slot])
        return Split(slot, groups, tuple(part([*columns[:slot], list(g), *columns[slot + 1 :]], slot + 1) for g in groups))

    return part([list(range(first, end)) for first, end in program.slices], 0)


def costs_of_rigs(program: Program, by: str) -> list[int]:
    """Costs of all rigs that keep the rows, ascending."""
    rigs = (np.array(rig) for rig in itertools.product(*(range(a, b) for a, b in program.slices)))
    return sorted(program.cost(rig, by) for rig in rigs if program.fits(rig))


@pytest.mark.parametrize("seed", range(25))
def test_small_problems(seed):
    """The least cost is shown; one step more is not; and no change of one number lets a false claim through."""
    program, by = toy(seed).program, "price"
    costs = costs_of_rigs(program, by)
    if not costs:
        root = proved(program, by, None)
        assert check_proof(program, Proof(by, 0, root), no_rig=True).left == ()
        return
    root = proved(program, by, costs[0])
    proof = Proof(by, costs[0], root)
    assert check_proof(program, proof).left == ()
    assert check_proof(program, Proof(by, costs[0], from_steps(to_steps(root)))) == check_proof(program, proof)
    with pytest.raises(DoesNotHold):
        check_proof(program, Proof(by, costs[0] + 1, root))
    with pytest.raises(DoesNotHold):
        check_proof(program, Proof(by, costs[0], root), no_rig=True)
    chance = random.Random(seed)
    for _ in range(60):
        steps = mutated(to_steps(root), chance)
        try:
            findings = check_proof(program, Proof(by, costs[0] + 1, from_steps(steps)))
        except (DoesNotHold, EntryError):
            continue
        assert findings.left, "a false claim was let through"


def mutated(steps: list[dict], chance: random.Random) -> list[dict]:
    """The steps with one of them spoilt."""
    k = chance.randrange(len(steps))
    step, rest = steps[k], steps[k + 1 :]
    match chance.randrange(4):
        case 0:
            return [*steps[:k], *rest]
        case 1:
            return [*steps[:k], step, step, *rest]
        case 2 if step["step"] == "closed":
            count = chance.randrange(3)
            rows = [[chance.randrange(-1, 25), chance.choice((1, -1, 2**40, 2**63, 2**64))] for _ in range(count)]
            return [*steps[:k], {**step, "multipliers": rows, "scale": chance.choice((0, 1, -1, 2**63, 2**64))}, *rest]
        case 2:
            return [*steps[:k], {**step, "groups": step["groups"][:-1]}, *rest]
        case _ if step["step"] == "split":
            return [*steps[:k], {**step, "slot": chance.randrange(-1, 9)}, *rest]
        case _:
            return [*steps[:k], {"step": "narrowed", "scale": 1, "multipliers": step["multipliers"], "rest": False}, *rest]


# --- the list of steps ----------------------------------------------------------------------------------------------------
EVERY = Narrowed((), 1, LeftOut((), Split(0, ((A,),), (Narrowed(((0, 3),), 2, None),))))


@pytest.mark.parametrize("root", [BY_HAND, EVERY, ByEngine()])
def test_there_and_back(root):
    assert from_steps(to_steps(root)) == root


def test_the_list_by_hand():
    assert to_steps(BY_HAND) == [
        {"step": "split", "slot": 1, "groups": [[2], [3]]},
        {"step": "split", "slot": 0, "groups": [[0], [1]]},
        {"step": "closed", "scale": 0, "multipliers": [[0, 1]]},
        {"step": "closed", "scale": 1, "multipliers": []},
        {"step": "closed", "scale": 1, "multipliers": []},
    ]


CLOSED = {"step": "closed", "scale": 1, "multipliers": []}
MALFORMED = {
    "nothing": ([], "found no step; expected one list of steps that starts with the whole. Try: the certificate as it was "
                "written"),
    "one too many": ([CLOSED, CLOSED], "found 2 parts that stand on nothing; expected one list of steps that starts with the "
                     "whole. Try: the certificate as it was written"),
    "one too few": ([{"step": "split", "slot": 0, "groups": [[0], [1]]}, CLOSED],
                    "found step 1: 2 parts wanted and 1 there; expected each part of a proof after what it belongs to."),
    "no rest": ([{"step": "narrowed", "scale": 1, "multipliers": [], "rest": True}],
                "found step 1: 1 parts wanted and 0 there; expected each part of a proof after what it belongs to."),
    "no mapping": ([CLOSED, 3], "found step 2: no known step; expected an entry with `step`: closed, narrowed, left-out, "
                   "split, by-engine."),
    "unknown": ([{"step": "trust me"}], "found step 1: no known step; expected an entry with `step`: closed, narrowed, "
                "left-out, split, by-engine."),
    "unhashable": ([{"step": []}], "found step 1: no known step; expected an entry with `step`: closed, narrowed, left-out, "
                   "split, by-engine."),
    "other keys": ([{**CLOSED, "rest": True}],
                   "found step 1: other keys in a step closed; expected step, scale, multipliers."),
    "a key missing": ([{"step": "left-out"}], "found step 1: other keys in a step left-out; expected step, pairs."),
    "true is no number": ([{**CLOSED, "scale": True}],
                          "found step 1: something else under `scale`; expected a whole number."),
    "1.5 is no whole number": ([{**CLOSED, "multipliers": [[0, 1.5]]}],
                               "found step 1: something else under `multipliers`; expected a whole number."),
    "no list": ([{**CLOSED, "multipliers": {}}],
                "found step 1: something else under `multipliers`; expected a list of lists of whole numbers."),
    "no pair": ([{**CLOSED, "multipliers": [[1]]}],
                "found step 1: something else under `multipliers`; expected a list of pairs of whole numbers."),
    "groups of text": ([{"step": "split", "slot": 0, "groups": ["01"]}, CLOSED],
                       "found step 1: something else under `groups`; expected a list of lists of whole numbers."),
    "rest of text": ([{"step": "narrowed", "scale": 1, "multipliers": [], "rest": "no"}],
                     "found step 1: `rest`; expected true or false."),
}  # fmt: skip


@pytest.mark.parametrize(("steps", "message"), MALFORMED.values(), ids=MALFORMED)
def test_a_list_of_another_form(steps, message):
    with pytest.raises(EntryError) as caught:
        from_steps(steps)
    assert str(caught.value) == message


# --- the fingerprint ------------------------------------------------------------------------------------------------------
def test_the_fingerprint_changes_with_every_figure_and_with_nothing_else():
    same = fingerprint(pumps())
    assert same == fingerprint(pumps(rows=np.asfortranarray(pumps().rows), memo={1: np.zeros(1, np.int64)}))
    assert len(same) == 64
    assert short(same) == f"{same[:12]}..."
    rows = pumps().rows.copy()
    rows[2, 1] = 1
    others = [
        pumps(rows=rows), pumps(6), pumps(offsets=np.array([0, 1, 4])), pumps(costs={"price": np.array([5, 8, 4, 7])}),
        pumps(costs={"weight": np.array([5, 8, 4, 6])}), pumps(labels=("FLOW-01", "WEIGHT-01", "OWN-02")),
        pumps(labels=("FLOW-01W", "EIGHT-01", "OWN-01")),
    ]  # fmt: skip
    assert len({same, *map(fingerprint, others)}) == 8


def test_the_fingerprint_of_the_pumps():
    """A regression figure of our own: files written once stay readable."""
    assert fingerprint(pumps()) == "c6aa6561b8ffcb9616a64d33430d1fff11fe4e613fb1a2dc7728de97abf54621"


# --- the chapter ----------------------------------------------------------------------------------------------------------
CHAPTER = Path(__file__).resolve().parents[2] / "docs" / "certificates.md"


def test_the_example_of_the_chapter():
    """Its table, its sums and its proof are worked out anew from the figures in its text."""
    page = CHAPTER.read_text("utf-8")
    cost, flow = {"A": 5, "B": 8, "C": 4, "D": 6}, {"A": 3, "B": 6, "C": 1, "D": 3}
    for pump, booster in itertools.product("AB", "CD"):
        price, gives = cost[pump] + cost[booster], flow[pump] + flow[booster]
        assert f"| {pump} + {booster} | {price} | {gives} | {'yes' if gives >= 5 else 'no'} |\n" in page
    for name in "ABCD":
        assert f"{name} ({cost[name]} USD, {flow[name]} lb/min)" in page
    one, two = (min(cost[name] - flow[name] for name in names) for names in ("AB", "CD"))
    assert f"    L = min(5 - 3, 8 - 6) + min(4 - 1, 6 - 3) + 5 = {one} + {two} + 5 = {one + two + 5}\n" in page
    assert f"L = -3 - 1 + 5 = {5 - flow['A'] - flow['C']}, more than 0" in page
    assert f"L = 8 + 4 = {cost['B'] + cost['C']}, more than 10" in page
    assert f"L = 5 + 6 = {min(cost['A'], cost['B']) + cost['D']}, more than 10" in page
    program = pumps(
        rows=np.array([[-flow[name] for name in "ABCD"]]), rhs=np.array([-5]), labels=("FLOW-01",), groups=("FLOW",),
        costs={"price": np.array([cost[name] for name in "ABCD"])},
    )  # fmt: skip
    root = from_steps(json.loads(re.findall(r"^```json\n(.*?)^```$", page, re.S | re.M)[0]))
    assert found(root, program=program) == Findings(3, 2, 0, 0, (), 4)
    for wrong, message in (
        (root, "part 2: L is 11, and closes the part only above 11"),
        (Closed(FLOW, 1), "the whole: L is 10, and closes the part only above 11"),
    ):
        with pytest.raises(DoesNotHold) as caught:
            found(wrong, least=12, program=program)
        assert str(caught.value) == message


def test_no_other_multiplier_closes_the_example():
    """As the chapter says: L over the scale is at most 10, whatever the multiplier and the scale."""
    for multiplier, scale in itertools.product(range(1, 60), range(1, 30)):
        with pytest.raises(DoesNotHold):
            found(Closed(((0, multiplier),), scale))


def test_the_chapter_names_every_step():
    page = CHAPTER.read_text("utf-8")
    assert all(f"| `{step}` |" in page for step in KEYS)
