"""`rigset pick --certificate` and `rigset verify`: round trips, and every kind of tampering."""

from __future__ import annotations

import copy
import json
import random
import shutil
import subprocess
import sys
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.answers import certificate as answer
from solver.answers.ask import ask
from solver.answers.certificate import certify, verify
from solver.answers.certificate_file import certificate_text, read_certificate
from solver.errors import InputError, NotProven
from tests.cli.run import ROOT, brief, forget, rigset
from tests.demo import demo
from tests.demo.demo import IMPOSSIBLE, POSSIBLE, stock

NAME = "first_rig"
SPLIT = "owned_truck"
"""A brief whose proof, if exact, has splits."""
TITLE = "The customer owns the truck"
CLAIMS = {"price": "costs less than", "weight": "weighs less than"}


@cache
def content(name: str = NAME, exact: bool = False) -> str:
    """The certificate of a demo brief, as `pick --certificate` writes it."""
    found, _ = certify(stock(), demo.brief(name), demo.answer(name, demo.brief(name).by), exact)
    return certificate_text(found)


def split() -> str:
    """A certificate that holds in full, with splits and everything else."""
    return content(SPLIT, exact=True)


@pytest.fixture
def written(tmp_path):
    """The certificate of the first brief as a file."""
    path = tmp_path / "certificate.json"
    path.write_text(content(), "utf-8")
    return path


@pytest.fixture
def whole(tmp_path):
    """The certificate with splits as a file."""
    path = tmp_path / "certificate.json"
    path.write_text(split(), "utf-8")
    return path


@cache
def laid(title: str, by: str):
    """A demo brief laid over the demo catalog, by its title."""
    return ask(stock(), next(demo.brief(name) for name in demo.BRIEFS if demo.brief(name).title == title), by)


@pytest.fixture
def asked_once(monkeypatch):
    """Each brief is laid over the catalog once for all certificates that are checked."""
    monkeypatch.setattr(answer, "ask", lambda _, of, by: laid(of.title, by))


def text(data: dict) -> str:
    """A certificate that was changed, as a file."""
    return json.dumps(data, ensure_ascii=False)


# --- there and back -------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", POSSIBLE)
def test_every_brief_there_and_back(name, tmp_path):
    path = tmp_path / "certificate.json"
    outcome = rigset("pick", brief(name), "--certificate", str(path), "--json")
    assert outcome.code == 0
    assert outcome.err.startswith(f"written: {path} (")
    assert path.read_text("utf-8") == content(name)
    shown = rigset("verify", str(path), brief(name))
    assert (shown.code, shown.err) == (0, "")
    assert max(len(line) for line in shown.out.splitlines()) <= 80
    data = rigset("verify", str(path), brief(name), "--json").data
    own = outcome.data
    by = own["by"]
    assert (data["claim"], data["by"], data["refusal"]) == ("least", by, "")
    assert data["rig"] == own["rig"]
    assert data["total"] == own["total"]
    assert data["least"] == round({"price": own["total"]["price"] * 100}.get(by, data["least"]))
    assert data["status"] == ("in part" if data["proof"]["left_to_engine"] else "shown")
    assert data["proof"]["parts"] == data["proof"]["closed"] + len(data["left"])
    assert CLAIMS[by] in " ".join(shown.out.split())


@pytest.mark.parametrize("name", POSSIBLE)
def test_every_brief_exactly(name, tmp_path):
    """With --exact nothing is left to the engine."""
    path = tmp_path / "certificate.json"
    outcome = rigset("pick", brief(name), "--certificate", str(path), "--exact")
    assert outcome.code == 0
    assert outcome.err.endswith(", none left to the engine)\n")
    assert path.read_text("utf-8") == content(name, exact=True)
    data = rigset("verify", str(path), brief(name), "--json").data
    assert (data["status"], data["left"]) == ("shown", [])
    assert data["least"] == demo.least_cost(demo.asked(name), data["by"])


