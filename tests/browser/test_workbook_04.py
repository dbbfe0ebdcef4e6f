"""Workbook 04 in a real browser: what holds on every page, on a phone too."""

from __future__ import annotations

from every_page import EveryPage
from on_a_phone import OnAPhone

NAME = "04-laying-the-tape.ipynb"


class TestEveryPage(EveryPage):
    """As it opens."""


class TestOnAPhone(OnAPhone):
    """Its page is made narrow as it stands."""
