"""rigset sheet: what it writes and says, and the page as a browser shows it (where there is one)."""

from __future__ import annotations

import json
import os
import shutil
import unicodedata
from io import BytesIO

import pytest

from solver.answers.facts import Picked
from solver.report.sheet.page import page
from tests.cli.run import brief, python, rigset
from tests.report.sheets import quick, whole

WIDTHS = (360, 768, 1280)


@pytest.fixture(scope="module")
def written(tmp_path_factory):
    """The command run once on the first demo brief, with drawings and JSON."""
    folder = tmp_path_factory.mktemp("sheet")
    outcome = rigset("sheet", brief("first_rig"), str(folder / "a.html"), "--drawings", str(folder / "d"), "--json")
    return folder, outcome


def test_page_drawings_and_json(written):
    folder, outcome = written
    assert (outcome.code, outcome.err) == (0, "")
    assert sorted(path.name for path in (folder / "d").iterdir()) == ["air-1.svg", "material-1.svg", "power-1.svg"]
    text = (folder / "a.html").read_text(encoding="utf-8")
    assert text.startswith("<!doctype html>") and text.rstrip().endswith("</html>")
    picked = json.loads(rigset("pick", brief("first_rig"), "--json").out)
    assert outcome.data["pick"] == picked
    assert f"${picked['total']['price']:,.0f}" in text


def test_an_existing_file_is_kept_unless_forced(written):
    folder, _ = written
    again = rigset("sheet", brief("first_rig"), str(folder / "a.html"))
    assert (again.code, again.out) == (2, "")
    assert str(folder / "a.html") in again.err and "--force" in again.err


def test_another_ending_is_refused_before_any_work(tmp_path):
    outcome = rigset("sheet", brief("first_rig"), str(tmp_path / "a.pdf"))
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == "found OUT a.pdf; expected a name that ends in .html or .xlsx. Try: a.html\n"


def test_a_conflict_writes_its_page_and_exits_with_one(tmp_path):
    out = tmp_path / "none.html"
    outcome = rigset("sheet", brief("wish_list"), str(out), "--quick")
    assert (outcome.code, outcome.out) == (1, f"wrote {out}\n")
    assert "What cannot hold together" in out.read_text(encoding="utf-8")


def test_pick_and_help_load_no_template_or_spreadsheet_library():
    run = python(
        "-c",
        "import sys; import solver.cli.main, solver.cli.sheet_command; "
        "print([name for name in ('jinja2', 'openpyxl', 'markupsafe') if name in sys.modules])",
    )
    assert (run.stdout, run.stderr) == ("[]\n", "")


def test_the_kept_answer_is_a_whole_one():
    assert isinstance(whole().picked, Picked)
    assert whole().curves and whole().rivals is not None


# --- in a browser -----------------------------------------------------------------------------------------------------
def chromium() -> str | None:
    """Path of a Chromium on this machine."""
    named = os.environ.get("RIGSET_CHROMIUM")
    return named or next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)


@pytest.fixture(scope="module")
def browser():
    """A headless Chromium."""
    path = chromium()
    if path is None:
        pytest.skip("no Chromium on this machine (Debian: apt-get install chromium)")
    playwright = pytest.importorskip("playwright.sync_api", reason="playwright is not installed (extra `test`)")
    with playwright.sync_playwright() as driver:
        opened = driver.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    """The page of a rig and that of a conflict as files."""
    folder = tmp_path_factory.mktemp("pages")
    made = {"rig": page(whole()), "conflict": page(quick("wish_list"))}
    for name, text in made.items():
        (folder / f"{name}.html").write_text(text, encoding="utf-8")
    return {name: (folder / f"{name}.html").as_uri() for name in made}


def opened(browser, url, width=1280):
    """The page at a width, with what went to the console and over the wire."""
    sheet = browser.new_page(viewport={"width": width, "height": 900})
    heard: list[str] = []
    sheet.on("console", lambda message: heard.append(message.text))
    sheet.on("pageerror", lambda error: heard.append(str(error)))
    sheet.on("request", lambda request: heard.append(request.url))
    sheet.goto(url)
    return sheet, heard


