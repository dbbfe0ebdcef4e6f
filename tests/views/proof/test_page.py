"""A student's proof as a page: without network, honest about gaps, its text never markup."""

from __future__ import annotations

import base64
import re
from html.parser import HTMLParser

import pytest

from mensura.teaching.proof import ENOUGH, THEREFORE
from mensura.teaching.proof.chain import Chain
from mensura.views.proof.page import proof_page

VOID = {"meta", "img", "br"}
FORWARDS = ("(a-b)^2 > 0", "a^2 + b^2 > 2ab", "pi(a^2+b^2)/2 > pi a b")


class Reader(HTMLParser):
    """Reads a page: its tags in balance, its attributes, its words."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if "style" not in self.open:
            self.words += data


def read(page: str) -> Reader:
    """A page, read to its end with every tag closed."""
    reader = Reader()
    reader.feed(page)
    reader.close()
    assert reader.open == []
    return reader


def finished() -> Chain:
    """A proof from what is given to the theorem."""
    chain = Chain()
    for text in FORWARDS:
        assert chain.write(text, THEREFORE).accepted
    assert chain.proved
    return chain


def test_a_finished_proof() -> None:
    """Language, title, every line with its sign and reason, and that it is proved."""
    chain = finished()
    page = read(proof_page(chain))
    assert page.tags[0] == ("html", {"lang": "en"})
    assert "title" in [tag for tag, _ in page.tags]
    assert "Proved." in page.words
    assert "not finished" not in page.words.lower()
    for sign, line, why in chain.lines():
        assert line in page.words
        assert why in page.words
        assert sign in page.words
    order = [page.words.rindex(line) for _, line, _ in chain.lines()[:3]]
    assert order == sorted(order)


@pytest.mark.parametrize("chain", [Chain(), finished()], ids=["empty", "finished"])
def test_no_network(chain: Chain) -> None:
    """Nothing is fetched: no script, no link, and the picture is inside, with words beside it."""
    text = proof_page(chain)
    page = read(text)
    assert {"script", "link", "iframe", "object", "base"}.isdisjoint(tag for tag, _ in page.tags)
    assert not re.search(r"https?:|@import|url\(", text)
    for tag, given in page.tags:
        assert "href" not in given
        if "src" in given:
            assert tag == "img"
            assert str(given["src"]).startswith("data:image/svg+xml;base64,")
            assert "a² + b² = 1476.0 cm²" in str(given["alt"])
            drawn = base64.b64decode(str(given["src"]).partition(",")[2]).decode()
            assert not re.search(r"https?:(?!//www.w3.org/2000/svg\")|@import|url\((?!#)", drawn)
    assert sum(tag == "img" for tag, _ in page.tags) == 1


def test_an_unfinished_proof_says_so() -> None:
    """Title and end say that it is not finished, and between which lines the gap is."""
    chain = Chain()
    chain.write("(a-b)^2 > 0", THEREFORE)
    chain.write("pi(a^2+b^2)/2 > pi a b", ENOUGH)
    page = read(proof_page(chain))
    below, above = chain.gap
    assert f"Still to be shown: that {above} follows from {below}." in page.words
    assert "not finished" in page.words
    assert "Proved." not in page.words
    assert page.words.count("gap") == 2


def test_the_conditions_are_told() -> None:
    """Which half-axis is the longer stands there only if it was said; so does a cited a ≠ b."""
    plain = read(proof_page(finished())).words
    assert "a ≠ b: the section is not a circle." in plain
    assert "longer half-axis" not in plain
    chain = Chain(longer_axis=True)
    assert "let a be the longer half-axis" in read(proof_page(chain)).words
    cited = Chain()
    assert cited.write("(a-b)^2 >= 0", THEREFORE).accepted
    assert cited.write("(a-b)^2 > 0", THEREFORE, cites_unequal=True).accepted
    assert "called on once more for (a − b)² > 0." in read(proof_page(cited)).words


def test_text_is_never_markup() -> None:
    """< and > of a line are words, not tags."""
    chain = Chain()
    assert chain.write("2ab < a^2 + b^2", ENOUGH).accepted
    text = proof_page(chain)
    assert "2ab &lt; a² + b²" in text
    assert "2ab < a² + b²" in read(text).words
