"""Causes of a growth below nought: sizes by the package's other models, and their order."""

import math
import re

import pytest

from mensura.checks import MeasureError
from mensura.estimates.growth import OTHER, ReadingDoubts, growth_between, u_growth_cm
from mensura.estimates.growth_rows import (
    COMBINATIONS,
    figures,
    many_stems,
    parts_shared_and_not,
    smaller_than_before,
    years_needed,
)
from mensura.estimates.shrunk import COMMON, bark_came_off_cm, shrinking_causes
from mensura.instruments import Tape
from mensura.sources import SOURCES
from mensura.stems import circle
from mensura.stems.standing import StemInSpace
from mensura.stems.wrapped import with_even_bark

GIRTH = 125.0
BY_KEY = {one.key: one for one in shrinking_causes(GIRTH, 0.6, again=OTHER)}


def test_sizes_by_other_models():
    """Bark as the package puts it round wood, a stretched tape, a stem in space."""
    wood = circle((GIRTH - 2 * math.pi * 0.3) / math.pi)
    lost = with_even_bark(wood, 0.3).taut_girth_cm - wood.taut_girth_cm
    assert BY_KEY["bark-lost"].size_cm == pytest.approx(lost, rel=5e-4)
    assert bark_came_off_cm(1.0 - lost, 0.3) == pytest.approx(1.0, abs=5e-4)
    short = GIRTH - Tape(stretch_percent=0.3).read(circle(GIRTH / math.pi)).reading_cm
    assert BY_KEY["stretched"].size_cm == pytest.approx(short, rel=0.005)
    stem = StemInSpace(40.0, taper_cm_per_m=1.0)
    lower, higher = (stem.section_at(at).taut_girth_cm for at in (1.3, 1.4))
    assert BY_KEY["higher"].size_cm == pytest.approx(lower - higher, rel=1e-9)
    assert BY_KEY["chance"].size_cm == pytest.approx(1.959964 * u_growth_cm(GIRTH, GIRTH))


def test_what_can_be_all_of_it_comes_first_and_the_nearest_of_it():
    for shrunk in (0.2, 0.6, 3.0, 9.0):
        causes = shrinking_causes(GIRTH, shrunk, again=OTHER)
        place = [2 if one.reaches is None else int(not one.reaches) for one in causes]
        assert place == sorted(place)
        can = [one for one in causes if one.reaches]
        off = [abs(math.log(one.size_cm / shrunk)) for one in can]
        assert off == sorted(off)
        for one in causes:
            assert one.reaches is None or one.reaches == (shrunk <= one.most_cm)
            assert one.size_cm is None or one.least_cm <= one.size_cm <= one.most_cm
    assert shrinking_causes(GIRTH, 9.0)[0].key == "misread"
    assert shrinking_causes(GIRTH, 0.5)[0].key == "chance"


def test_another_hand_or_tape_only_where_it_is_another():
    same = {one.key for one in shrinking_causes(GIRTH, 0.6)}
    assert set(BY_KEY) - same == {"other-hand", "other-tape"}


def test_every_cause_says_where_it_is_from():
    for one in BY_KEY.values():
        keys = re.findall(r"\[(.*?)\]", one.source)
        assert keys or one.source in (COMMON, "closed form")
        assert all(key in SOURCES for key in keys)
        assert all((one.words, one.assumed, one.look))


def test_refused():
    for shrunk in (0.0, -1.0, GIRTH):
        with pytest.raises(MeasureError, match="shrunk_cm"):
            shrinking_causes(GIRTH, shrunk)


def test_rows_say_what_the_figures_say():
    doubts = ReadingDoubts(repeat_cm=0.4)
    one = growth_between(100.0, 105.0, 5.0, doubts)
    assert next(row["a_year"] for row in figures(one)) == one.a_year_cm
    parts = parts_shared_and_not(100.0, 105.0, doubts)
    for name, again in (
        ("same_cm", COMBINATIONS["same tape, hand and season"]),
        ("other_cm", OTHER),
    ):
        whole = math.sqrt(sum(row[name] ** 2 for row in parts))
        assert whole == pytest.approx(u_growth_cm(100.0, 105.0, doubts, again))
    waits = {row["second_reading"]: row["wait_years"] for row in years_needed(100.0, 0.5)}
    assert list(waits) == list(COMBINATIONS)
    assert min(waits, key=waits.get) == "same tape, hand and season"
    rows = many_stems((1, 10, 100), 100.0, 5.0, 1.5)
    assert rows[0]["same_cm"] > rows[1]["same_cm"] > rows[2]["same_cm"]
    assert all(row["same_cm"] < row["other_cm"] for row in rows)
    causes = smaller_than_before(100.0, 0.6)
    assert {row["usual_cm"] for row in causes if row["can_be_all"] == "unknown"} == {"unknown"}