def test_no_rig_fits(tmp_path):
    path = tmp_path / "certificate.json"
    outcome = rigset("pick", brief(IMPOSSIBLE), "--certificate", str(path))
    assert outcome.code == 1
    assert outcome.err.startswith(f"written: {path} (")
    shown = rigset("verify", str(path), brief(IMPOSSIBLE))
    assert (shown.code, shown.err) == (0, "")
    assert "no rig of this catalog meets this brief, at any cost" in " ".join(shown.out.split())
    data = rigset("verify", str(path), brief(IMPOSSIBLE), "--json").data
    assert (data["claim"], data["least"], data["rig"], data["total"]) == ("none", None, [], None)
    assert all(step.get("scale", 0) == 0 for step in json.loads(path.read_text("utf-8"))["proof"])


def test_by_weight_a_brief_by_price(tmp_path):
    path = tmp_path / "certificate.json"
    assert rigset("pick", brief(NAME), "--by", "weight", "--certificate", str(path)).code == 0
    data = rigset("verify", str(path), brief(NAME), "--json").data
    assert data["by"] == "weight"
    assert data["least"] == demo.least_cost(demo.asked(NAME), "weight")
    assert f"({data['least']:,} g)" in rigset("verify", str(path), brief(NAME)).out


def test_the_same_bytes_every_time():
    again, _ = certify(stock(), demo.brief(NAME), demo.answer(NAME, "price"))
    assert certificate_text(again) == content()


def test_reading_gives_back_what_was_written(written):
    assert certificate_text(read_certificate(written)) == content()


def test_the_text_says_what_was_shown(written):
    words = " ".join(rigset("verify", str(written), brief(NAME)).out.split())
    assert "no rig of this catalog that meets this brief costs less than $69,447.00" in words
    assert "The rig below meets it and costs just that." in words
    assert "Checked in whole numbers, no solver used:" in words
    assert "does not show that the figures, the brief or the rules are right" in words
    assert "The data sheets of the actual equipment, local code, the authority having jurisdiction" in words


def test_without_the_engine_installed(written):
    """In a process where ortools cannot be imported, and where the engine room is never entered."""
    script = (
        "import sys; sys.modules['ortools'] = None; sys.modules['solver.search'] = None\n"
        f"sys.argv = ['rigset', 'verify', {str(written)!r}, {brief(NAME)!r}, '--json']\n"
        "from solver.cli.main import outcome; sys.exit(outcome())"
    )
    done = subprocess.run([sys.executable, "-c", script], cwd=ROOT, capture_output=True, text=True, timeout=120, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout)["least"] == 6944700


# --- using it -------------------------------------------------------------------------------------------------------------
def test_nothing_is_written_over(written):
    outcome = rigset("pick", brief(NAME), "--certificate", str(written))
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == f"{written} exists already and was left as it is. Try: another name, or --force to replace it\n"
    written.write_text("old")
    assert rigset("pick", brief(NAME), "--certificate", str(written), "--force").code == 0
    assert written.read_text("utf-8") == content()


@pytest.mark.parametrize("option", ["--exact", "--force"])
def test_options_of_the_certificate_alone(option):
    outcome = rigset("pick", brief(NAME), option)
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == f"found {option} without --certificate; expected both. Try: --certificate FILE {option}\n"


RANGES = "found a certificate asked for a brief with `ranges`; expected a brief in which every figure is one number. " \
         "Try: a copy of the brief for each point of the ranges that matters\n"  # fmt: skip


def test_a_brief_with_ranges(tmp_path, written):
    ranged = tmp_path / "ranged.yaml"
    new = tmp_path / "new.json"
    plain = demo.brief_path(NAME).read_text("utf-8")
    ranged.write_text(f"{plain}\nranges:\n  duty.altitude: {{from: 0 ft, to: 3000 ft}}\n", "utf-8")
    for command in (("pick", str(ranged), "--certificate", str(new)), ("verify", str(written), str(ranged))):
        outcome = rigset(*command)
        assert (outcome.code, outcome.out, outcome.err) == (2, "", RANGES)
    assert not new.exists()


def test_an_answer_that_is_not_proven_has_no_certificate():
    for changes in ({"proven": False}, {"status": "unknown", "proven": False}):
        with pytest.raises(NotProven) as caught:
            certify(stock(), demo.brief(NAME), replace(demo.answer(NAME, "price"), **changes))
        assert str(caught.value) == "the answer is not proven, so no certificate was written"


