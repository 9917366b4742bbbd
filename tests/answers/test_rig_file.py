"""A rig chosen by hand: the forms of its file, and every mistake in it in its whole sentence."""

from __future__ import annotations

import pytest

from solver.answers.rig_file import read_named, read_rig
from solver.errors import InputError
from tests.demo.demo import asked

BY_HAND = """\
rig:
  proportioner: proportioner-01
  hose: {item: hose-01, choice: 3 x 50 ft + whip}
  gun: gun-01
  feed_pump_a: feed-pump-01
  feed_pump_b: feed-pump-01
  compressor: compressor-01
  generator: {item: generator-01, choice: CHOICE}
  lighting: lighting-01
  fit_out: fit-out-01
  vehicle: vehicle-01
aboard: [safety-item-01, tool-01]
"""


@pytest.fixture(scope="module")
def of():
    """A compiled demo brief."""
    return asked("owned_truck")


@pytest.fixture(scope="module")
def text(of):
    """The file above with ids of the demo catalog."""
    slots = of.setting.slots
    tools = [name for name, table in slots.items() if table.slot.item_class == "tool"]
    safety = [name for name, table in slots.items() if table.slot.item_class == "safety_item"]
    generator = slots["generator"]
    choice = generator.choices[0]
    found = BY_HAND.replace("CHOICE", choice).replace("generator-01", generator.items[0])
    found = found.replace("safety-item-01", safety[0]).replace("tool-01", tools[0])
    for name in ("proportioner", "hose", "gun", "compressor", "lighting", "fit_out", "vehicle"):
        found = found.replace(f"{name.replace('_', '-')}-01", slots[name].items[0])
    return found.replace("feed-pump-01", slots["feed_pump_a"].items[0])


def read(folder, of, text):
    """The rig of this text, as items by slot."""
    path = folder / "rig.yaml"
    path.write_text(text, encoding="utf-8")
    rig = read_rig(path, of)
    return {name: (table.items[rig[name]], table.choices[rig[name]]) for name, table in of.setting.slots.items()}


def said(folder, of, text):
    """Every mistake, without the folder."""
    with pytest.raises(InputError) as caught:
        read(folder, of, text)
    return str(caught.value).replace(f"{folder}/", "").splitlines()


def changed(text, old, new):
    """The text with one place changed."""
    assert text.count(old) == 1, old
    return text.replace(old, new)


def test_a_mapping_of_slots(tmp_path, of, text):
    rig = read(tmp_path, of, text)
    hose = of.setting.slots["hose"].items[0]
    assert rig["hose"] == (hose, "3 x 50 ft + whip")
    assert rig["air_dryer"] == ("none", "")
    aboard = [name for name, table in of.setting.slots.items() if table.slot.item and rig[name][0] != "none"]
    assert len(aboard) == 2


def test_a_list_of_lines_gives_the_same(tmp_path, of, text):
    rig = read(tmp_path, of, text)
    lines = [f"- {{slot: {slot}, item: {item}, choice: '{choice}'}}" for slot, (item, choice) in rig.items()
             if item != "none"]  # fmt: skip
    assert read(tmp_path, of, "\n".join(["rig:", *lines])) == rig


def test_an_empty_slot_may_be_said(tmp_path, of, text):
    said_so = changed(text, "  lighting:", "  air_dryer: none\n  lighting:")
    assert read(tmp_path, of, said_so) == read(tmp_path, of, text)


def test_wiring_that_is_not_said_follows_the_generator(tmp_path, of, text):
    path = tmp_path / "rig.yaml"
    path.write_text(text, encoding="utf-8")
    rig = read_rig(path, of)
    slots = of.setting.slots
    system = slots["generator"].one(rig["generator"]).system_wye
    for name in ("proportioner", "compressor", "lighting"):
        able = {float(w) for w, item in zip(slots[name].system_wye, slots[name].items, strict=True)
                if item == slots[name].items[rig[name]]}  # fmt: skip
        assert slots[name].one(rig[name]).system_wye == system or system not in able


