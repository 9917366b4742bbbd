"""The page of performance is what the program writes from the results, and its verdicts follow from its own figures."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from docs.performance_page import (
    PAGE,
    PROMISES,
    SECTIONS,
    Machine,
    Row,
    Section,
    performance_blocks,
    performance_page,
    promise_rows,
    read_results,
    section_lines,
    shown,
    write_results,
)
from tests.bench.__main__ import RUNS, main
from tests.bench.growth import exponent
from tests.bench.timing import Spent, ratio, rounds

HERE = Machine("2031-02-03", "Invented 9", 2, 8.0, "Linux 1.2", 0.1, {"Python": "3.11.0", "rigset": "0.1.0"})


def section(*rows: Row) -> Section:
    """A section with these rows, measured nowhere."""
    return Section(rows, ("a note",), {"seeds": "3 at most"}, 1.5, HERE)


def test_the_page_is_written_from_the_results_and_not_by_hand():
    assert PAGE.read_text("utf-8") == performance_page(read_results())


def test_every_section_of_the_command_stands_in_the_page_with_the_way_to_run_it_alone():
    assert list(RUNS) == list(SECTIONS)
    page = PAGE.read_text("utf-8")
    for name, (title, words) in SECTIONS.items():
        assert f"\n## {title}\n\n{words}\n\nAlone: `python -m tests.bench --only {name}`\n" in page


def test_every_promise_stands_in_the_page_and_leads_to_a_section():
    page = PAGE.read_text("utf-8")
    for promise in PROMISES.values():
        assert promise.section in SECTIONS
        assert f"| {promise.words} | {shown(promise.mark, promise.unit)} |" in page


def test_a_kept_row_says_met_if_its_own_figure_is_within_its_mark():
    for name, kept in read_results().items():
        lines = section_lines(name, kept)
        for row in kept.rows:
            told = [line for line in lines if line.startswith(f"| {row.what} | ")]
            if row.promise:
                within = row.value <= PROMISES[row.promise].mark
                assert PROMISES[row.promise].section == name
                assert told[0].split(" | ")[7] == ("met" if within else "**not met**")
            else:
                assert re.search(r"\bmet\b", told[0].split(" | ")[7]) is None


def test_a_row_at_its_mark_is_met_and_one_beyond_is_not():
    at = Row("`rigset --help`", "times", 2.0, 1.5, 2.5, 11, "help", 1.9, 0.25, note="against importing typer")
    over = replace(at, value=2.01)
    free = replace(at, promise="")
    assert (at.met, over.met, free.met) == (True, False, None)
    lines = section_lines("starts", section(at, over, free))
    table = [line for line in lines if line.startswith("| `rigset --help`")]
    assert table == [
        "| `rigset --help` | 2.00 | 1.50 to 2.50 | 11 | 1.90 | 0.250 s | 2 | met | against importing typer |",
        "| `rigset --help` | 2.01 | 1.50 to 2.50 | 11 | 1.90 | 0.250 s | 2 | **not met** | against importing typer |",
        "| `rigset --help` | 2.00 | 1.50 to 2.50 | 11 | 1.90 | 0.250 s |  |  | against importing typer |",
    ]
    assert "The machine was not quiet" not in "\n".join(lines)
    busy = replace(section(at), machine=replace(HERE, load=3.0))
    assert "The machine was not quiet: times by the clock are too long, and the ratios less certain." in section_lines(
        "starts", busy
    )


def test_a_promise_is_met_only_if_all_its_rows_are_and_shows_the_worst():
    good = Row("pick, a", "times", 1.4, 1.2, 1.6, 5, "pick", seconds=0.5)
    bad = Row("pick, b", "times", 2.6, 2.2, 2.9, 5, "pick", seconds=0.9)
    told = {words: (mark, value, verdict) for words, mark, value, verdict in promise_rows({"starts": section(good, bad)})}
    assert told[PROMISES["pick"].words] == ("2.50", "2.60 (pick, b)", "**not met**")
    assert told[PROMISES["why"].words] == ("4.00", "", "not measured yet")
    told = {words: (mark, value, verdict) for words, mark, value, verdict in promise_rows({"starts": section(good)})}
    assert told[PROMISES["pick"].words] == ("2.50", "1.40", "met")


def test_a_bound_is_called_one():
    cut = Row("median", "times", 0.083, 0.05, 0.09, 10, "large", seconds=1.1, bound=True)
    lines = section_lines("large", section(cut))
    assert "| median | at most 0.0830 | 0.0500 to 0.0900 | 10 |  | 1.10 s | 0.1 | met |  |" in lines


def test_the_readme_block_has_three_lines_with_figures_or_says_that_none_was_measured():
    assert performance_blocks({})["performance"] == (
        "- `rigset pick`, the answer: not measured yet\n"
        "- `rigset why`, the reasons in full: not measured yet\n"
        "- a thousand what-ifs: not measured yet\n"
    )
    starts = section(
        Row("pick, a", "times", 1.4, 1.2, 1.6, 5, "pick", seconds=0.5),
        Row("pick, b", "times", 1.8, 1.6, 1.9, 5, "pick", seconds=0.9),
        Row("why, a", "times", 3.0, 2.9, 3.1, 5, "why", seconds=1.5),
    )
    cells = section(Row("a", "times", 40.0, 40.0, 40.0, 1, "whatif", seconds=20.0))
    assert performance_blocks({"starts": starts, "whatif": cells})["performance"] == (
        "- `rigset pick`, the answer: 0.700 s on a demo brief, 0.900 s on the slowest; 1.80 times importing CP-SAT's Python "
        "layer alone at most\n"
        "- `rigset why`, the reasons in full: 1.50 s on a demo brief, 1.50 s on the slowest; 3.00 times one pick at most\n"
        "- a thousand what-ifs on two cores: 20.0 s at most, 40.0 times one pick\n"
    )


def test_the_minutes_of_a_whole_run_stand_there_once_every_section_was_measured():
    every = {name: section() for name in SECTIONS}
    assert f" All sections below took {1.5 * len(SECTIONS):.0f} minutes together. " in performance_page(every)
    del every["starts"]
    assert "minutes together" not in performance_page(every)


def test_results_come_back_from_their_file_as_they_were(tmp_path):
    results = {"hostile": section(Row("cases that failed", "cases", 0.0, 0.0, 0.0, 500, "hostile", seconds=3.0))}
    write_results(results, tmp_path / "results.json")
    assert read_results(tmp_path / "results.json") == results
    assert read_results(tmp_path / "none.json") == {}


def test_ratios_are_taken_within_the_rounds_and_rounds_turn_about():
    order: list[str] = []

    def job(name: str, seconds: float):
        def work() -> Spent:
            order.append(name)
            return Spent(seconds * len(order), seconds)

        return work

    found = rounds({"a": job("a", 1.0), "b": job("b", 2.0)}, 2)
    assert order == ["a", "b", "b", "a"]
    row = ratio("b against a", found["b"], found["a"], "why")
    assert (row.value, row.least, row.most, row.count, row.cpu, row.seconds) == ((4.0 + 1.5) / 2, 1.5, 4.0, 2, 2.0, 5.0)


def test_the_exponent_of_a_square_is_two():
    assert exponent([(1_000.0, 1.0), (10_000.0, 100.0), (100_000.0, 10_000.0)]) == pytest.approx(2.0, abs=1e-9)


def test_the_command_runs_a_section_and_ends_with_one_if_a_promise_is_broken(monkeypatch, capsys):
    row = Row("`rigset --help`", "times", 2.1, 2.1, 2.1, 1, "help")
    monkeypatch.setitem(RUNS, "starts", lambda settings: ([row], [f"{settings.rounds} rounds"]))
    assert main(["--only", "starts", "--rounds", "3"]) == 1
    said = capsys.readouterr()
    assert said.err == "starts ...\n"
    assert "| `rigset --help` | 2.10 |  | 1 |  |  | 2 | **not met** |  |\n\n- 3 rounds\n" in said.out
    assert "Settings: seeds 10 at most, limit of a general solver 60 s, rounds 3 at most. It took 0.0 minutes." in said.out


def test_a_quick_run_judges_no_promise(monkeypatch, capsys):
    row = Row("`rigset --help`", "times", 2.1, 2.1, 2.1, 1, "help")
    monkeypatch.setitem(RUNS, "starts", lambda settings: ([row], []))
    assert main(["--only", "starts", "--quick"]) == 0
    said = capsys.readouterr().out
    assert "| `rigset --help` | 2.10 |  | 1 |  |  |  |  |  |\n" in said
    assert "rounds 1 at most, quick yes, so these figures prove nothing. It took 0.0 minutes." in said


def test_a_section_that_cannot_be_measured_is_told_and_the_next_one_runs(monkeypatch, capsys):
    def failing(settings):
        raise RuntimeError("it left with 3")

    monkeypatch.setitem(RUNS, "starts", failing)
    monkeypatch.setitem(RUNS, "stages", lambda settings: ([Row("a", "s", 1.0, 1.0, 1.0, 1)], []))
    assert main(["--only", "starts", "stages", "--quick"]) == 1
    said = capsys.readouterr()
    assert said.err == "starts ...\nstarts was not measured: it left with 3\nstages ...\n"
    assert "| a | 1.00 s |  | 1 |  |  |  |  |  |\n" in said.out


def test_the_command_refuses_nonsense(capsys):
    with pytest.raises(SystemExit, match="2"):
        main(["--seeds", "0"])
    assert "--seeds, --rounds and --limit are at least one" in capsys.readouterr().err