def test_no_time_for_the_answer_is_no_time_for_its_proof(tmp_path):
    path = tmp_path / "certificate.json"
    forget()
    outcome = rigset("pick", brief(NAME), "--seconds", "0", "--certificate", str(path))
    forget()
    assert outcome.code == 1
    assert "The limit of work ended before it was known whether any rig fits." in " ".join(outcome.out.split())
    assert outcome.err == "Not known: the answer is not proven, so no certificate was written. Try: a higher limit, or none\n"
    assert not path.exists()


# --- another question -----------------------------------------------------------------------------------------------------
def other_question(outcome, path: str) -> tuple[str, str]:
    """The two fingerprints that the message names."""
    assert (outcome.code, outcome.out) == (2, "")
    start = f"{path}: found the certificate of another question, "
    middle = ' (brief "First rig on a tight budget", catalog "catalog"); expected that of this brief and catalog, '
    end = (
        ". Try: brief and catalog as they were when it was written, or a new one by `rigset pick BRIEF --certificate FILE`\n"
    )
    assert outcome.err.startswith(start)
    assert outcome.err.endswith(end)
    one, two = outcome.err[len(start) : -len(end)].split(middle)
    assert len(one) == len(two) == 15
    assert one != two
    return one, two


def test_another_brief(written):
    one, _ = other_question(rigset("verify", str(written), brief("humid_coast")), str(written))
    assert json.loads(content())["program"]["fingerprint"].startswith(one[:12])


def test_a_price_of_the_catalog_has_changed(written, tmp_path):
    """The gun of the rig 10 USD dearer: nothing of the old proof may be used."""
    folder = tmp_path / "catalog"
    shutil.copytree(demo.FOLDER / "catalog", folder)
    file = next(path for path in folder.rglob("*.yaml") if "id: gun-09" in path.read_text("utf-8"))
    head, tail = file.read_text("utf-8").split("id: gun-09", 1)
    assert "price: 1180 USD" in tail
    file.write_text(head + "id: gun-09" + tail.replace("price: 1180 USD", "price: 1190 USD", 1), "utf-8")
    other_question(rigset("verify", str(written), brief(NAME), "--catalog", str(folder)), str(written))


def test_a_fingerprint_changed(written):
    data = json.loads(content())
    data["program"]["fingerprint"] = "0" * 64
    written.write_text(text(data), "utf-8")
    assert other_question(rigset("verify", str(written), brief(NAME)), str(written))[0] == "000000000000..."


# --- tampering ------------------------------------------------------------------------------------------------------------
def closing(data: dict) -> dict:
    """The last step that closes a part by multipliers of rows."""
    return next(s for s in reversed(data["proof"]) if s.get("multipliers") and not s.get("rest"))


def lowered(data):
    data["least"] -= 1


def raised(data):
    data["least"] += 1


def slot_emptied(data):
    next(line for line in data["rig"] if line["slot"] == "air_dryer").update(item="none", choice="")


def another_lamp(data):
    """Another item that fits too, and costs more."""
    data["rig"] = dearer()[0]


def dearer_claimed(data):
    """The dearer rig, with its own cost as the least."""
    data["rig"], data["least"] = dearer()


def item_unknown(data):
    data["rig"][0]["item"] = "proportioner-99"


def line_dropped(data):
    data["rig"].pop()


def lines_swapped(data):
    data["rig"][0], data["rig"][1] = data["rig"][1], data["rig"][0]


def rows_miscounted(data):
    data["program"]["rows"] += 1


def scale_raised(data):
    closing(data)["scale"] += 10**9


def multipliers_dropped(data):
    closing(data)["multipliers"] = []


def row_unknown(data):
    closing(data)["multipliers"][0][0] = 10**6


def multiplier_negative(data):
    closing(data)["multipliers"][0][1] *= -1


def group_shortened(data):
    """An option taken from a group of more than one, or that group dropped with the part that follows it."""
    at = next(k for k, step in enumerate(data["proof"]) if step["step"] == "split")
    groups = data["proof"][at]["groups"]
    longest = max(groups, key=len)
    if len(longest) > 1:
        longest.pop()
    else:
        groups.pop()
        last_part_dropped(data, at)


