"""`rigset catalog take`: what it says, what it asks, what it writes, and its exit codes."""

from __future__ import annotations

import json
import sys
from io import StringIO

import pytest
import yaml

from tests.catalog.take_files import FILLS, RECEIVERS, csv_file
from tests.cli.run import python, rigset

run = rigset.__wrapped__
FILL = [part for fill in FILLS for part in ("--fill", fill)]


def heavy(*arguments):
    """Heavy modules that a command loads."""
    code = (
        f"import sys; sys.argv = ['rigset', *{arguments!r}]\n"
        "from solver.cli.main import outcome\noutcome()\n"
        "sys.stderr.write(' '.join(n for n in ('ortools', 'pint', 'pandas', 'openpyxl', 'solver.rules') if n in sys.modules))"
    )
    return set(python("-c", code).stderr.rpartition("\n")[2].split())


def test_a_list_becomes_a_file_that_the_check_passes(tmp_path):
    path, folder = csv_file(tmp_path / "list.csv", RECEIVERS), tmp_path / "own"
    outcome = run("catalog", "take", str(path), "--into", str(folder), *FILL)
    assert (outcome.code, outcome.err) == (0, "")
    first = f"{path}: headings in row 1, 3 rows below; taken for items of the class receiver, by its headings."
    assert "".join(outcome.out.split()).startswith("".join(first.split())), "a long path may be broken over two lines"
    assert "\n3 items: receiver-01 to receiver-03. No row is refused.\n" in outcome.out
    assert f"\nwritten: {folder}/receiver-list.yaml\n" in outcome.out
    checked = run("catalog", "check", str(folder))
    assert checked.code == 2
    found = [line.partition(": found ")[2].partition(";")[0] for line in checked.err.splitlines()]
    assert found == [f"no items of class {name}" for name in (
        "compressor", "feed_pump", "fit_out", "gun", "hose", "lighting", "material", "proportioner", "vehicle")]  # fmt: skip
    assert " ".join(outcome.out.split()).endswith(
        "feed_pump, fit_out, gun, hose, lighting, material, proportioner and vehicle."
    )


def test_in_a_pipe_what_is_unsure_is_listed_to_copy_and_nothing_is_written(tmp_path):
    rows = [[*row] for row in RECEIVERS]
    rows[0][1], rows[0][2] = "Price", "Wt"
    rows[3][1] = "1480"
    path, folder = csv_file(tmp_path / "list.csv", rows), tmp_path / "own"
    outcome = run("catalog", "take", str(path), "--into", str(folder), *FILL[:-2])
    assert outcome.code == 2
    assert not folder.exists()
    assert outcome.err == (
        "Nothing was written. Please say:\n"
        "\n"
        '- column B "Price" is price without a unit.\n'
        '    --map "Price=price USD"\n'
        "\n"
        '- column C "Wt" is weight without a unit.\n'
        '    --map "Wt=weight lb"\n'
        '    --map "Wt=weight kg"\n'
        "\n"
        "- no column is parts: Time until its spare parts arrive. Expected: a time of at\n"
        "  least 0 day, such as 3 day.\n"
        '    --fill "parts=... day"\n'
    )
    said = ["--map", "Price=price USD", "--map", "Wt=weight lb", *FILL]
    assert run("catalog", "take", str(path), "--into", str(folder), *said).code == 0


def test_refused_rows_keep_everything_back_until_they_are_left_out(tmp_path):
    rows = [*RECEIVERS, ["Receiver, used", "call", *RECEIVERS[1][2:]]]
    path, folder = csv_file(tmp_path / "list.csv", rows), tmp_path / "own"
    command = ("catalog", "take", str(path), "--into", str(folder), *FILL)
    outcome = run(*command)
    why = (
        f'{path}:5: found price (column B) "call", which does not begin with a number; expected an amount of money of at '
        "least 0 USD, such as 3200 USD.\n"
    )
    assert outcome.code == 2
    assert outcome.err == (
        f"{why}Nothing was written: 1 row is refused. Try: mending the rows, or --leave-out to take the others\n"
    )
    assert not folder.exists()
    left = run(*command, "--leave-out")
    assert (left.code, left.err) == (0, why)
    assert sorted(p.name for p in folder.iterdir()) == ["receiver-list.refused.csv", "receiver-list.yaml"]
    again = run(*command, "--leave-out")
    assert (again.code, again.err) == (
        2, f"{folder}/receiver-list.yaml exists already and was left as it is. Try: another name, or --force to replace it\n",
    )  # fmt: skip
    assert run(*command, "--leave-out", "--force").code == 0


def test_dry_writes_nothing_and_json_says_the_same_as_the_file(tmp_path):
    path, folder = csv_file(tmp_path / "list.csv", RECEIVERS), tmp_path / "own"
    dry = run("catalog", "take", str(path), "--dry", "--json", *FILL)
    assert (dry.code, dry.data["status"], list(tmp_path.iterdir())) == (0, "dry", [path])
    taken = run("catalog", "take", str(path), "--into", str(folder), "--json", *FILL)
    assert taken.data["status"] == "taken"
    written = yaml.load((folder / "receiver-list.yaml").read_text("utf-8"), yaml.BaseLoader)
    items = [{key: value for key, value in item.items() if key != "row"} for item in taken.data["sheets"][0]["items"]]
    assert written["items"] == items == [{k: v for k, v in i.items() if k != "row"} for i in dry.data["sheets"][0]["items"]]
    assert taken.data["files"] == [str(folder / "receiver-list.yaml")]
    assert "gun" in taken.data["lacks"]


