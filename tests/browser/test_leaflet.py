"""Leaflets in a browser without a network: nothing is asked for, panels move, paper cuts nothing.

How a page breaks is seen by letting it run in columns as high as a sheet of paper: what a break
would cut lies in two of them. The number of sheets is counted in what the browser prints.
"""

from __future__ import annotations

import re

import pytest

from mensura.teaching.lessons.chapters import CHAPTERS

axe_tool = pytest.importorskip("axe_playwright_python.sync_playwright")

NUMBERS = [one.number for one in CHAPTERS]
#: What is printed on: width and height in mm, less the margins of the sheet.
PAPERS = {"A4": (210 - 26, 297 - 28), "Letter": (215.9 - 26, 279.4 - 28)}
FEWEST, MOST = 2, 12
#: A chapter whose text are the rules of many manuals, with who says each, is taken along whole.
LONG = {"09": 18}

#: Lets the page run in columns as high as paper, and tells what is cut, too wide, or left behind.
CUT = """
([wide, high]) => {
  const main = document.querySelector('main');
  Object.assign(main.style, { columnWidth: `${wide}mm`, width: `${wide}mm`, height: `${high}mm`,
    columnFill: 'auto', columnGap: '40px', overflow: 'visible' });
  const edge = main.getBoundingClientRect().left;
  const px = parseFloat(getComputedStyle(main).width);
  const column = (box) => Math.floor((box.left - edge + 1) / (px + 40));
  const told = (one) => `${one.tagName}.${one.className.baseVal ?? one.className} `
    + one.textContent.trim().slice(0, 40);
  const seen = [...main.querySelectorAll(
    'tbody tr, .picture > svg, .formula, .asked, .caution, .setting, h2, h3, h4, img')]
    .filter((one) => one.getClientRects().length && !one.closest('.mensura-player'));
  const cut = seen.filter((one) => one.getClientRects().length > 1
    || one.getBoundingClientRect().height > main.clientHeight + 1).map(told);
  const out = seen.filter((one) => {
    const box = one.getClientRects()[0];
    return box.right > edge + column(box) * (px + 40) + px + 1;
  }).map(told);
  const left = [...main.querySelectorAll('h2, h3, h4')].filter((one) => one.nextElementSibling
    && one.getClientRects().length && one.nextElementSibling.getClientRects().length
    && column(one.getClientRects()[0]) !== column(one.nextElementSibling.getClientRects()[0])
  ).map(told);
  for (const lead of main.querySelectorAll('.leads')) {
    const next = lead.nextElementSibling;
    const first = next.querySelector('.whole, .piece, tr, p') ?? next;
    const box = [...first.getClientRects(), ...next.getClientRects()].find((one) => one.height);
    if (column(lead.getClientRects()[0]) !== column(box)) { left.push(told(lead)); }
  }
  return { cut, out, left, seen: seen.length };
}
"""


class Opened:
    """A leaflet in the browser, offline, and what it asked for and complained of."""

    def __init__(self, context, file) -> None:
        self.asked, self.wrong = [], []
        self.page = context.new_page()
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.page.on("pageerror", lambda error: self.wrong.append(str(error)))
        self.page.on("console", lambda line: self.wrong.append(line.text))
        self.page.goto(file.as_uri())
        self.page.evaluate("document.fonts.ready")
        if self.page.locator(".mensura-recorded").count():
            self.page.wait_for_selector(".mensura-plays .mensura-canvas[data-frame]")

    def clean(self, file) -> None:
        outside = [one for one in self.asked if not one.startswith(("data:", "blob:"))]
        assert outside == [file.as_uri()]
        assert self.wrong == []


@pytest.fixture(scope="module")
def files(leaflet_of, tmp_path_factory):
    folder = tmp_path_factory.mktemp("leaflets")
    for number in NUMBERS:
        (folder / f"{number}.html").write_text(leaflet_of(number), "utf-8")
    return {number: folder / f"{number}.html" for number in NUMBERS}


@pytest.fixture
def opened(chromium, files):
    contexts = []

    def make(number, width=1100, height=900, **told):
        context = chromium.new_context(viewport={"width": width, "height": height}, **told)
        context.set_offline(True)
        contexts.append(context)
        return Opened(context, files[number])

    yield make
    for context in contexts:
        context.close()


