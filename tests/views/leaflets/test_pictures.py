"""Pictures on a leaflet: the page's own colours, letters once, words, parts that can be read."""

from __future__ import annotations

import re

import pytest

from mensura.checks import MeasureError
from mensura.disk.sections import all_sections
from mensura.views.chapters import panels
from mensura.views.kit.inks import NAMED, inks_style, tables
from mensura.views.kit.look import INKS
from mensura.views.leaflets.pictures import Sheet, drawn_changed

STORED = [
    block.shown["text/html"]
    for one in all_sections()
    if one.kind == "picture"
    for block in one.blocks
]


@pytest.fixture(scope="module")
def made() -> tuple[Sheet, str]:
    """All stored pictures on one page."""
    sheet = Sheet()
    return sheet, "".join(sheet.stored(one) for one in STORED)


def test_every_stored_picture_has_words_and_no_colour_of_its_own(made):
    _, text = made
    labels = re.findall(r'role="img" aria-label="([^"]*)"', text)
    assert len(labels) == len(STORED) > 10
    assert all(len(one.split()) > 8 for one in labels)
    assert not re.search("#[0-9A-Fa-f]{6}", text)
    named = set(re.findall(r"var\(--i-([a-z-]+)\)", text))
    assert {"paper", "truth", "tape"} <= named <= set(INKS)


def test_a_letter_that_many_pictures_have_lies_on_the_page_once(made):
    sheet, text = made
    shared = str(sheet.shared)
    outlines = re.findall(r'<path id="(o\d+)" d="([^"]*)"/>', shared)
    assert len({d for _, d in outlines}) == len(outlines) > 50
    used = re.findall(r'href="#(o\d+)"', text)
    assert len(used) > 5 * len(outlines)
    assert set(used) == {name for name, _ in outlines}


def test_every_id_is_one_and_every_reference_leads_to_one(made):
    sheet, text = made
    ids = re.findall(r'\bid="([^"]+)"', str(sheet.shared) + text)
    assert len(ids) == len(set(ids))
    asked = re.findall(r'href="#([^"]+)"|url\(#([^)]+)\)', text)
    assert {one or other for one, other in asked} <= set(ids)


def test_parts_cover_what_is_seen_on_a_telephone(made):
    _, text = made
    parted = re.findall(r'<div class="picture parted[ a-z]*".*?</div>', text, re.DOTALL)
    assert len(parted) > 5
    for one in parted:
        wide = [float(width) for width in re.findall(r'class="piece"[^>]*? width="([\d.]+)"', one)]
        assert len(wide) > 1
        assert max(wide) <= 480


def test_each_ink_has_a_colour_for_paper_that_is_grey():
    rules = inks_style().splitlines()
    printed = next(rule for rule in rules if rule.startswith("@media print"))
    for name in INKS:
        red, green, blue = re.search(rf"--i-{name}: #(..)(..)(..);", printed).groups()
        assert red == green == blue, name
    assert tables()["light"]["tape"] in rules[0]


def test_a_setting_shows_the_part_that_it_changes_most():
    """A jaw that leans is seen where the jaws are; the picture's words are those of the setting."""
    panel = panels()["condition"]
    base = panel.numbers(**panel.start())
    for name, values in panel.presets.items():
        numbers = panel.numbers(**panel.state(values))
        text, alt, boxes = drawn_changed(panel.picture(), base, numbers)
        assert text.startswith("<svg "), name
        assert alt == panel.picture().describe(numbers)
        assert 1 <= len(boxes) < len(panel.picture().parts())


@pytest.mark.parametrize(
    "told", ["", "<p>no picture</p>", "<img src='https://example.org/x.png' alt='x'>"]
)
def test_what_is_no_stored_picture_is_refused(told):
    with pytest.raises(MeasureError):
        Sheet().stored(told)


def test_a_picture_from_another_hand_is_refused():
    with pytest.raises(MeasureError):
        Sheet().placed("<svg onload='alert(1)'></svg>", "x")
    assert all(one.startswith("var(--i-") for one in NAMED.values())
