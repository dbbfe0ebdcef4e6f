"""Every workbook's leaflet: all that it says and asks, answers last, nothing from outside."""

from __future__ import annotations

import base64
import hashlib
import html
import re
from html.parser import HTMLParser

import pytest

from mensura.disk.sections import sections
from mensura.teaching.lessons.chapters import CHAPTERS
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.questions import question
from mensura.teaching.problems.bank import families
from mensura.teaching.proof.roads import road
from mensura.views.chapters import panels
from mensura.views.kit.panel import Panel
from mensura.views.leaflets.moving import SETTINGS, panel_settings
from mensura.views.leaflets.pictures import Sheet

NUMBERS = [one.number for one in CHAPTERS]
every = pytest.mark.parametrize("number", NUMBERS)
LARGEST_BYTES = 4_000_000


class Read(HTMLParser):
    """A page's tags, ids, addresses and words."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags, self.ids, self.addresses, self.words = [], [], [], []
        self._in = ""
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        told = dict(attrs)
        self.tags.append((tag, told))
        self._in = tag
        if "id" in told:
            self.ids.append(told["id"])
        for name in ("src", "href", "data", "action", "poster", "srcset", "xlink:href"):
            if name in told:
                self.addresses.append((tag, told[name]))

    def handle_endtag(self, tag):
        self._in = ""

    def handle_data(self, data):
        if self._in not in ("script", "style"):
            self.words.append(data)

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


def squeezed(text: str) -> str:
    return re.sub(r"\s|_", "", text)


@every
def test_it_needs_nothing_from_outside(leaflet_of, number):
    """No address leads out but a source's link; the policy lets in the page's own script only."""
    page = leaflet_of(number)
    assert len(page.encode("utf-8")) < LARGEST_BYTES
    read = Read(page)
    for tag, address in read.addresses:
        assert address.startswith(("#", "data:")) or (tag == "a" and address[:4] == "http"), tag
    outside = {one for one in re.findall(r"url\((.{5})", page) if one[0] != "#"}
    assert outside <= {"data:"}
    assert "@import" not in page
    policy = next(
        told["content"] for tag, told in read.tags if tag == "meta" and "http-equiv" in told
    )
    assert policy.startswith("default-src 'none'; img-src data:; font-src data:;")
    runs = [told for tag, told in read.tags if tag == "script" and told.get("type") == "module"]
    scripts = re.findall(r'<script type="module">(.*?)</script>', page, re.DOTALL)
    assert len(runs) == len(scripts) <= 1
    for script in scripts:
        digest = base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode()
        assert f"script-src 'sha256-{digest}'" in policy
    assert bool(scripts) or "script-src 'none'" in policy
    assert len(read.ids) == len(set(read.ids))


@every
def test_everything_of_the_workbook_stands_on_it_once(leaflet_of, number):
    page = leaflet_of(number)
    text = squeezed(Read(page).text)
    for one in sections(number):
        if one.kind == "text" and one.level > 1:
            assert squeezed(one.title) in text, one.name
        if one.kind == "question":
            asked = question(one.thing)
            words = asked.text if isinstance(asked, Exercise) else asked.question
            assert text.count(squeezed(words)) == 1, one.name
        if one.kind == "proof":
            for step in road(one.thing).steps:
                assert squeezed(step.reason) in text, step.key
        for block in one.blocks if one.kind == "text" else ():
            if block.kind == "table" and "text/html" in block.shown:
                assert page.count(block.shown["text/html"]) == 1
    moving = sum(one.kind in ("panel", "proof") for one in sections(number))
    assert page.count('<figure class="mensura-recorded" aria-label') == moving
    pictures = sum(
        b.kind == "picture" for one in sections(number) if one.kind == "text" for b in one.blocks
    )
    assert page.count('role="img"') >= pictures


@every
def test_answers_stand_on_the_last_page_only(leaflet_of, number):
    page = leaflet_of(number)
    before, answers = re.split('<section class="answers(?: long)?">', page)
    before, answers = squeezed(Read(before).text), squeezed(Read(answers).text)
    asked = [one for one in sections(number) if one.kind == "question"]
    assert asked
    for one in asked:
        told = question(one.thing)
        if isinstance(told, Exercise):
            assert squeezed(told.because) in answers
            assert squeezed(told.because) not in before
            continue
        for choice in told.choices:
            assert squeezed(choice.text) in before
            assert squeezed(choice.reply) in answers
            assert squeezed(choice.reply) not in before


@every
def test_each_answer_bears_the_number_of_its_question(leaflet_of, number):
    page = leaflet_of(number)
    asked = [int(one) for one in re.findall(r'<span class="number">(\d+)</span>', page)]
    answered = [int(one) for one in re.findall(r'<li value="(\d+)">', page)]
    assert asked == list(range(1, len(asked) + 1))
    written = sum(one.thing == "own_line" for one in sections(number))  # has no one answer
    assert answered == sorted(set(answered))
    assert set(answered) <= set(asked)
    assert len(answered) == len(asked) - written


@every
def test_what_is_asked_is_counted_once(leaflet_of, number):
    """Beside its number nothing that is asked has a second one."""
    heads = re.findall(r'<span class="number">\d+</span> <b>(.*?)</b>', leaflet_of(number))
    assert heads
    for one in heads:
        assert not re.match(r"\D{0,20}\d", one), one


@every
def test_every_picture_has_words_and_no_code_is_on_the_page(leaflet_of, number):
    read = Read(leaflet_of(number))
    for tag, told in read.tags:
        if tag == "img":
            assert told.get("alt")
        if tag == "svg" and told.get("role") == "img":
            assert told.get("aria-label")
        if told.get("role") == "img":
            assert len(told["aria-label"].split()) > 5
    for sign in (
        "import ",
        "table(",
        "PANEL",
        "np.",
        "ask(",
        "problems_here",
        "SourceList",
        ".ipynb",
    ):
        assert sign not in read.text, sign
    assert not re.search(r"\b[a-z]+_(cm|deg|percent)\b *=", read.text)


@every
def test_its_cautions_are_boxed_and_its_foot_says_what_is_invented(leaflet_of, number):
    page = leaflet_of(number)
    boxes = re.findall(r'<aside class="caution".*?</aside>', page, re.DOTALL)
    assert any("Care first" in one for one in boxes)
    assert page.count("Care first") == 1
    assert '<section class="field">' in page
    foot = re.search(r'@bottom-left { content: "(.*?)" }', page)[1]
    assert "mensura" in foot
    assert number in foot
    assert "invented" in foot
    assert "counter(page)" in page


def test_with_problems_the_whole_bank_of_the_chapter_is_asked_and_solved(leaflet_of):
    page = leaflet_of("03", problems=True)
    before, answers = re.split('<section class="answers(?: long)?">', page)
    assert "Numbers of Q01 (invented)" in before
    assert before.count('class="asked') == leaflet_of("03").count('class="asked') + len(
        families("proof")
    )
    text = Read(before).text
    for family in families("proof"):
        assert html.unescape(family.title) in text
    assert before.index("Problems of the bank") < before.index("Numbers of Q01")
    heads = re.findall(r'<span class="number">(\d+)</span> <b>(.*?)</b>', before)
    assert [int(count) for count, _ in heads] == list(range(1, len(heads) + 1))
    assert not any(re.match(r"Problem \d", head) for _, head in heads)
    assert "<h2>Sources</h2>" in answers
    assert answers.count("<li value=") > leaflet_of("03").count("<li value=")


@pytest.mark.parametrize("name", sorted(panels()))
def test_every_panel_has_three_settings_to_be_printed(name):
    """Each differs from how the panel opens, and they are three different ones."""
    panel: Panel = panels()[name]
    told = panel_settings(panel, Sheet(), {})
    assert len(told) == SETTINGS
    assert len({re.sub(r' id="\w+"|#\w+', "", one) for one in told}) == SETTINGS
    for one in told:
        assert "Set to: " in one