def test_an_unknown_slot_with_the_nearest(tmp_path, of, text):
    assert said(tmp_path, of, changed(text, "  lighting:", "  air_drier: none\n  lighting:")) == [
        "rig.yaml:9: found slot `air_drier`; expected a slot of the rig. Try: did you mean `air_dryer`?"
    ]


def test_an_unknown_item_with_the_nearest(tmp_path, of, text):
    first = of.setting.slots["gun"].items[0]
    wrong = changed(text, f"gun: {first}", f"gun: x{first}")
    assert (
        said(tmp_path, of, wrong)
        == [
            f"rig.yaml:4: found item `x{first}` in slot gun; expected an item of class gun. Try: did you mean `{first}`?",
            f"rig.yaml:1: found nothing for slot gun; expected an item in every slot that cannot stay empty. Try: add "
            f"`gun: {first}` or another item of class gun",
        ][::-1]
    )


def test_an_item_like_no_other(tmp_path, of, text):
    first = of.setting.slots["gun"].items[0]
    found = said(tmp_path, of, changed(text, f"gun: {first}", "gun: zzzzz"))
    assert found[1] == (
        "rig.yaml:4: found item `zzzzz` in slot gun; expected an item of class gun. Try: look the id up in the catalog"
    )


def test_a_choice_that_is_none_of_its_item(tmp_path, of, text):
    wrong = changed(text, "3 x 50 ft + whip", "3 x 60 ft + whip")
    (found,) = said(tmp_path, of, wrong)
    hose = of.setting.slots["hose"].items[0]
    ways = [c for c, item in zip(of.setting.slots["hose"].choices, of.setting.slots["hose"].items, strict=True)
            if item == hose]  # fmt: skip
    assert found == (
        f"rig.yaml:3: found choice `3 x 60 ft + whip` of {hose}; expected one of: {'; '.join(ways[:8])}. Try: copy one "
        "of these words"
    )


def test_a_slot_left_out_that_cannot_stay_empty(tmp_path, of, text):
    first = of.setting.slots["gun"].items[0]
    assert said(tmp_path, of, changed(text, f"  gun: {first}\n", "")) == [
        "rig.yaml:1: found nothing for slot gun; expected an item in every slot that cannot stay empty. Try: add `gun: "
        f"{first}` or another item of class gun"
    ]


def test_a_hose_without_its_sections(tmp_path, of, text):
    hose = of.setting.slots["hose"].items[0]
    ways = [c for c, item in zip(of.setting.slots["hose"].choices, of.setting.slots["hose"].items, strict=True)
            if item == hose]  # fmt: skip
    wrong = changed(text, f"{{item: {hose}, choice: 3 x 50 ft + whip}}", hose)
    assert said(tmp_path, of, wrong) == [
        f"rig.yaml:3: found {hose} without its choice; expected one of: {'; '.join(ways[:14])}. Try: write hose: "
        f"{{item: {hose}, choice: ...}}"
    ]


def test_a_generator_of_two_outputs_without_its_choice(tmp_path, of, text):
    table = of.setting.slots["generator"]
    twice = next(item for item in table.items if table.items.count(item) > 1)
    ways = "; ".join(c for c, item in zip(table.choices, table.items, strict=True) if item == twice)
    line = next(line for line in text.splitlines() if line.startswith("  generator:"))
    wrong = changed(text, line, f"  generator: {twice}")
    assert said(tmp_path, of, wrong) == [
        f"rig.yaml:8: found {twice} without its choice; expected one of: {ways}. Try: write generator: "
        f"{{item: {twice}, choice: ...}}"
    ]


def test_a_slot_filled_twice(tmp_path, of, text):
    tool = next(name for name, table in of.setting.slots.items() if table.slot.item_class == "tool")
    found = said(tmp_path, of, changed(text, f", {tool}]", f", {tool}, {tool}]"))
    assert found == [
        f"rig.yaml:12: found slot {tool} a second time; expected one line a slot. Try: take one of the lines out"
    ]


