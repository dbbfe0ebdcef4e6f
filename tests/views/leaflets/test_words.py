"""Words on a leaflet: Markdown only, cautions in their box, nothing for a page at work."""

from __future__ import annotations

from html.parser import HTMLParser

import pytest

from mensura.disk.sections import all_sections
from mensura.sources import SOURCES
from mensura.teaching.lessons.chapters import CHAPTERS
from mensura.views.leaflets.words import AT_WORK, FIELD, cited, passages, words_html

WORDS = [
    (one, block.words) for one in all_sections() for block in one.blocks if block.kind == "words"
]


@pytest.mark.parametrize(
    "words",
    [
        "<script>alert(1)</script>",
        "a <img src=x onerror=alert(1)> b",
        "[go](javascript:alert(1))",
        "![seen](https://example.org/seen.png)",
        "![seen](data:image/svg+xml,<svg onload=alert(1)>)",
        "<iframe src='//example.org'></iframe>",
        "`<b>`",
        "| a |\n|---|\n| <b>x</b> |",
    ],
)
def test_what_a_lecturer_writes_is_text_and_loads_nothing(words):
    tags = []
    reader = HTMLParser()
    reader.handle_starttag = lambda tag, attributes: tags.append((tag, dict(attributes)))
    reader.feed(str(words_html(words)))
    plain = {"p", "em", "code", "table", "thead", "tbody", "tr", "th", "td"}
    assert {tag for tag, _ in tags} <= plain
    assert not any(attributes for _, attributes in tags)


def test_a_link_to_the_web_keeps_its_address_for_paper_and_one_to_a_file_is_words():
    made = str(words_html("[a page](https://example.org/x?a=1&b=2), [02](02-out-of-round.ipynb)"))
    assert 'href="https://example.org/x?a=1&amp;b=2"' in made
    assert "(https://example.org/x?a=1&amp;b=2)" in made
    assert made.count("<a ") == 1
    assert ", 02</p>" in made


def test_money_and_code_are_no_mathematics():
    assert "<math" not in words_html("It costs $5 here and $6 there. `$x$`")
    assert words_html("It costs $5, and $x$ is a letter.").count("<math") == 1


def test_names_of_python_are_told_in_words():
    assert "correct girth" in words_html("`correct_girth` undoes it")
    assert "_" not in words_html("`correct_girth` undoes it")


@pytest.mark.parametrize("chapter", [one.number for one in CHAPTERS])
def test_every_workbook_has_its_caution_and_a_good_hand_is_none(chapter):
    """*Care first* and what follows is a caution, up to the next paragraph that opens in bold."""
    found = [
        told
        for one, words in WORDS
        if one.workbook == chapter and one.heading == FIELD
        for told in passages(words, one.heading)
    ]
    cautions = [told.html for told in found if told.caution]
    rest = "".join(told.html for told in found if not told.caution)
    assert len(cautions) == 1
    assert "Care first" in cautions[0]
    assert "edge cuts" in cautions[0] or "points" in cautions[0]
    assert "Care first" not in rest
    assert "<strong>" in rest


def test_a_section_that_is_called_a_caution_is_one():
    assert [one.caution for one in passages("Ask first.", "Wood sold under bark: caution")] == [
        True
    ]


def test_what_only_a_page_at_work_can_do_is_left_out_and_stands_in_every_workbook():
    said = {one.workbook for one, words in WORDS if any(start in words for start in AT_WORK)}
    assert said == {one.number for one in CHAPTERS}
    for one, words in WORDS:
        made = "".join(told.html for told in passages(words, one.heading))
        assert "starts by itself" not in made
        assert "F9" not in made
        assert ".ipynb" not in made


def test_every_source_that_the_workbooks_cite_is_found():
    texts = [words for _, words in WORDS]
    found = cited(texts, list(SOURCES))
    assert {"Berger2010", "AS1964", "CFMP1999", "Blaschke1915", "GUM1995"} <= set(found)
    assert cited(["no [NoSuch1900] here"], list(SOURCES)) == []
