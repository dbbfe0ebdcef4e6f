"""A cut end: shapes whose every figure is known by hand, and the same by other instruments."""

from __future__ import annotations

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.estimates import calipers_limit_deg, compare, out_of_round_percent, scatters
from mensura.estimates.comparison import PRACTICES
from mensura.estimates.cut_end import CHOSEN, CHOSEN_WORDS, cut_end, practice_over_percent
from mensura.estimates.published_ovals import AREA_OVER, standings
from mensura.places import data_file
from mensura.stems import Ellipse, Outline, read_outline, reuleaux, with_even_bark
from mensura.stems.end_widths import HullWidths

DISC = read_outline(data_file("quillmere-disc-07.csv"))


def _oval(first: float, second: float) -> Outline:
    return Outline(Ellipse(first, second).outline_cm())


def test_a_notched_square_by_hand() -> None:
    """A notch of a tenth of the area: the tape spans it, and the rest is that it is no circle."""
    notched = cut_end(Outline([[0, 0], [40, 0], [40, 40], [30, 40], [20, 8], [10, 40], [0, 40]]))
    assert notched.true_area_cm2 == pytest.approx(1600 - 320)
    assert notched.taut_girth_cm == pytest.approx(160)
    assert notched.hollows_percent == pytest.approx(25)
    assert notched.not_round_percent == pytest.approx(100 * (160**2 / (4 * np.pi) - 1600) / 1280)
    assert notched.ends.longest_cm == pytest.approx(40 * np.sqrt(2))
    assert notched.ends.shortest_cm == pytest.approx(40)
    assert notched.out_of_round_percent == pytest.approx(0)
    by_name = {one.practice: one for one in notched.calipers}
    assert by_name["one"].least_over_percent == pytest.approx(100 * (np.pi * 400 / 1280 - 1))
    assert by_name["one"].least_deg == 0
    assert by_name["one"].most_over_percent == pytest.approx(100 * (np.pi * 800 / 1280 - 1))
    assert by_name["one"].most_deg == 45


@pytest.mark.parametrize("outline", [DISC, reuleaux(40), _oval(60, 48)])
def test_the_two_parts_make_the_tape(outline: Outline) -> None:
    """And the tape is what `compare` has it for."""
    cut = cut_end(outline)
    assert cut.hollows_percent + cut.not_round_percent == pytest.approx(cut.tape_over_percent)
    assert cut.hollows_percent >= -1e-9
    assert cut.not_round_percent >= 0
    assert cut.tape_over_percent == pytest.approx(compare(outline).tape_over_percent)


@pytest.mark.parametrize("turn", [0, 17, 90, 133])
def test_every_practice_in_a_direction_is_that_of_compare(turn: int) -> None:
    """The same calipers by another way."""
    cut, beside = cut_end(DISC), compare(DISC, caliper_direction_deg=turn)
    for one, other in zip(cut.calipers, beside.calipers, strict=True):
        assert one.practice == other.practice
        assert one.over_percent[turn] == pytest.approx(other.over_percent, abs=1e-9)


def test_an_oval_all_round_is_the_closed_form() -> None:
    """Means over all directions, and how often the calipers are nearer, of the smooth ellipse."""
    cut = cut_end(_oval(60, 48), step_deg=0.5)
    by_name = {one.practice: one for one in cut.calipers}
    for practice, scatter in zip(
        ("one", "two-arithmetic", "two-geometric"), scatters(30, 24), strict=False
    ):
        assert by_name[practice].mean_over_percent == pytest.approx(scatter.mean_percent, abs=1e-3)
        spread = float(np.std(by_name[practice].over_percent))
        assert spread == pytest.approx(scatter.spread_percent, abs=1e-3)
    limit = calipers_limit_deg(60, 48)
    assert by_name["two-arithmetic"].nearer_percent == pytest.approx(100 * limit / 45, abs=1.2)
    assert cut.ellipse_over_percent == pytest.approx(cut.tape_over_percent, abs=2e-3)
    assert cut.out_of_round_percent == pytest.approx(out_of_round_percent(60, 48), abs=1e-2)
    product = next(one for one in cut.chosen if one.practice == "longest-and-shortest-geometric")
    assert product.over_percent == pytest.approx(0, abs=1e-2)


def test_constant_width_fools_every_practice_alike() -> None:
    """No direction helps: each is off as much as the tape."""
    cut = cut_end(reuleaux(40))
    truth = 100 * (np.pi / 4 / ((np.pi - np.sqrt(3)) / 2) - 1)
    assert cut.tape_over_percent == pytest.approx(truth, abs=0.01)
    for one in cut.calipers:
        assert one.least_over_percent == pytest.approx(truth, abs=0.01)
        assert one.most_over_percent == pytest.approx(truth, abs=0.01)


