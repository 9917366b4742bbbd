"""Files that are no certificate, or one made to hurt: each is told in a sentence, within bounds of time and memory."""

from __future__ import annotations

import json
import os
import sys

import pytest

from solver.answers.certificate_file import read_certificate
from solver.errors import InputError
from tests.cli.run import brief, rigset

FORM = "the form of a certificate, as `rigset pick BRIEF --certificate FILE` writes it"
WHOLE = {
    "format": "rigset certificate", "version": 1, "claim": "least", "by": "price", "unit": "cents", "least": 1,
    "brief": {"title": "none"}, "catalog": {"name": "none", "items": 0},
    "program": {"fingerprint": "0" * 64, "slots": 1, "options": 1, "rows": 1},
    "rig": [{"slot": "gun", "item": "gun-01", "choice": ""}], "proof": [{"step": "by-engine"}],
}  # fmt: skip


def text(**changes: object) -> str:
    """A certificate of the right form, with something changed."""
    return json.dumps({**WHOLE, **changes})


RAW = {
    "empty": ("", f":1: found text that is no JSON; expected {FORM}."),
    "cut short": ('{"format": "rigset certificate",\n"version"', f":2: found text that is no JSON; expected {FORM}."),
    "no JSON": ("format: rigset certificate\n", f":1: found text that is no JSON; expected {FORM}."),
    "two values": (text() + text(), f":1: found text that is no JSON; expected {FORM}."),
    "another kind of file": ('{"rig": []}', ': found no certificate; expected a file with "format": "rigset certificate".'),
    "a list": ("[]", ': found no certificate; expected a file with "format": "rigset certificate".'),
    "null": ("null", ': found no certificate; expected a file with "format": "rigset certificate".'),
    "a later version": (text(version=2), ": found a certificate of another version; expected version 1. Try: the version of "
                        "rigset that wrote it"),
    "true is no version": (text(version=True), ": found a certificate of another version; expected version 1. Try: the "
                           "version of rigset that wrote it"),
    "a key too many": (text(note=""), ": found other keys in the certificate; expected format, version, claim, by, unit, "
                       "least, brief, catalog, program, rig, proof."),
    "a key twice": ('{"format": "x", "format": "rigset certificate"}',
                    ": found a key a second time; expected each key once."),
    "another claim": (text(claim="best"), ": found another claim; expected `claim`: least or none."),
    "claim no word": (text(claim=[]), ": found another claim; expected `claim`: least or none."),
    "another objective": (text(by="beauty"), ": found another objective; expected `by`: price, weight, yearly-cost."),
    "objective no word": (text(by={}), ": found another objective; expected `by`: price, weight, yearly-cost."),
    "another unit": (text(unit="dollars"), ": found another unit; expected `unit`: cents."),
    "least no number": (text(least="1"), ": found something else under `least`; expected a whole number."),
    "least and none": (text(claim="none"), ": found something else under `least`; expected null."),
    "rig and none": (text(claim="none", least=None),
                     ": found something else under `rig`; expected a list of slots; an empty one where no rig fits."),
    "least true": (text(least=True), ": found something else under `least`; expected a whole number."),
    "a float": (text(least=1.0), ": found the number 1.0; expected whole numbers only."),
    "an exponent": (text().replace('"least": 1', '"least": 1e999'), ": found the number 1e999; expected whole numbers only."),
    "not a number": (text(least=float("nan")), ": found the number NaN; expected whole numbers only."),
    "infinite": (text(least=float("-inf")), ": found the number -Infinity; expected whole numbers only."),
    "a number without end": (text().replace('"least": 1', f'"least": {"9" * 5000}'),
                             ": found a number of 5,000 figures; expected at most 200."),
    "title no text": (text(brief={"title": 3}), ": found something else under `title`; expected text."),
    "brief no mapping": (text(brief="x"), ": found other keys in `brief`; expected title."),
    "catalog": (text(catalog={"name": "x", "items": "3"}), ": found something else under `items`; expected a whole number."),
    "program": (text(program=[]), ": found other keys in `program`; expected fingerprint, slots, options, rows."),
    "fingerprint": (text(program={**WHOLE["program"], "fingerprint": "0" * 63 + "g"}),
                    ": found something else under `fingerprint`; expected 64 figures from 0 to f."),
    "fingerprint with an end of line": (text(program={**WHOLE["program"], "fingerprint": "0" * 64 + "\n"}),
                                        ": found something else under `fingerprint`; expected 64 figures from 0 to f."),
    "rig no list": (text(rig={}),
                    ": found something else under `rig`; expected a list of slots; an empty one where no rig fits."),
    "a line no mapping": (text(rig=["gun-01"]), ": found other keys in a line of `rig`; expected slot, item, choice."),
    "a line of numbers": (text(rig=[{"slot": 1, "item": 2, "choice": 3}]),
                          ": found something else in a line of `rig`; expected text."),
    "proof no list": (text(proof={}), ": found something else under `proof`; expected a list of steps."),
    "no proof": (text(proof=[]), ": found no step; expected one list of steps that starts with the whole. Try: the "
                 "certificate as it was written"),
    "deep lists": (text().replace('"least": 1', '"least": ' + "[" * 400_000),
                   ": found lists or mappings too deep inside each other; expected " + FORM + "."),
}  # fmt: skip


