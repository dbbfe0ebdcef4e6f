"""Workbook 07 in a real browser: what holds on every page, through a slit too."""

from __future__ import annotations

from every_page import EveryPage
from on_a_phone import ThroughASlit

NAME = "07-calipers.ipynb"


class TestEveryPage(EveryPage):
    """As it opens."""


class TestThroughASlit(ThroughASlit):
    """The first panel's, whose picture has the most parts."""

    moves = (("turned by, °", "stem"), ("jaw leans out by, °", "shares"))