@pytest.mark.parametrize("name", ["rig", "conflict"])
@pytest.mark.parametrize("width", WIDTHS)
def test_nothing_is_wider_than_the_screen(browser, files, name, width):
    sheet, heard = opened(browser, files[name], width)
    sheet.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    wide = sheet.evaluate(
        """() => [...document.querySelectorAll('body *')].filter(e => {
          const r = e.getBoundingClientRect();
          return r.width > 0 && !e.closest('.skip') && (r.right > innerWidth + 0.5 || r.left < -0.5);
        }).map(e => e.tagName + ' ' + e.className + ' ' + (e.textContent || '').slice(0, 40))"""
    )
    assert wide == []
    assert sheet.evaluate("document.documentElement.scrollWidth") <= width
    assert heard == [files[name]]
    sheet.close()


CONTRAST = """() => {
  const parse = c => { const m = c.match(/[\\d.]+/g).map(Number);
    return {r: m[0], g: m[1], b: m[2], a: m.length > 3 ? m[3] : 1}; };
  const lum = c => { const f = v => { v /= 255; return v <= 0.03928 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; };
    return 0.2126 * f(c.r) + 0.7152 * f(c.g) + 0.0722 * f(c.b); };
  const ground = e => { for (let n = e; n; n = n.parentElement) { const c = parse(getComputedStyle(n).backgroundColor);
    if (c.a === 1) return c; } return {r: 255, g: 255, b: 255, a: 1}; };
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), found = {};
  let texts = 0, least = 99;
  while (walk.nextNode()) {
    const e = walk.currentNode.parentElement;
    const unseen = ['STYLE', 'TITLE', 'DESC'].includes(e.tagName.toUpperCase()) || !e.getClientRects().length;
    if (unseen || !walk.currentNode.textContent.trim()) continue;
    const s = getComputedStyle(e), svg = e.closest('svg');
    const ink = lum(parse(svg ? s.fill : s.color)), paper = lum(ground(svg || e));
    const ratio = (Math.max(ink, paper) + 0.05) / (Math.min(ink, paper) + 0.05);
    texts++; least = Math.min(least, ratio);
    if (ratio < 4.5) found[e.tagName + ' ' + s.color + ' ' + ratio.toFixed(2)] = e.textContent.slice(0, 30);
  }
  return {texts, least, found};
}"""


@pytest.mark.parametrize("name", ["rig", "conflict"])
def test_text_has_the_contrast_that_wcag_asks_for(browser, files, name):
    """WCAG 2.1, 1.4.3, level AA: 4.5 to 1 for all text, large or not, against the nearest ground that is not clear."""
    sheet, _ = opened(browser, files[name])
    sheet.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    measured = sheet.evaluate(CONTRAST)
    assert measured["found"] == {}
    assert measured["texts"] > (2000 if name == "rig" else 50) and 4.5 <= measured["least"] < 22.0
    sheet.close()


def plain(text: str) -> str:
    """Text without spaces and ligatures."""
    return "".join(unicodedata.normalize("NFKC", text).split())


@pytest.mark.parametrize("form", ["Letter", "A4"])
def test_no_table_row_is_cut_in_print(browser, files, form):
    pypdf = pytest.importorskip("pypdf")
    sheet, _ = opened(browser, files["rig"])
    rows = sheet.evaluate(
        """() => [...document.querySelectorAll('section:not(#working) tbody tr')]
          .filter(r => r.getClientRects().length)
          .map(r => [...r.cells].map(c => c.innerText))"""
    )
    printed = pypdf.PdfReader(BytesIO(sheet.pdf(format=form)))
    texts = [plain(leaf.extract_text()) for leaf in printed.pages]
    wanted = [[plain(cell) for cell in row if cell.strip()] for row in rows]
    cut = [row for row in wanted if not any(all(cell in text for cell in row) for text in texts)]
    assert cut == []
    assert len(wanted) > 120 and 8 <= len(texts) <= 40
    sheet.close()


def test_the_print_has_its_page_numbers_and_no_menu(browser, files):
    pypdf = pytest.importorskip("pypdf")
    sheet, _ = opened(browser, files["rig"])
    printed = pypdf.PdfReader(BytesIO(sheet.pdf(format="Letter")))
    first = printed.pages[0].extract_text()
    assert f"1 / {len(printed.pages)}" in first
    assert "Rest of the list" not in first
    sheet.close()