def test_a_file_without_a_rig(tmp_path, of):
    assert said(tmp_path, of, "rigg: {}\n") == [
        "rig.yaml:1: found no key `rig`; expected a mapping with the key `rig`. Try: start the file with `rig:` and a "
        "line `slot: item-id` for every slot"
    ]


def test_text_under_rig(tmp_path, of):
    assert (
        "rig.yaml:1: found text under `rig`; expected a list or a mapping of slots. Try: write `slot: item-id` lines"
        in said(tmp_path, of, "rig: everything\n")
    )


def test_a_line_without_slot_and_item(tmp_path, of, text):
    rig = read(tmp_path, of, text)
    lines = [f"- {{slot: {slot}, item: {item}, choice: '{choice}'}}" for slot, (item, choice) in rig.items()
             if item != "none"]  # fmt: skip
    found = said(tmp_path, of, "\n".join(["rig:", "- {slot: air_dryer}", *lines]))
    assert found == [
        "rig.yaml:2: found a line without `slot` and `item`; expected both keys. Try: write {slot: gun, item: gun-01}"
    ]


def test_all_mistakes_at_once_sorted_by_line(tmp_path, of, text):
    first = of.setting.slots["gun"].items[0]
    wrong = changed(changed(text, "  lighting:", "  air_drier: none\n  lighting:"), f"  gun: {first}\n", "")
    found = said(tmp_path, of, wrong)
    assert [line.split(":")[1] for line in found] == ["1", "8"]


# --- a rig of which only some slots are filled ------------------------------------------------------------------------
def named(folder, of, text):
    """What the text names: items and choices that are left open, by slot."""
    path = folder / "rig.yaml"
    path.write_text(text, encoding="utf-8")
    found = read_named(path, of)
    slots = of.setting.slots
    return {name: [(slots[name].items[j], slots[name].choices[j]) for j in options] for name, options in found.items()}


def test_an_item_alone_leaves_its_choices_open(tmp_path, of):
    hose = of.setting.slots["hose"]
    found = named(tmp_path, of, f"rig:\n  hose: {hose.items[0]}\n")
    assert found == {
        "hose": [(item, choice) for item, choice in zip(hose.items, hose.choices, strict=True) if item == hose.items[0]]
    }
    assert len(found["hose"]) == 13


def test_a_choice_that_is_said_is_kept(tmp_path, of):
    hose = of.setting.slots["hose"]
    found = named(tmp_path, of, f"rig:\n  hose: {{item: {hose.items[0]}, choice: {hose.choices[3]}}}\n")
    assert found == {"hose": [(hose.items[0], hose.choices[3])]}


def test_slots_come_in_the_order_of_the_rig_and_an_empty_one_can_be_named(tmp_path, of):
    tool = next(name for name, table in of.setting.slots.items() if table.slot.item_class == "tool")
    gun = of.setting.slots["gun"].items[0]
    found = named(tmp_path, of, f"rig:\n  air_dryer: none\n  gun: {gun}\naboard: [{tool}]\n")
    assert found == {"gun": [(gun, "")], "air_dryer": [("none", "")], tool: [(tool, "")]}
    assert list(found) == ["gun", "air_dryer", tool]


def test_every_mistake_in_what_is_named_is_told_at_once(tmp_path, of):
    hose = of.setting.slots["hose"]
    path = tmp_path / "rig.yaml"
    path.write_text(f"rig:\n  gunn: gun-01\n  hose: {{item: {hose.items[0]}, choice: 9 x 50 ft}}\n", encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_named(path, of)
    assert str(caught.value).replace(f"{tmp_path}/", "").splitlines() == [
        "rig.yaml:2: found slot `gunn`; expected a slot of the rig. Try: did you mean `gun`?",
        f"rig.yaml:3: found choice `9 x 50 ft` of {hose.items[0]}; expected one of: {'; '.join(hose.choices[:8])}. Try: copy "
        "one of these words",
    ]
