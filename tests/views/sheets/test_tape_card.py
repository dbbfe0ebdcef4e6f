"""A card's page: all that was found, nothing from outside, and nobody's markup in it."""

import re
from dataclasses import replace
from html import unescape
from html.parser import HTMLParser

import numpy as np
import pytest

from mensura.estimates.card_rows import card_notes, card_rows
from mensura.instruments import card, check_class
from mensura.views.sheets.tape_card import MAKING, card_page
from mensura.written import signed

TRUE = np.repeat([40.0, 80.0, 120.0, 160.0, 200.0], 3)
NOISE = np.round(0.1 * np.random.default_rng(6).standard_normal(TRUE.size), 1)


def page(one, accuracy_class=None):
    marks = check_class(one, accuracy_class)
    return card_page(one, marks, accuracy_class, card_notes(one, marks, accuracy_class))


def words(page):
    text = re.sub("<[^>]*>", " ", page.partition("</style>")[2])
    return " ".join(unescape(text).split())


@pytest.fixture(scope="module")
def good():
    return card(
        TRUE, np.round(TRUE / 1.01 + NOISE, 1), instrument="T3", temperature_c=18, pull_n=25
    )


def test_all_that_was_found(good):
    """Every correction, every mark with its readings, the notes, temperature and pull."""
    text = words(page(good, "II"))
    for row in card_rows(good):
        assert signed(row["add_cm"], 3) in text or signed(row["add_cm"], 2) in text
    for mark in good.marks:
        assert " ".join(f"{one:.1f}" for one in mark.readings_cm) in text
    assert "Holds at 18 °C; a pull of 25 N." in text
    assert "class II" in text
    assert "not legal verification" in text
    assert "A straight line" in text


def test_how_to_make_one(good):
    """Reference, marks, spring balance, ends moved between repeats, and the caution."""
    text = words(page(good))
    for head, _ in MAKING:
        assert head in text
    for told in ("spring balance", "At least five", "both ends up, move them", "sharp edges"):
        assert told in text
    calipers = replace(good, kind="calipers", instrument="K1")
    assert "Close the jaws" in words(page(calipers))
    assert "spring balance" not in words(page(calipers))


def test_nothing_from_outside_and_nothing_unescaped(good):
    """No address, no script; what a card was called stands as text."""
    html = page(replace(good, instrument="<script>&"))
    assert "<script" not in html
    assert "&lt;script&gt;&amp;" in html
    assert "default-src 'none'" in html
    loads = re.findall(r"""(?:src|href)\s*=\s*["']([^"'#]*)""", html.partition("</style>")[2])
    assert [one for one in loads if one] == []


def test_tables_are_tables_and_the_picture_has_words(good):
    """Heads of columns and rows, a caption each, and the picture's words."""

    class Tags(HTMLParser):
        def __init__(self):
            super().__init__()
            self.seen = []

        def handle_starttag(self, tag, attrs):
            self.seen.append((tag, dict(attrs)))

    tags = Tags()
    tags.feed(page(good, "II"))
    names = [tag for tag, _ in tags.seen]
    assert names.count("table") == names.count("caption") == 4
    assert all(attrs.get("scope") for tag, attrs in tags.seen if tag == "th")
    label = next(attrs["aria-label"] for tag, attrs in tags.seen if tag == "svg")
    assert label.startswith("How far 15 readings lie off the line: from -0.")


def test_lines_to_fill_in(good):
    """Date, maker, pull and reference; what is known stands there already."""
    text = words(page(good))
    assert "Date Made by Reference known to (u) Checked with a pull of 25 N" in text
    told = words(page(replace(good, pull_n=None, reference_u_cm=0.02, reference_u_percent=0.1)))
    assert "known to (u) 0.02 cm and 0.1 % Checked with a pull of What was read" not in told
    assert "known to (u) 0.02 cm and 0.1 % Checked with a pull of Corr" in told


def test_slips_stand_above_all_else(good):
    """In a frame, escaped, before the table; none where there are none."""
    html = card_page(good, check_class(good, None), None, [], ["Row 3: <b>1006</b>", *"abcd"])
    assert html.index("Row 3: &lt;b&gt;1006") < html.index("<table")
    assert "3 more are in the card's file." in words(html)
    assert 'class="slips"' not in page(good)


def test_two_marks_have_no_picture():
    """A line goes through both, so nothing is left over."""
    html = page(card([50, 150], [50.5, 149.8]))
    assert "<svg" not in html
    assert "not known" in words(html)
    assert "Its temperature: nobody said; pull: nobody said." in words(html)


def test_a_large_check_is_counted_and_not_listed():
    """The page stays one page: more marks, and more repeats, are counted."""
    true = np.repeat(np.arange(10.0, 210, 5), 9)
    text = words(page(card(true, true + 0.1), "I"))
    assert "16 more marks are in the card's file" in text
    few = card(true[:225], true[:225] + 0.1)
    assert "1 more mark is in the card's file" in words(page(few))
    assert "more mark" not in words(page(card(true[:216], true[:216] + 0.1)))
    assert "10.1 10.1 10.1 10.1 … (9)" in text