@pytest.mark.parametrize(("content", "message"), RAW.values(), ids=RAW)
def test_a_file_of_another_form(tmp_path, content, message):
    path = tmp_path / "certificate.json"
    path.write_text(content, "utf-8")
    with pytest.raises(InputError) as caught:
        read_certificate(path)
    assert str(caught.value) == f"{path}{message}"


@pytest.mark.parametrize("kind", ["empty", "deep lists", "a number without end", "claim no word"])
def test_on_the_command_line(tmp_path, kind):
    content, message = RAW[kind]
    path = tmp_path / "certificate.json"
    path.write_text(content, "utf-8")
    outcome = rigset("verify", str(path), brief("first_rig"))
    assert (outcome.code, outcome.out, outcome.err) == (2, "", f"{path}{message}\n")


def test_the_form_these_change_is_right(tmp_path):
    path = tmp_path / "certificate.json"
    path.write_text(text(), "utf-8")
    assert read_certificate(path).least == 1


def test_bytes_that_are_no_text(tmp_path):
    path = tmp_path / "certificate.json"
    path.write_bytes(b'{"format": "\xff"}')
    with pytest.raises(InputError) as caught:
        read_certificate(path)
    assert str(caught.value) == f"{path}: found text that is not UTF-8; expected {FORM}."


@pytest.mark.skipif(sys.platform == "win32", reason="pipes as Unix has them")
def test_no_file(tmp_path):
    pipe, large = tmp_path / "pipe", tmp_path / "large"
    os.mkfifo(pipe)
    with large.open("wb") as file:
        file.truncate(30_000_000)
    for path, found in (
        (pipe, "no plain file; expected a certificate."),
        (tmp_path, "no plain file; expected a certificate."),
        (tmp_path / "gone", "nothing there; expected a certificate that can be read."),
        (large, "a larger file; expected at most 20 MB."),
    ):
        with pytest.raises(InputError) as caught:
            read_certificate(path)
        assert str(caught.value) == f"{path}: found {found}"


def test_marks_of_direction_in_a_title_do_not_reach_the_terminal(tmp_path):
    path = tmp_path / "certificate.json"
    path.write_text(text(brief={"title": "safe\u202e\x1b[2J" + "x" * 10_000}), "utf-8")
    outcome = rigset("verify", str(path), brief("first_rig"))
    assert outcome.code == 2
    assert "safe\\u202e\\x1b[2J" in outcome.err
    assert outcome.err.rstrip("\n").isprintable()
    assert len(outcome.err) < 1000


@pytest.mark.parametrize(
    "proof",
    [
        '{"step":"narrowed","scale":0,"multipliers":[],"rest":true},' * 100_000 + '{"step":"by-engine"}',
        '{"step":"split","slot":0,"groups":[' + ",".join(["[0]"] * 200_000) + "]}" + ',{"step":"by-engine"}' * 200_000,
        '{"step":"closed","scale":1,"multipliers":[' + ",".join(["[0,1]"] * 1_000_000) + "]}",
    ],
    ids=["long", "wide", "many multipliers"],
)
def test_a_proof_of_megabytes_is_read(tmp_path, proof):
    path = tmp_path / "certificate.json"
    path.write_text(text().replace('{"step": "by-engine"}', proof), "utf-8")
    assert read_certificate(path).least == 1