@pytest.mark.parametrize("number", NUMBERS)
def test_it_asks_for_nothing_and_prints_on_few_sheets_with_nothing_cut(opened, files, number):
    """On A4 and Letter: 2 to 12 sheets (rules of manuals: 18), nothing in two, no heading alone."""
    one = opened(number)
    page = one.page
    for paper, room in PAPERS.items():
        page.evaluate("document.querySelector('main').removeAttribute('style')")
        printed = page.pdf(format=paper)
        sheets = len(re.findall(rb"/Type\s*/Page\b", printed))
        assert FEWEST <= sheets <= LONG.get(number, MOST), f"{paper}: {sheets} sheets"
        page.emulate_media(media="print")
        found = page.evaluate(CUT, list(room))
        assert found.pop("seen") > 30
        assert found == {"cut": [], "out": [], "left": []}, paper
    one.clean(files[number])


def test_what_a_break_would_cut_is_found(opened):
    """The check itself: without its rules the page cuts rows, and a wide thing is seen."""
    page = opened("02").page
    page.emulate_media(media="print")
    page.add_style_tag(
        content="main * { break-inside: auto !important; } h2 { height: 60mm; }"
        " .leads { break-after: column !important; }"
    )
    page.evaluate("document.querySelector('.formula').style.width = '300mm'")
    found = page.evaluate(CUT, list(PAPERS["A4"]))
    assert found["cut"]
    assert any("Try it" in one for one in found["left"])
    assert found["out"]


def test_a_panel_moves_and_on_paper_its_still_and_settings_are_seen(opened, files):
    one = opened("02")
    page = one.page
    slider = page.get_by_role("slider", name="turned by", exact=True)
    said = page.locator(".mensura-status")
    before = said.inner_text()
    slider.press("End")
    assert said.inner_text() != before
    page.get_by_role("button", name="Half-way between the axes").click()
    assert "45°" in said.inner_text()
    # from there one thing moves: the stem's second diameter; the calipers stay turned
    note = page.locator(".mensura-note")
    second = page.get_by_role("slider", name="second diameter", exact=True)
    second.press("End")
    assert "45°" in said.inner_text()
    assert slider.get_attribute("aria-valuetext").startswith("45")
    assert note.inner_text() == ""
    slider.press("Home")
    assert note.inner_text() == (
        "The others are back as \u201cHalf-way between the axes\u201d has them: "
        "here one thing moves at a time."
    )
    page.get_by_role("button", name="As at the start", exact=True).click()
    assert said.inner_text() == before
    assert note.inner_text() == ""
    assert not page.locator(".setting").first.is_visible()
    page.emulate_media(media="print")
    assert page.locator(".mensura-as-printed .picture").is_visible()
    assert not page.locator(".mensura-player").is_visible()
    settings = page.locator(".setting")
    assert settings.count() == 3
    assert all(setting.is_visible() for setting in settings.all())
    ink = "getComputedStyle(document.documentElement).getPropertyValue('--i-tape').trim()"
    red, green, blue = re.fullmatch("#(..)(..)(..)", page.evaluate(ink)).groups()
    assert red == green == blue
    one.clean(files["02"])


def test_brackets_and_roots_grow_with_what_they_hold_and_without_the_face_do_not(opened):
    page = opened("01").page
    tall = """() => [...document.querySelectorAll('mo[stretchy=true]')]
      .map((one) => one.getBoundingClientRect().height)"""
    low = """() => { const one = [...document.querySelectorAll('mo')].find((mo) =>
      mo.textContent === '(' && mo.getAttribute('stretchy') === 'false');
      return one.getBoundingClientRect().height; }"""
    stretched, plain = page.evaluate(tall), page.evaluate(low)
    assert len(stretched) >= 2
    assert min(stretched) > 1.4 * plain
    page.add_style_tag(content="math { font-family: 'mensura sans' !important; }")
    page.wait_for_timeout(50)
    assert min(page.evaluate(tall)) < min(stretched)


@pytest.mark.parametrize(("number", "theme"), [("02", "dark"), ("03", "light")])
def test_on_a_telephone_nothing_is_wider_than_the_screen_and_axe_finds_nothing(
    opened, number, theme
):
    page = opened(number, width=360, height=740, color_scheme=theme).page
    assert page.evaluate("document.documentElement.scrollWidth") <= 360
    parts = page.locator(".parted > .piece:visible")
    for box in (one.bounding_box() for one in parts.all()[:12]):
        assert box["x"] >= 0
        assert box["x"] + box["width"] <= 360
    found = axe_tool.Axe().run(page).response["violations"]
    assert [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found] == []


def test_axe_finds_nothing_on_a_wide_screen(opened):
    page = opened("02").page
    found = axe_tool.Axe().run(page).response["violations"]
    assert [(one["id"], [node["html"][:120] for node in one["nodes"]]) for one in found] == []
