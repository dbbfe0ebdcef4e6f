"""Every panel on every screen: what is moved, its picture and its sentence are in sight together.

One notebook holds one of everything; it is opened once, and its window made larger and smaller.
Then it is seen in both themes, and its games are played.
"""

from __future__ import annotations

import pytest
from games import Games
from themes import THEMES, Themes, turn_to

#: Windows as they are left inside a browser: laptop, projector, twice as large letters, phone.
SIZES = {
    "laptop": (1366, 640),
    "projector": (1280, 590),
    "200 %": (640, 300),
    "phone": (400, 780),
}

LOOKS = """
const seen = [...document.querySelectorAll('.jp-WindowedPanel-outer')].find(e => e.clientHeight);
const within = (box, area) => box.width > 1 && box.height > 1 &&
  box.top >= area.top - 1 && box.bottom <= area.bottom + 1 &&
  box.left >= area.left - 1 && box.right <= area.right + 1;
const called = e => `${e.tagName} ${e.className} ${e.textContent.trim().slice(0, 40)}`;
const shown = e => e.checkVisibility({visibilityProperty: true}) &&
  e.getBoundingClientRect().width > 1;
"""

#: Brings a stage to the window's top, as who works with it does.
TO_THE_TOP = (
    "stage => {"
    + LOOKS
    + """
  for (let k = 0; k < 3; k++) {
    seen.scrollTop += stage.getBoundingClientRect().top - seen.getBoundingClientRect().top - 2;
  }
}"""
)

#: What of a panel is not in sight while one of its handles has the focus.
OUT_OF_SIGHT = (
    "panel => {"
    + LOOKS
    + """
  const area = seen.getBoundingClientRect(), handle = document.activeElement;
  const parts = {
    picture: panel.querySelector('.mensura-parts:not([hidden]) canvas')
      || panel.querySelector('.mensura-picture img'),
    sentence: panel.querySelector('.mensura-status'),
    control: handle.closest('.mensura-row'),
  };
  const out = [];
  for (const [name, part] of Object.entries(parts)) {
    const box = part.getBoundingClientRect();
    if (!within(box, area)) { out.push(name); continue; }
    const met = document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2);
    if (!part.contains(met)) { out.push(`${name} under ${called(met)}`); }
  }
  const controls = handle.closest('.mensura-controls').getBoundingClientRect();
  if (!within(handle.getBoundingClientRect(), controls)) { out.push('handle'); }
  return out;
}"""
)

#: What is cut or runs over, what lies on its neighbour, and which words are broken inside.
SPOILT = (
    "root => {"
    + LOOKS
    + """
  const out = [], edge = root.getBoundingClientRect();
  if (root.scrollWidth > root.clientWidth + 1) { out.push(`too wide: ${called(root)}`); }
  const kinds = 'p, li, label, .widget-label, button, th, td, select, img, canvas, table, ol, ul';
  for (const e of root.querySelectorAll(kinds)) {
    if (!shown(e) || getComputedStyle(e).clipPath !== 'none' || e.closest('thead')) { continue; }
    const box = e.getBoundingClientRect();
    if (box.right > edge.right + 1 || box.left < edge.left - 6) { out.push(`over: ${called(e)}`); }
    if (e.clientWidth && e.scrollWidth > e.clientWidth + 1) { out.push(`cut: ${called(e)}`); }
    if (e.clientHeight && e.scrollHeight > e.clientHeight + 3) { out.push(`low: ${called(e)}`); }
  }
  const parts = [...root.querySelectorAll(
    '.widget-label, input[type=text], button, select, .noUi-target, .widget-radio-box label, '
    + '.widget-checkbox label, .mensura-status, .mensura-picture img:not(.mensura-parted), '
    + '.mensura-picture canvas')].filter(shown);
  for (const [k, one] of parts.entries()) {
    const a = one.getBoundingClientRect();
    for (const other of parts.slice(k + 1)) {
      // what scrolls beneath the picture is clipped there
      if (!one.closest('.mensura-controls') !== !other.closest('.mensura-controls')) { continue; }
      const b = other.getBoundingClientRect();
      const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      if (wide > 1 && high > 2 && !one.contains(other)) {
        out.push(`${called(one)} on ${called(other)}`);
      }
    }
  }
  const words = document.createTreeWalker(root, NodeFilter.SHOW_TEXT), range = new Range();
  while (words.nextNode()) {
    const node = words.currentNode, parent = node.parentElement;
    if (!shown(parent) || parent.closest('style, select')) { continue; }
    // a word may end a line after its own hyphen or slash
    for (const word of node.data.matchAll(/[^\\s\u2010\u2013/-]+/g)) {
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      const tops = new Set([...range.getClientRects()].map(box => Math.round(box.top / 8)));
      if (tops.size > 1) { out.push(`broken: ${word[0]}`); }
    }
  }
  return out;
}"""
)


