"""YAML read safely: what it gives, hostile files, lines, folders. Writing is in test_write_whole.py."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from solver import files
from solver.errors import InputError
from solver.files import Document, find_yaml, read_yaml


def written(folder: Path, content: str | bytes) -> Path:
    path = folder / "a.yaml"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return path


def sentence(path: Path) -> str:
    """What reading the file says, with the folder taken out."""
    with pytest.raises(InputError) as caught:
        read_yaml(path)
    return str(caught.value).replace(f"{path.parent}{os.sep}", "")


def test_plain_scalars_stay_the_text_that_was_typed(tmp_path):
    text = "a: no\nb: 1:30\nc: 010\nd: 1e3\ne: null\nf:\ng: ~\nh: 2001-01-01\ni: 'quoted'\nj: 12 kW\nk: .nan\n"
    assert read_yaml(written(tmp_path, text)).data == {
        "a": "no", "b": "1:30", "c": "010", "d": "1e3", "e": "null", "f": "", "g": "~", "h": "2001-01-01",
        "i": "quoted", "j": "12 kW", "k": ".nan",
    }  # fmt: skip


def test_every_entry_has_its_line(tmp_path):
    text = "# a comment\nclass: gun\nitems:\n- id: x\n  tags: [a,\n    b]\n- id: y\n  inner:\n    deep: >\n      text\n"
    document = read_yaml(written(tmp_path, text))
    lines = {
        (): 2,
        ("class",): 2,
        ("items",): 3,
        ("items", 0): 4,
        ("items", 0, "tags"): 5,
        ("items", 0, "tags", 1): 6,
        ("items", 1, "id"): 7,
        ("items", 1, "inner", "deep"): 9,
        ("items", 1, "absent"): 7,
        ("items", 9, "id"): 3,
        ("class", "below a text"): 2,
    }
    assert {place: document.line(place) for place in lines} == lines


def test_the_same_as_a_tree_of_nodes(tmp_path):
    root = read_yaml(written(tmp_path, "a: 1\nb:\n- x\n- {c: y}\n")).root
    assert isinstance(root.value, dict)
    assert (root.value["a"].value, root.value["a"].line) == ("1", 1)
    entries = root.value["b"].value
    assert isinstance(entries, list)
    assert [entry.line for entry in entries] == [3, 4]
    assert isinstance(entries[1].value, dict)
    assert (entries[1].value["c"].value, entries[1].value["c"].line) == ("y", 4)


def test_a_mistake_stands_at_the_line_of_its_place(tmp_path):
    document = read_yaml(written(tmp_path, "a: 1\nb: 2\n"))
    assert str(document.mistake(("b",), "x", "y", "z")) == f"{tmp_path / 'a.yaml'}:2: found x; expected y. Try: z"


def test_a_byte_order_mark_is_read_over(tmp_path):
    assert read_yaml(written(tmp_path, b"\xef\xbb\xbfa: 1\r\nb: 2\r\n")).data == {"a": "1", "b": "2"}


TAB = "found a tab; expected spaces before and between entries. Try: two spaces for each tab"
ALIAS = "expected every entry written out. Try: a copy of the entry"
DEEP = "found more than 20 lists or mappings inside each other; expected at most 20."
UTF8 = ", which is not UTF-8; expected text in UTF-8. Try: saving the file as UTF-8"
CONTROL = "expected printable text. Try: taking it out"
PLAIN = "expected plain entries without a tag. Try: the entry without it"
INDENT = (
    "expected YAML. Try: the same indent for entries of one list or mapping, and a closing mark for every opening one"
)
HOSTILE = {
    "duplicate key": (
        "a: 1\nb: 2\na: 3\n",
        '3: found "a" a second time; expected each key once (first in line 1).',
    ),
    "duplicate key inside": (
        "x:\n- {a: 1, a: 2}\n",
        '2: found "a" a second time; expected each key once (first in line 2).',
    ),
    "tab before an entry": (
        "a:\n\tb: 1\n",
        f"2: {TAB}",
    ),
    "tab before a dash": (
        "a:\n\t- 1\n",
        f"2: {TAB}",
    ),
    "latin-1": (
        b"a: 1\nb: caf\xe9\n",
        f"2: found the byte 0xe9{UTF8}",
    ),
    "utf-16": (
        b"\xff\xfea\x00:\x00",
        f"1: found the byte 0xff{UTF8}",
    ),
    "control character": (
        b"a: 1\nb: x\x07y\n",
        f"2: found the control character U+0007; {CONTROL}",
    ),
    "null byte": (
        b"a: 1\n\nb: \x00\n",
        f"3: found the control character U+0000; {CONTROL}",
    ),
    "alias": (
        "a: &x [1]\nb: *x\n",
        f"2: found the alias *x; {ALIAS}",
    ),
    "alias to itself": (
        "a: &x\n- *x\n",
        f"2: found the alias *x; {ALIAS}",
    ),
    "merge key": (
        "a: &x {b: 1}\nc:\n  <<: *x\n",
        f"3: found the alias *x; {ALIAS}",
    ),
    "python tag": (
        "a: !!python/object/apply:os.system ['true']\n",
        f"1: found the tag tag:yaml.org,2002:python/object/apply:os.system; {PLAIN}",
    ),
    "own tag": (
        "a: !kilowatt 3\n",
        f"1: found the tag !kilowatt; {PLAIN}",
    ),
    "flow nested too deep": (
        "a: " + "[" * 500,
        f"1: {DEEP}",
    ),
    "dashes nested too deep": (
        "- " * 100_000,
        f"1: {DEEP}",
    ),
    "mappings nested too deep": (
        "\n".join(" " * k + "a:" for k in range(100)),
        f"21: {DEEP}",
    ),
    "list as a key": (
        "? [a]\n: b\n",
        "1: found a list or mapping as a key; expected a word as a key. Try: quotation marks around the key",
    ),
    "second document": (
        "a: 1\n---\nb: 1\n",
        "2: found a second document (---); expected one document in a file.",
    ),
    "empty": (
        "",
        "1: found an empty file; expected a mapping of keys.",
    ),
    "only a comment": (
        "# nothing\n",
        "1: found an empty file; expected a mapping of keys.",
    ),
    "colon in a text": (
        "a: 1\nb: c: d\n",
        "2: found text that is no YAML (mapping values are not allowed in this context); "
        "expected YAML. Try: quotation marks around a text that holds a colon",
    ),
    "at sign": (
        "a: @b\n",
        "1: found text that is no YAML (found character that cannot start any token); "
        "expected YAML. Try: quotation marks around the text",
    ),
    "open bracket": (
        "a: [1\nb: 2\n",
        f"2: found text that is no YAML (did not find expected ',' or ']'); {INDENT}",
    ),
    "open quote": (
        "a: 'x\n",
        f"2: found text that is no YAML (found unexpected end of stream); {INDENT}",
    ),
}


@pytest.mark.parametrize(("content", "rest"), HOSTILE.values(), ids=HOSTILE.keys())
def test_a_file_of_bad_form_is_refused_with_file_and_line(tmp_path, content, rest):
    assert sentence(written(tmp_path, content)) == f"a.yaml:{rest}"


def test_all_mistakes_of_form_come_at_once(tmp_path):
    text = "a: 1\na: 2\nb: !x 3\nb: 4\n"
    assert sentence(written(tmp_path, text)).splitlines() == [
        'a.yaml:2: found "a" a second time; expected each key once (first in line 1).',
        "a.yaml:3: found the tag !x; expected plain entries without a tag. Try: the entry without it",
        'a.yaml:4: found "b" a second time; expected each key once (first in line 3).',
    ]


def test_a_billion_laughs_costs_nothing(tmp_path):
    lines = ["a0: &a0 [lol, lol]"] + [f"a{k}: &a{k} [{', '.join([f'*a{k - 1}'] * 9)}]" for k in range(1, 30)]
    path = written(tmp_path, "\n".join(lines))
    start = time.perf_counter()
    assert sentence(path) == "a.yaml:2: found the alias *a0; expected every entry written out. Try: a copy of the entry"
    assert time.perf_counter() - start < 1.0


def test_a_large_file_is_refused_unread(tmp_path, monkeypatch):
    monkeypatch.setattr(files, "LARGEST_FILE", 2_000_000)
    path = written(tmp_path, "a: " + "x" * 2_000_000)
    assert sentence(path) == "a.yaml: found a larger file; expected at most 2 MB. Try: several smaller files"


def test_what_is_no_file_is_refused(tmp_path):
    assert (
        sentence(tmp_path / "absent.yaml") == "absent.yaml: found nothing there; expected a YAML file that can be read."
    )
    (tmp_path / "folder.yaml").mkdir()
    assert sentence(tmp_path / "folder.yaml") == "folder.yaml: found no plain file; expected a YAML file."
    os.mkfifo(tmp_path / "pipe.yaml")
    assert sentence(tmp_path / "pipe.yaml") == "pipe.yaml: found no plain file; expected a YAML file."


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.binary(max_size=60) | st.text("ab:- \n\t[]{}*&!?'\"#|>%@,\u0085\u2028\ufeff", max_size=60).map(str.encode))
def test_any_bytes_are_read_or_refused_in_words(tmp_path, content):
    try:
        assert isinstance(read_yaml(written(tmp_path, content)), Document)
    except InputError as error:
        assert all(mistake.file.endswith("a.yaml") for mistake in error.mistakes)


# --- folders ----------------------------------------------------------------------------------------------------------
def test_yaml_files_of_a_folder_in_the_order_of_their_paths(tmp_path):
    for name in ("b.yaml", "a/z.YML", "a/b/c.yaml", ".hidden.yaml", ".git/x.yaml", "notes.txt"):
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("a: 1\n")
    assert [path.relative_to(tmp_path).as_posix() for path in find_yaml(tmp_path)] == [
        "a/b/c.yaml",
        "a/z.YML",
        "b.yaml",
    ]


@pytest.mark.parametrize(("name", "found"), [("absent", "nothing there"), ("file", "no folder")])
def test_what_is_no_folder_is_refused(tmp_path, name, found):
    (tmp_path / "file").write_text("x")
    with pytest.raises(InputError) as caught:
        find_yaml(tmp_path / name)
    assert str(caught.value) == f"{tmp_path / name}: found {found}; expected a folder with YAML files."


def test_a_folder_of_too_many_files_is_refused(tmp_path, monkeypatch):
    monkeypatch.setattr(files, "MOST_FILES", 2)
    for k in range(3):
        (tmp_path / f"{k}.yaml").write_text("a: 1\n")
    with pytest.raises(InputError) as caught:
        find_yaml(tmp_path)
    assert str(caught.value) == f"{tmp_path}: found more than 2 files; expected the folder of one catalog."