def last_part_dropped(data, at):
    """Take out the steps of the last part of the split at this position."""
    root = data["proof"][at:]
    count = len(root[0]["groups"])
    starts, k = [], 1
    for _ in range(count + 1):
        starts.append(k)
        k += size_of(root, k)
    del data["proof"][at + starts[-1] : at + k]


def size_of(steps, k):
    """How many steps the part that starts here has."""
    want, at = 1, k
    while want:
        step = steps[at]
        below = {"split": len(step.get("groups", ())), "left-out": 1, "narrowed": int(step.get("rest", False))}
        want += below.get(step["step"], 0) - 1
        at += 1
    return at - k


@cache
def dearer() -> tuple[list[dict], int]:
    """A rig that fits the brief and costs more than the best, with its cost: the best with one option changed."""
    of = demo.asked(SPLIT)
    best = of.best(by="price").columns
    for slot, (first, end) in enumerate(of.program.slices):
        for column in range(first, end):
            columns = best.copy()
            columns[slot] = column
            if of.program.fits(columns) and of.program.cost(columns, "price") > of.program.cost(best, "price"):
                lines = of.lines(of.rig_of(columns), empty=True)
                rig = [{"slot": line.slot, "item": line.item, "choice": line.choice} for line in lines]
                return rig, of.program.cost(columns, "price")
    raise AssertionError("no other rig fits")


REFUSED = {
    lowered: "the rig does not cost what is said to be the least",
    raised: "the rig does not cost what is said to be the least",
    slot_emptied: "the rig breaks AIR-",
    another_lamp: "the rig does not cost what is said to be the least",
    dearer_claimed: "",
    item_unknown: "the rig has an option in slot proportioner that this catalog does not have",
    line_dropped: "the rig does not name every slot once, in their order",
    lines_swapped: "the rig does not name every slot once, in their order",
    rows_miscounted: "the numbers of slots, options and rows are not those of its program",
    scale_raised: "",
    multipliers_dropped: "",
    row_unknown: "there is no row 1,000,000",
    multiplier_negative: "is not above 0",
    group_shortened: "is open and in no group",
}


@pytest.mark.parametrize("change", REFUSED, ids=lambda change: change.__name__)
def test_what_was_tampered_with_is_refused(change, whole):
    data = json.loads(split())
    change(data)
    whole.write_text(text(data), "utf-8")
    outcome = rigset("verify", str(whole), brief(SPLIT))
    words = " ".join(outcome.out.split())
    assert (outcome.code, outcome.err) == (1, "")
    assert words.startswith(f"{TITLE} This certificate does not hold: ")
    assert REFUSED[change] in words
    assert "Nothing that it claims was shown. Do not rely on it." in words
    found = rigset("verify", str(whole), brief(SPLIT), "--json")
    assert found.code == 1
    assert {key: found.data[key] for key in ("status", "proof", "left", "total", "rig")} == {
        "status": "refused", "proof": None, "left": [], "total": None, "rig": [],
    }  # fmt: skip
    assert REFUSED[change] in found.data["refusal"]


def test_said_to_fit_no_rig_at_all(whole):
    data = json.loads(split()) | {"claim": "none", "least": None, "rig": []}
    whole.write_text(text(data), "utf-8")
    outcome = rigset("verify", str(whole), brief(SPLIT))
    assert outcome.code == 1
    assert "a scale other than 0, where no rig is said to fit at any cost" in " ".join(outcome.out.split())


def test_a_part_dropped(whole):
    data = json.loads(split())
    data["proof"].pop()
    whole.write_text(text(data), "utf-8")
    outcome = rigset("verify", str(whole), brief(SPLIT))
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.startswith(f"{whole}: found step ")
    assert outcome.err.endswith("; expected each part of a proof after what it belongs to.\n")


def test_all_of_it_left_to_the_engine(whole):
    """Not refused, since it claims no more; but what it says is that nothing was shown."""
    data = json.loads(split()) | {"proof": [{"step": "by-engine"}]}
    data["rig"], data["least"] = dearer()
    whole.write_text(text(data), "utf-8")
    outcome = rigset("verify", str(whole), brief(SPLIT))
    words = " ".join(outcome.out.split())
    assert outcome.code == 0
    assert words.startswith(f"{TITLE} Not shown: that no rig of this catalog that meets this brief costs")
    assert "The certificate leaves the whole question to the engine." in words
    data = rigset("verify", str(whole), brief(SPLIT), "--json").data
    assert (data["status"], data["proof"]["closed"], data["left"][0]["part"]) == ("in part", 0, "")