def test_widths_sought_out_are_those_of_the_ends() -> None:
    cut = cut_end(DISC)
    assert {one.practice for one in cut.chosen} == set(CHOSEN) == set(CHOSEN_WORDS)
    for one in cut.chosen:
        for turn, width in zip(one.directions_deg, one.readings_cm, strict=True):
            assert float(DISC.width_cm(turn)) == pytest.approx(width, abs=1e-9)
        shorter = cut.ends.shortest_cm if "shortest" in one.practice else cut.across_cm
        assert one.readings_cm == (cut.ends.longest_cm, shorter)
        first, second = one.readings_cm
        square = ((first + second) / 2) ** 2 if "arithmetic" in one.practice else first * second
        assert one.area_cm2 == pytest.approx(np.pi / 4 * square)


def test_turned_and_moved_it_is_the_same_cut() -> None:
    """Nothing but the directions changes."""
    turn = np.radians(31.0)
    way = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    points = np.asarray(DISC.points_cm) @ way + np.array([400.0, -200.0])
    moved = cut_end(Outline(points), pith_cm=[400, -200])
    still = cut_end(DISC, pith_cm=[0, 0])
    for name in ("true_area_cm2", "taut_girth_cm", "tape_over_percent", "across_cm"):
        assert getattr(moved, name) == pytest.approx(getattr(still, name))
    assert (moved.ends.longest_deg - still.ends.longest_deg) % 180 == pytest.approx(31)
    assert moved.calipers[1].over_percent[31] == pytest.approx(still.calipers[1].over_percent[0])
    assert moved.pith is not None
    assert still.pith is not None
    assert moved.pith.off_centre_percent == pytest.approx(still.pith.off_centre_percent)
    assert (moved.pith.direction_deg - still.pith.direction_deg) % 360 == pytest.approx(31)


def test_an_even_bark_comes_off_as_it_was_laid_on() -> None:
    """Its thickness by Steiner; what the tape over it sells as wood."""
    wood, bark = Ellipse(44, 40), with_even_bark(Ellipse(44, 40), 1.5)
    cut = cut_end(Outline(bark.outline_cm()), under_bark=Outline(wood.outline_cm()))
    under = cut.under_bark
    assert under is not None
    assert under.mean_bark_cm == pytest.approx(1.5, rel=1e-3)
    ring = 1.5 * wood.taut_girth_cm + np.pi * 1.5**2
    assert under.bark_percent == pytest.approx(100 * ring / (wood.area_cm2 + ring), rel=1e-3)
    girth = wood.taut_girth_cm + 2 * np.pi * 1.5
    sold = 100 * (girth**2 / (4 * np.pi) / wood.area_cm2 - 1)
    assert under.over_bark_percent == pytest.approx(sold, rel=1e-3)


def test_what_does_not_lie_in_the_outline_is_refused() -> None:
    square = Outline([[0, 0], [40, 0], [40, 40], [0, 40]])
    for pith in ([40, 3], [50, 3], [0, 0]):
        with pytest.raises(MeasureError, match="pith_cm"):
            cut_end(square, pith_cm=pith)
    with pytest.raises(MeasureError, match="two numbers"):
        cut_end(square, pith_cm=[1, 2, 3])
    with pytest.raises(MeasureError, match="under_bark"):
        cut_end(square, under_bark=Outline([[1, 1], [41, 1], [1, 39]]))
    with pytest.raises(MeasureError, match="single outline"):
        cut_end(Outline([square.points_cm, square.points_cm]))
    with pytest.raises(MeasureError, match="practice"):
        practice_over_percent(HullWidths(square), "three", 0.0, 1600.0)


def test_wood_along_the_barks_own_edge_is_taken() -> None:
    """Where the bark is gone both edges are one."""
    square = Outline([[0, 0], [40, 0], [40, 40], [0, 40]])
    bare = cut_end(square, under_bark=Outline([[0, 0], [38, 0], [38, 40], [0, 40]])).under_bark
    assert bare is not None
    assert bare.bark_percent == pytest.approx(5)


def test_standing_among_published_figures() -> None:
    """Ends of the span count as within; 3 % of the diameter are 6.09 % of the area."""
    least, most = AREA_OVER.least_percent, AREA_OVER.most_percent
    found = [standings(value)[0].place for value in (least - 0.01, least, most, most + 0.01)]
    assert found == ["below", "within", "within", "above"]
    assert [standings(value)[1].place for value in (6.08, 6.1)] == ["below", "within"]


def test_json_carries_every_direction() -> None:
    answer = cut_end(DISC, step_deg=5).to_dict()
    assert [one["practice"] for one in answer["calipers"]] == list(PRACTICES)
    assert all(len(one["directions_deg"]) == len(one["over_percent"]) == 36
               for one in answer["calipers"])  # fmt: skip
    assert answer["pith"] is None
    assert answer["under_bark"] is None