def test_json_of_what_is_unsure_and_of_what_is_refused(tmp_path):
    rows = [*RECEIVERS, ["Receiver, used", "call", *RECEIVERS[1][2:]]]
    path = csv_file(tmp_path / "list.csv", rows)
    unsure = run("catalog", "take", str(path), "--dry", "--json")
    assert (unsure.code, unsure.data["status"], len(unsure.data["questions"])) == (2, "unsure", 4)
    refused = run("catalog", "take", str(path), "--dry", "--json", *FILL)
    assert (refused.code, refused.data["status"]) == (2, "refused")
    assert [row["row"] for row in refused.data["sheets"][0]["refused"]] == [5]


def test_on_a_terminal_each_question_is_asked_and_a_wrong_answer_is_told(tmp_path, monkeypatch):
    rows = [[*row] for row in RECEIVERS]
    rows[0][2] = "Shipping weight, lbs"
    path, folder = csv_file(tmp_path / "list.csv", rows), tmp_path / "own"
    answers = iter(["7", "1", "soon", "1 week", "2 day"])
    asked = []

    def prompt(text, **_):
        asked.append(text)
        return next(answers)

    monkeypatch.setattr("typer.prompt", prompt)
    monkeypatch.setattr("sys.stdin", _Terminal())
    monkeypatch.setattr("tests.cli.run.StringIO", _Screen)
    outcome = run("catalog", "take", str(path), "--into", str(folder), *FILL[:4])
    assert outcome.code == 0
    assert "found the answer 7; expected an option as they are offered, in quotation marks." in outcome.err
    assert asked == [
        "Number, or an option (empty to stop)",
        "Number, or an option (empty to stop)",
        "delivery for every row (empty to stop)",
        "delivery for every row (empty to stop)",
        "parts for every row (empty to stop)",
    ]
    assert '--fill "delivery=soon" with "soon", which does not begin with a number' in outcome.err
    items = yaml.load((folder / "receiver-list.yaml").read_text("utf-8"), yaml.BaseLoader)["items"]
    assert [(item["weight"], item["delivery"], item["parts"]) for item in items] == [
        ("92 lb", "1 week", "2 day"), ("120 lb", "1 week", "2 day"), ("40 kg", "1 week", "2 day"),
    ]  # fmt: skip


def test_an_empty_answer_stops_with_what_is_still_unsure(tmp_path, monkeypatch):
    path, folder = csv_file(tmp_path / "list.csv", RECEIVERS), tmp_path / "own"
    monkeypatch.setattr("typer.prompt", lambda text, **_: "")
    monkeypatch.setattr("sys.stdin", _Terminal())
    monkeypatch.setattr("tests.cli.run.StringIO", _Screen)
    outcome = run("catalog", "take", str(path), "--into", str(folder), *FILL[:6])
    assert outcome.code == 2
    assert outcome.err.endswith('    --fill "parts=... day"\n')
    assert not folder.exists()


@pytest.mark.parametrize("columns", [80, 120])
def test_the_report_fits_the_terminal(tmp_path, columns):
    label = "Receiver with a label that goes on and on and on, and on again, until it ends at last"
    rows = [RECEIVERS[0], [label, *RECEIVERS[1][1:]], ["A very long note " * 12, *[""] * 8]]
    path = csv_file(tmp_path / "l.csv", rows)
    outcome = run("catalog", "take", str(path), "--dry", *FILL, columns=columns)
    assert outcome.code == 0
    long = [line for line in outcome.out.splitlines() if len(line) > columns and str(tmp_path) not in line]
    assert long == []


def test_without_a_folder_it_says_what_to_do(tmp_path):
    outcome = run("catalog", "take", str(csv_file(tmp_path / "l.csv", RECEIVERS)))
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == (
        "found no --into DIR; expected the folder of the catalog to write into. Try: --into DIR, or --dry to look first\n"
    )


def test_a_csv_file_needs_no_library_for_workbooks(tmp_path):
    path = csv_file(tmp_path / "list.csv", RECEIVERS)
    assert heavy("catalog", "take", str(path), "--dry", *FILL) == set()


def test_without_the_library_for_workbooks_the_extra_is_named(tmp_path, monkeypatch):
    path = tmp_path / "list.xlsx"
    run("catalog", "put", "catalog_demo/catalog", str(path), "--class", "gun")
    monkeypatch.setitem(sys.modules, "openpyxl", None)
    outcome = run("catalog", "take", str(path), "--dry")
    assert outcome.code == 2
    assert outcome.err == (
        "found no library for XLSX files; expected the extra `sheet`. Try: pip install 'rigset[sheet]', or a CSV file\n"
    )


def test_the_refused_file_is_safe_to_open_in_a_spreadsheet(tmp_path):
    rows = [*RECEIVERS, ["=HYPERLINK(1)", "call", *RECEIVERS[1][2:]]]
    path, folder = csv_file(tmp_path / "list.csv", rows), tmp_path / "own"
    run("catalog", "take", str(path), "--into", str(folder), "--leave-out", *FILL)
    lines = (folder / "receiver-list.refused.csv").read_text("utf-8-sig").splitlines()
    assert ",'=HYPERLINK(1),call," in lines[1]
    assert not any(cell.startswith(("=", "@")) for line in lines for cell in line.split(","))
    again = run("catalog", "take", str(folder / "receiver-list.refused.csv"), "--dry", "--json", *FILL)
    assert json.loads(again.out)["sheets"][0]["refused"][0]["mistakes"][0]["found"].startswith('price (column D) "call"')


class _Terminal:
    """A keyboard that answers through the prompt alone."""

    def isatty(self):
        return True


class _Screen(StringIO):
    """A screen."""

    def isatty(self):
        return True