def places(data, here=()):
    """Every place in a JSON value that holds something."""
    yield here
    for key, inner in data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ():
        yield from places(inner, (*here, key))


def spoilt(data: dict, chance: random.Random) -> dict:
    """A copy with one place changed."""
    data = copy.deepcopy(data)
    part = chance.choice((data["proof"], data["proof"], data["rig"], data, data["program"]))
    place = chance.choice([place for place in places(part) if place])
    for key in place[:-1]:
        part = part[key]
    key = place[-1]
    old = part[key]
    if isinstance(old, int) and not isinstance(old, bool):
        flipped = old ^ 1 << chance.randrange(40)
        part[key] = chance.choice((old + 1, old - 1, -old, 0, old * 2**64, flipped, str(old), None, 0.5))
    elif isinstance(old, str):
        part[key] = chance.choice(("", old[:-1], old + "x", "closed", "by-engine", "none", 7, []))
    elif isinstance(old, bool):
        part[key] = not old
    elif isinstance(old, list) and old:
        part[key] = chance.choice((old[:-1], old[1:], [*old, old[0]], old[::-1], [], chance.sample(old, len(old))))
    elif chance.random() < 0.5:
        del part[key]
    else:
        part[key] = chance.choice(([], {}, None, {"step": "by-engine"}))
    return data


def judged(path, content: str) -> str:
    """What becomes of a file: "shown" and "in part" only for what is true of the demo brief."""
    path.write_text(content, "utf-8")
    try:
        found = verify(stock(), demo.brief(SPLIT), path)
    except InputError as error:
        assert str(error).startswith(f"{path}")
        return "bad"
    if found.status == "shown":
        assert found.least == demo.least_cost(demo.asked(SPLIT), found.by), "a false claim was let through"
    return found.status


@pytest.mark.usefixtures("asked_once")
def test_anything_changed_at_random(tmp_path):
    """A file that says something else is refused, or what it says is still true; it is never a fault."""
    seen = set()

    @settings(max_examples=150, deadline=None, derandomize=True)
    @given(st.randoms(use_true_random=False), st.sampled_from((1, 1, 2, 5)))
    def change(chance, times):
        data = json.loads(split())
        for _ in range(times):
            data = spoilt(data, chance)
        seen.add(judged(tmp_path / "spoilt.json", text(data)))

    change()
    assert {"bad", "refused"} <= seen


@pytest.mark.usefixtures("asked_once")
def test_no_change_makes_a_false_claim_hold(tmp_path):
    """A dearer rig said to be the cheapest, and the proof changed at random: never shown in full."""
    seen = set()

    @settings(max_examples=100, deadline=None, derandomize=True)
    @given(st.randoms(use_true_random=False), st.sampled_from((1, 2, 5)))
    def change(chance, times):
        data = json.loads(split())
        dearer_claimed(data)
        for _ in range(times):
            data = {**data, "proof": spoilt(data, chance)["proof"]}
        seen.add(judged(tmp_path / "spoilt.json", text(data)))

    change()
    assert "refused" in seen
    assert "shown" not in seen


@pytest.mark.usefixtures("asked_once")
def test_bytes_changed_at_random(tmp_path):
    """In the file as it stands: every flip of a byte and every cut is bad input, refused, or still true."""
    raw = split().encode()
    chance = random.Random(3)
    path, seen = tmp_path / "spoilt.json", set()
    for _ in range(100):
        at = chance.randrange(len(raw))
        flipped = raw[:at] + bytes([raw[at] ^ 1 << chance.randrange(8)]) + raw[at + 1 :]
        path.write_bytes(chance.choice((flipped, flipped, raw[:at])))
        try:
            found = verify(stock(), demo.brief(SPLIT), path)
        except InputError as error:
            assert str(error).startswith(f"{path}")
            seen.add("bad")
            continue
        assert found.status != "shown" or found.least == demo.least_cost(demo.asked(SPLIT), "price")
        seen.add(found.status)
    assert {"bad", "refused"} <= seen