@pytest.fixture(scope="module", params=SIZES)
def page(request, ours):
    """The notebook in a window of one size, its frames told how much of it is seen."""
    page = ours.page
    width, height = SIZES[request.param]
    page.set_viewport_size({"width": width, "height": height})
    if height < 400:
        # the notebook's own bars would leave less than the half of it
        page.keyboard.press("F9")
    page.wait_for_function(
        "() => {"
        + LOOKS
        + """ const frame = document.querySelector('.mensura-frame');
          return frame.style.getPropertyValue('--mensura-high') === `${seen.clientHeight}px`; }"""
    )
    yield page
    if height < 400:
        page.keyboard.press("F9")


def out_of_sight(page, panel) -> dict[str, list[str]]:
    """What is missed of a panel with its first, a middle and its last handle focused."""
    panel.locator(".mensura-stage").evaluate(TO_THE_TOP)
    handles = panel.locator("[role=slider]")
    count = handles.count()
    missed = {}
    for at in sorted({0, count // 2, count - 1}):
        handles.nth(at).focus()
        name = handles.nth(at).get_attribute("aria-label")
        missed[name] = panel.evaluate(OUT_OF_SIGHT)
    return missed


def test_what_is_moved_is_seen_to_move(page):
    """Picture, sentence and control are in sight at once, for the first control and the last."""
    panels = page.locator(".mensura-panel")
    assert panels.count() == 20
    for k in range(panels.count()):
        missed = out_of_sight(page, panels.nth(k))
        assert missed
        assert not any(missed.values()), missed


def test_the_keyboard_brings_the_whole_stage(page):
    """Who comes by the Tab key to a panel half in sight sees all of what the control moves."""
    panel = page.locator(".mensura-panel").nth(1)
    stage, first = panel.locator(".mensura-stage"), panel.get_by_role("textbox").first
    stage.evaluate(TO_THE_TOP)
    first.evaluate("(box) => {" + LOOKS + "box.focus({preventScroll: true}); }")
    page.wait_for_timeout(100)
    stage.evaluate("() => {" + LOOKS + "seen.scrollTop -= 0.6 * seen.clientHeight; }")
    assert stage.evaluate(OUT_OF_SIGHT) != []
    page.keyboard.press("Tab")
    page.wait_for_timeout(150)
    assert panel.evaluate("() => document.activeElement.getAttribute('role')") == "slider"
    assert panel.evaluate(OUT_OF_SIGHT) == []


def test_choices_are_beside_their_picture(page):
    """A game's picture and whichever choice is looked at stand in one window."""
    game = page.locator(".mensura-game:has(img)")
    game.locator(".mensura-stage").evaluate(TO_THE_TOP)
    for choice in (game.get_by_role("radio").first, game.get_by_role("radio").last):
        choice.focus()
        sight = game.evaluate(
            "(game) => {"
            + LOOKS
            + """ const area = seen.getBoundingClientRect();
              const parts = [game.querySelector('.mensura-picture img'), document.activeElement];
              return parts.map(part => within(part.getBoundingClientRect(), area)); }"""
        )
        assert sight == [True, True]


def test_nothing_is_cut_or_broken(page):
    """No label, table, sentence or picture runs over, lies on another, or breaks inside a word."""
    places = page.locator(".mensura-frame, .jp-OutputArea-output:has(> .mensura-table, > pre)")
    assert places.count() == 31
    found = {}
    for k in range(places.count()):
        place = places.nth(k)
        place.scroll_into_view_if_needed()
        spoilt = place.evaluate(SPOILT)
        if spoilt:
            found[place.get_attribute("class").split()[-1], k] = spoilt
    assert found == {}


def test_a_table_keeps_its_heads(page):
    """Turned into rows, each cell is called by its column's head, and the heads are still there."""
    for table in page.locator("table.mensura-table:has(thead th:nth-child(4))").all():
        rows = table.evaluate(
            """table => [getComputedStyle(table.querySelector('tbody tr')).display === 'block',
              [...table.querySelectorAll('thead tr > *')].map(e => e.textContent),
              [...table.querySelector('tbody tr').children].map(e => {
                const said = getComputedStyle(e, '::before').content;
                return said === 'none' ? '' : said.replace(/^"|"$/g, ''); })]"""
        )
        turned, heads, said = rows
        if page.viewport_size["width"] <= 400:
            assert turned
        # the first column holds words here, which name the row themselves
        # the first column holds words here, which name the row themselves
        assert said == ["", *heads[1:]] if turned else not any(said)


#: How far below the edge the present line begins, how much of it is seen, and how much can be; px.
PRESENT_LINE = (
    "panel => {"
    + LOOKS
    + """
  const steps = panel.querySelector('.mensura-steps').getBoundingClientRect();
  const line = panel.querySelector('.mensura-present').getBoundingClientRect();
  let { top, bottom } = seen.getBoundingClientRect();
  for (let box = panel.querySelector('.mensura-lines'); box !== seen; box = box.parentElement) {
    if (getComputedStyle(box).overflowY === 'visible') { continue; }
    top = Math.max(top, box.getBoundingClientRect().top);
    bottom = Math.min(bottom, box.getBoundingClientRect().bottom);
  }
  const covered = Math.max(top, steps.bottom);
  return [line.top - covered, Math.min(bottom, line.bottom) - Math.max(covered, line.top),
    Math.min(line.height, bottom - covered)];
}"""
)

#: Whether a button is where it can be pressed.
SEEN_AND_MET = """button => {
  const { left, top, width, height } = button.getBoundingClientRect();
  return button.contains(document.elementFromPoint(left + width / 2, top + height / 2)); }"""


def test_the_next_line_of_a_proof_is_seen(page):
    """Whoever goes on sees the line that comes, with the picture and the button still in sight."""
    panel = page.locator(".mensura-panel:has(.mensura-lines)").first
    if page.viewport_size["width"] <= 439:
        # a phone's page scrolls as a whole, and no list in it has a scroll of its own
        inner = "list => list.scrollHeight > list.clientHeight + 2"
        assert not panel.locator(".mensura-lines").evaluate(inner)
        return
    panel.locator(".mensura-stage").evaluate(TO_THE_TOP)
    for place in ("Line 2 of 9", "Line 3 of 9"):
        panel.locator(".mensura-next").click()
        panel.get_by_text(place, exact=True).wait_for()
        panel.locator(".mensura-present", has_text=f"{place[5]}. ").wait_for()
        page.wait_for_timeout(150)
        begins, seen, whole = panel.evaluate(PRESENT_LINE)
        assert begins > -2
        assert seen >= min(whole, 100) - 2
        assert panel.locator(".mensura-next").evaluate(SEEN_AND_MET)
    panel.get_by_role("button", name="As at the start").evaluate("button => button.click()")
    panel.get_by_text("Line 1 of 9, the first", exact=True).wait_for()


def test_lists_show_their_words(page):
    """No option of a list is cut where there is room for it."""
    cut = page.locator(".mensura-frame select").evaluate_all(
        """lists => lists.map(list => {
          const ink = document.createElement('canvas').getContext('2d');
          ink.font = getComputedStyle(list).font;
          const wide = Math.max(...[...list.options].map(one => ink.measureText(one.text).width));
          const room = list.closest('.mensura-controls, .mensura-choices').clientWidth;
          return [list.clientWidth >= Math.min(wide + 16, room - 24), wide, list.clientWidth]; })"""
    )
    assert len(cut) == 21
    assert all(fits for fits, *_ in cut), cut


def test_a_focused_choice_keeps_its_ring(page):
    """There is room for it left of the dot."""
    choice = page.locator(".mensura-frame [type=radio]").first
    choice.focus()
    room = choice.evaluate(
        """dot => dot.getBoundingClientRect().left
          - dot.closest('.jp-OutputArea-output').getBoundingClientRect().left"""
    )
    assert room >= 4


#: What undoes a rule of the sheet, and what then must be found.
DAMAGE = {
    "no stage": ".mensura-frame .mensura-stage { display: block !important; }"
    ".mensura-frame :is(.mensura-controls, .mensura-seen) { max-height: none !important; }",
    "narrow": ".mensura-frame .mensura-status { width: 24px; overflow-wrap: anywhere; }",
    "under": ".mensura-frame .mensura-row { height: 20px; }",
    "wide": ".mensura-frame table.mensura-table { width: 3000px; }",
}


def test_the_looks_would_find_a_fault(page):
    """Each rule undone in turn: what hides, breaks, overlaps or runs over is found."""
    panel = page.locator(".mensura-panel").nth(1)
    for name, rule in DAMAGE.items():
        damage = page.add_style_tag(content=rule)
        try:
            if name == "no stage":
                assert any(out_of_sight(page, panel).values()), name
            else:
                kinds = {one.split()[0] for one in panel.evaluate(SPOILT)}
                assert kinds & {"broken:", "LABEL", "INPUT", "DIV", "too", "over:"}, name
        finally:
            damage.evaluate("e => e.remove()")
    assert panel.evaluate(SPOILT) == []


@pytest.fixture(scope="module", params=THEMES)
def themed(request, ours):
    """The notebook in one theme."""
    ours.page.set_viewport_size({"width": 1366, "height": 640})
    turn_to(ours.page, request.param)
    return ours.page


class TestThemes(Themes):
    """Light, then dark."""


@pytest.fixture(scope="module")
def played(ours):
    """The notebook in a window in which each of its parts has room."""
    page = ours.page
    page.set_viewport_size({"width": 1366, "height": 2600})
    for kind in ("error", "stderr"):
        assert page.locator(f'[data-mime-type="application/vnd.jupyter.{kind}"]').count() == 0
    return page


class TestGames(Games):
    """After all that."""
