"""The field sheets: each reading has its box, in the order walked, nothing left to trust."""

from __future__ import annotations

import re

import pytest

from mensura.estimates.field_design import field_design
from mensura.views.sheets.field_sheet import CARE, field_sheets

HANDS = ("Q01", "Q02", "Q03")


def sections(page: str) -> list[str]:
    return re.findall(r'<section class="hand".*?</section>', page, re.S)


@pytest.mark.parametrize("marked", [True, False])
def test_every_reading_has_its_box_in_the_order_walked(marked: bool) -> None:
    plan = field_design(HANDS, 7, ("T1", "T2", "K1"), 2, "alder", marked)
    parts = sections(field_sheets(plan))
    assert len(parts) == len(HANDS)
    for hand, part in zip(HANDS, parts, strict=True):
        assert f"Field sheet of {hand}" in part
        boxes = []
        for row in re.findall(r"<tr[^>]*><td class=\"no\">.*?</tr>", part, re.S):
            stem = re.search(r'class="stem">(\w+)<', row)[1]
            tool = re.search(r'class="with">(\w+)<', row)[1]
            words = re.findall(r'<td class="cm"><span>([^<]+)</span>', row)
            boxes += [(stem, tool, word) for word in words]
            assert row.count("<td></td>") == 3  # axis, height, remarks
        named = {0.0: "0°", 90.0: "90°"}
        walked = [
            (
                turn.stem,
                turn.instrument,
                "girth"
                if turn.kind == "girth"
                else named[turn.direction_deg]
                if marked
                else ("across", "first")[turn.repeat % 2],
            )
            for turn in plan.turns[hand]
        ]
        assert boxes == walked
        assert part.count('<table class="walk">') == 2  # a page for each round
        assert CARE in part.replace("&#39;", "'")


def test_height_and_time_are_told_as_set() -> None:
    plan = field_design(HANDS, 6, ("T1", "T2"), 1, "alder")
    page = field_sheets(plan, breast_height_m=1.37, seconds_a_reading=50)
    assert page.count("At the line on the stem, 1.37 m above the ground") == len(HANDS)
    assert page.count("About 5 min of your own at 50 s a reading, an assumption") == len(HANDS)
    bare = field_sheets(field_design(HANDS, 6, ("T1", "T2"), 1, "alder", marked=False))
    assert "Find 1.3 m above the ground yourself" in bare
    assert "Calipers." not in page  # what nobody carries needs no words


def test_codes_are_text_and_the_page_loads_nothing() -> None:
    plan = field_design(("<b>Q</b>",), 2, ("T1",), 1, "alder")
    page = field_sheets(plan)
    assert "<b>Q</b>" not in page
    assert "&lt;b&gt;Q" in page
    assert "default-src 'none'" in page
    assert not re.search(r'(?:src|href)="?http', page)
