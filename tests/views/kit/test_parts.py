"""Parts of a picture: how they are cut and told, and which of them a control moves."""

from __future__ import annotations

import json
from html.parser import HTMLParser
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

import mensura.views.chapters as chapters
from mensura.checks import MeasureError
from mensura.views.kit.live import Live, image_tag
from mensura.views.kit.parts import Box, Moved, part, parts_json
from mensura.views.kit.record import Drawn, places, unpacked

PANELS = chapters.panels()


@given(st.lists(st.integers(1, 859), unique=True, max_size=5), st.booleans())
def test_cuts_lose_nothing(cuts: list[int], upwards: bool) -> None:
    """Pieces follow each other without gap or overlap, from end to end, either way."""
    whole = Box(0, 0, 860, 860)
    if upwards:
        pieces = whole.cut_y(*sorted(cuts, reverse=True))
        edges = [whole.high_px, *(one.low_px for one in pieces)]
        assert [one.high_px for one in pieces] == edges[:-1]
        assert edges[-1] == whole.low_px
    else:
        pieces = whole.cut_x(*sorted(cuts))
        edges = [whole.left_px, *(one.right_px for one in pieces)]
        assert [one.left_px for one in pieces] == edges[:-1]
        assert edges[-1] == whole.right_px
    assert len(pieces) == len(cuts) + 1


@pytest.mark.parametrize("cuts", [(0,), (900,), (500, 400), (300, 300)])
def test_a_cut_that_is_none_is_refused(cuts: tuple[float, ...]) -> None:
    """At or beyond an edge, out of order, twice: one sentence that names them."""
    with pytest.raises(MeasureError, match=f"cuts is '?{cuts[0]}.*expected places in order inside"):
        Box(0, 0, 860, 400).cut_x(*cuts)


def test_the_page_is_told_names_and_boxes_and_no_markup() -> None:
    """A name with quotes and brackets comes back from the attribute as it was."""
    met: list[Any] = []

    class Reader(HTMLParser):
        def handle_starttag(self, tag: str, attrs: Any) -> None:
            met.append((tag, dict(attrs)))

    name = 'a "b" <c> & d\'s'
    told = parts_json([part(name, Box(10, 20, 110.5, 70))], 100)
    Reader().feed(image_tag("<svg/>", "words", 200, 100, told))
    ((tag, attributes),) = met
    assert tag == "img"
    assert json.loads(attributes["data-parts"]) == [{"name": name, "boxes": [[10, 30, 100.5, 50]]}]


def test_what_moves_is_counted_for_each_control_alone() -> None:
    """The part in which points go farther is named; a later small step of the same control,
    another way, does not change that; another control is counted anew."""
    left, right = Box(0, 0, 80, 40).cut_x(40)
    moved = Moved([part("left", left), part("right", right)], 40)
    assert moved.by("turn", {}) == ""

    def drawn(left_px: float, right_px: float) -> Drawn:
        return Drawn(numbers=[places(np.array([(9, left_px), (60, right_px)]))])

    assert moved.by("turn", {3: (drawn(18, 11), drawn(9, 9))}) == "left"
    assert moved.by("turn", {3: (drawn(18, 14), drawn(18, 11))}) == "left"
    assert moved.by("press", {3: (drawn(18, 16), drawn(18, 14))}) == "right"


def test_boxes_are_counted_from_the_foot() -> None:
    """A change at the picture's top belongs to the upper part."""
    upper, lower = Box(0, 0, 40, 40).cut_y(20)
    moved = Moved([part("upper", upper), part("lower", lower)], 40)

    def dots(*places_px: tuple[float, float]) -> Drawn:
        return Drawn(numbers=[places(np.array(places_px))])

    before, now = dots((5, 5), (5, 30)), dots((15, 5), (6, 30))
    assert moved.by("any", {0: (now, before)}) == "upper"
    # what comes anew counts where it comes, and what was counted stays
    assert moved.by("other", {0: (dots((5, 30)), None)}) == "lower"
    assert moved.by("any", {0: (dots((5, 31)), dots((5, 30)))}) == "upper"


@pytest.mark.parametrize(
    ("panel", "control", "part_name"),
    [
        ("out_of_round", "caliper_direction_deg", "stem"),
        ("out_of_round", "tilt_deg", "tilt"),
        ("out_of_round", "furrow_depth_cm", "turned"),
        ("calipers", "direction_deg", "stem"),
        ("bark", "gauge_deg", "close-up"),
        ("all_faults", "jaw_press_cm", "calipers"),
    ],
)
def test_the_part_that_a_control_moves(panel: str, control: str, part_name: str) -> None:
    """A step of a control names the part in which it is seen, and the control."""
    one = PANELS[panel]
    live = Live(one.picture())
    start = one.start()
    assert live.changes(one.numbers(**start))[1] == ""
    step = one.named[control].start + one.named[control].step  # type: ignore[union-attr]
    changed, looked_at = live.changes(one.numbers(**start | {control: round(step, 9)}), control)
    assert looked_at == part_name
    assert len(unpacked(changed).artists) > 0
    live.close()


@pytest.mark.parametrize("name", PANELS)
def test_what_is_looked_at_is_there(name: str) -> None:
    """Controls and parts that a picture names are the panel's own."""
    picture = PANELS[name].picture()
    assert set(picture.looked_at) <= set(PANELS[name].named)
    assert set(picture.looked_at.values()) <= {one.name for one in picture.parts()}


@pytest.mark.parametrize("name", PANELS)
def test_a_panel_at_work_tells_what_was_moved(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """One control that is set is named; several at once, as by a button, are not."""
    live = PANELS[name].at_work()
    told: list[dict[str, Any]] = []
    monkeypatch.setattr(live.image, "send", lambda one, _: told.append(one))
    live.image.hear({"kind": "here"})
    assert told[-1]["kind"] == "anew"
    assert told[-1]["parts"] == live.live.parts
    first, *others = PANELS[name].controls
    live.set(**{first.name: first.ends[0]})
    assert told[-1]["by"] == first.name
    assert told[-1]["part"] in [one.name for one in live.live.picture.parts()]
    # a panel with one slider has a list beside it
    beside = (
        {others[0].name: others[0].ends[1]}
        if others
        else {PANELS[name].choices[0].name: PANELS[name].choices[0].options[-1]}
    )
    live.set(**{first.name: first.ends[1]}, **beside)
    assert told[-1]["by"] == told[-1]["part"] == ""
