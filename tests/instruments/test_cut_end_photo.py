"""Outlines from drawn photographs against the polygons that were drawn; and what is refused."""

import sys
import time
from pathlib import Path

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.instruments.cut_end_photo import Correction, outline_of_photograph
from mensura.instruments.photo_edge import found_edge
from mensura.instruments.photo_plane import PhotographError, plane_by_marks, plane_by_scale

sys.path.append(str(Path(__file__).parents[1]))
from drawn_cut_ends import drawn_cut_end, forty

DIRECTIONS = np.arange(0.0, 180.0, 1.0)


def over_percent(outline):
    """By how much a taut tape makes the area too large."""
    return 100 * (outline.taut_girth_cm**2 / (4 * np.pi) / outline.area_cm2 - 1)


def found(drawn, tilted, **more):
    """What is found, by the marks of a tilted picture, else by its scale."""
    if tilted:
        said = {"marks_cm": drawn.marks_cm, "marks_px": drawn.marks_px}
    else:
        said = {"scale_cm": drawn.scale_cm, "scale_px": drawn.scale_px.ravel()}
    return outline_of_photograph(drawn.picture, **said, **more)


@pytest.fixture(scope="module")
def judged():
    """Errors of area, widths (the worst), girth in per cent, and of tape_over_percent in points."""
    rows = {}
    for kind, settings in forty():
        drawn = drawn_cut_end(kind, **settings)
        outline, true = found(drawn, settings["tilt_deg"] > 0).outline, drawn.true
        widths = 100 * (outline.width_cm(DIRECTIONS) / true.width_cm(DIRECTIONS) - 1)
        rows[drawn.told] = (
            100 * (outline.area_cm2 / true.area_cm2 - 1),
            widths[np.abs(widths).argmax()],
            100 * (outline.taut_girth_cm / true.taut_girth_cm - 1),
            over_percent(outline) - over_percent(true),
        )
    return rows


def test_forty_pictures_are_as_bad_as_promised(judged) -> None:
    """Noise up to 20 levels, blur up to 2 px, radii from 150 px, near-round ones, tilts of 15°."""
    settings = [one for _, one in forty()]
    assert len(judged) == 40
    assert max(one["noise"] for one in settings) == 20
    assert max(one["blur_px"] for one in settings) == 2
    assert min(one["radius_px"] for one in settings) == 150
    assert sum(one["tilt_deg"] == 15 for one in settings) > 3
    assert sum(kind == "near round" for kind, _ in forty()) == 8


@pytest.mark.parametrize(
    ("place", "most"),
    list(enumerate((0.5, 0.5, 0.3, 0.3))),
    ids=("area", "widths", "girth", "tape"),
)
def test_found_outlines_are_true(judged, place, most) -> None:
    """Area and every width to 0.5 %, girth to 0.3 %, the tape's excess to 0.3 points."""
    worst = max(judged, key=lambda told: abs(judged[told][place]))
    assert abs(judged[worst][place]) < most, worst


def test_a_tilt_matters_and_is_undone() -> None:
    """15° falsify the area by more than 2 % if the scale alone is believed; marks give it back."""
    drawn = drawn_cut_end("ellipse", 3, noise=10, blur_px=1, tilt_deg=15)
    by_scale = found(drawn, False).outline.area_cm2 / drawn.true.area_cm2 - 1
    by_marks = found(drawn, True).outline.area_cm2 / drawn.true.area_cm2 - 1
    assert abs(by_scale) > 0.02
    assert abs(by_marks) < 0.005


def test_twelve_million_dots_take_under_three_seconds() -> None:
    """A phone's picture, in colour."""
    rows, columns = (one.astype(np.float32) for one in np.ogrid[:3000, :4000])
    share = np.clip(1300.5 - np.hypot(columns - np.float32(2000), rows - np.float32(1500)), 0, 1)
    picture = np.repeat((190 - 120 * share).astype(np.uint8)[..., None], 3, axis=2)
    start = time.process_time()
    outline = outline_of_photograph(picture, scale_cm=10, scale_px=[0, 0, 1000, 0]).outline
    assert time.process_time() - start < 3
    assert outline.area_cm2 == pytest.approx(np.pi * 13**2, rel=1e-3)


def test_a_piece_is_added_or_cut_as_drawn() -> None:
    """A square hole at the edge is filled by hand, and a drawn strip is taken off."""
    rows, columns = np.mgrid[:300, :300]
    disc = np.hypot(columns - 150, rows - 150) < 100
    hole = disc & (columns > 200)
    picture = np.where(disc & ~hole, 60, 200).astype(np.uint8)
    said = {"scale_cm": 10, "scale_px": [0, 0, 100, 0]}
    turn = np.linspace(-np.pi / 3, np.pi / 3, 200)
    arc = np.stack([150 + 100 * np.cos(turn), 150 + 100 * np.sin(turn)], axis=-1)
    whole = outline_of_photograph(picture, **said, corrections=[Correction("add", arc)])
    assert whole.outline.area_cm2 == pytest.approx(np.pi * 100, rel=0.004)
    left = Correction("cut", [[0, 0], [100, 0], [100, 299], [0, 299]])
    again = outline_of_photograph(picture, **said, corrections=[Correction("add", arc), left])
    segment = 100 * (np.pi / 3 - np.sqrt(3) / 4)
    assert again.outline.area_cm2 == pytest.approx(np.pi * 100 - segment, rel=0.006)
    with pytest.raises(MeasureError, match="add or cut"):
        Correction("move", arc)


def test_a_threshold_by_hand_moves_the_edge() -> None:
    """A level nearer to the ground's takes more of a soft edge in; the pith is where it was put."""
    drawn = drawn_cut_end("near round", 4, blur_px=2, wood=170, ground=60)
    areas = [found(drawn, False, threshold=one).outline.area_cm2 for one in (80, 115, 150)]
    assert areas[0] > areas[1] > areas[2]
    one = found(drawn, False, pith_px=drawn.scale_px.mean(axis=0))
    assert np.hypot(*one.pith_cm) < 0.3
    assert one.plane.to_px(one.pith_cm) == pytest.approx(drawn.scale_px.mean(axis=0))


def picture_of(level=200, inner=60, radius=60, middle=(100, 100), noise=0.0):
    """A disc on even ground."""
    rows, columns = np.mgrid[:200, :200]
    disc = np.hypot(columns - middle[0], rows - middle[1]) < radius
    light = np.where(disc, inner, level) + noise * np.random.default_rng(2).standard_normal(
        disc.shape
    )
    return np.clip(light, 0, 255).astype(np.uint8)


@pytest.mark.parametrize(
    ("picture", "more", "says"),
    [
        (picture_of(inner=200), {}, "nothing"),
        (picture_of(inner=200, noise=20), {}, "stands out|nothing|leaves"),
        (picture_of(inner=195), {}, "nothing stands out"),
        (picture_of(radius=5), {}, "nothing as large"),
        (picture_of(), {"threshold": 255, "darker": True}, "everything"),
        (picture_of(), {"threshold": 10}, "nothing"),
        (picture_of(radius=138), {"darker": True}, "everything"),
        (picture_of(middle=(170, 100)), {}, "leaves the photograph at its right edge"),
        (picture_of(), {"scale_px": [0, 0, 300, 0]}, "outside the photograph of 200 × 200"),
        (picture_of(), {"scale_px": [9, 9, 9, 9]}, "of no length"),
        (picture_of(), {"scale_px": None}, "no size of its own"),
        (picture_of(), {"scale_px": [1, 2, 3]}, "2 places"),
        (picture_of(), {"scale_cm": 0}, "above 0"),
        (picture_of(), {"threshold": 300}, "at most 255"),
        (
            picture_of(),
            {"corrections": [Correction("add", [[90, 90], [400, 90], [90, 110]])]},
            "leaves the photograph",
        ),
        (
            picture_of(),
            {"corrections": [Correction("cut", [[0, 0], [200, 0], [200, 200], [0, 200]])]},
            "leave nothing",
        ),
        (
            picture_of(),
            {"marks_cm": (9, 9), "marks_px": [0, 0, 100, 100, 100, 0, 0, 100]},
            "corners in order",
        ),
        (
            picture_of(),
            {"marks_cm": (9, 9), "marks_px": [10, 10, 100, 9, 190, 10, 100, 150]},
            r"\(100, 9\) lies 1.0 px off the line",
        ),
        (
            picture_of(),
            {"marks_cm": (60, 40), "marks_px": [190, 10, 190, 130, 10, 130, 10, 10]},
            "120 by 180 px .* no 60x40 but rather 40x60: the first corner or the order seems wrong",
        ),
        (
            picture_of(),
            {"marks_cm": (9, 9), "marks_px": [60, 150, 140, 150, 110, 95, 90, 95]},
            "behind the camera",
        ),
        (
            picture_of(),
            {"corrections": [Correction("add", [[2, 2], [20, 2], [20, 20], [2, 20]])]},
            r"added from \(2, 2\) does not touch the section, it is 53 px away",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_used_is_refused_in_one_sentence(picture, more, says) -> None:
    """Nothing, everything, cut off, no scale: one sentence each, with what is expected."""
    said = {"scale_cm": 10, "scale_px": [0, 0, 100, 0]} | more
    with pytest.raises(MeasureError, match=says) as told:
        outline_of_photograph(picture, **said)
    sentence = str(told.value)
    assert sentence.count("\n") == 0
    assert sentence.endswith(".")


def test_four_marks_whichever_way_round() -> None:
    """Marks in either sense, from either corner, give one area, never a mirrored cut."""
    marks = np.array([[10.0, 20.0], [110.0, 25.0], [100.0, 120.0], [15.0, 105.0]])
    spot = [[40.0, 40.0], [60.0, 45.0], [50.0, 70.0]]
    turned = []
    for order, sides in (([0, 1, 2, 3], (5, 4)), ([3, 2, 1, 0], (5, 4)), ([1, 2, 3, 0], (4, 5))):
        x, y = plane_by_marks(marks[order], sides).to_cm(spot).T
        turned.append((x[1] - x[0]) * (y[2] - y[0]) - (y[1] - y[0]) * (x[2] - x[0]))
    assert turned == pytest.approx([turned[0]] * 3)
    assert turned[0] < 0  # clockwise in the picture, and so in the plane
    square = [[0, 0], [100, 0], [100, 100], [0, 100]]
    by_scale = plane_by_scale([0, 0, 100, 0], 50)
    assert plane_by_marks(square, [50, 50]).to_cm(spot) == pytest.approx(by_scale.to_cm(spot))


@pytest.mark.parametrize(
    ("seen_px", "sides", "noted"),
    [
        ((150, 100), (60, 40), False),
        ((150, 100), (60, 46), False),  # as a camera would see it that leans by 30°
        ((150, 100), (60, 55), True),
        ((110, 100), (100, 110), True),  # the other way it fits
        ((110, 100), (110, 110), False),
        ((110, 100), (105, 120), True),
        ((150, 100), (45, 60), None),
    ],
)
def test_odd_sides_are_told_and_swapped_ones_refused(seen_px, sides, noted) -> None:
    """A camera that leans may shorten a side: told from 1.25 on; refused if clearly swapped."""
    wide, high = seen_px
    said = {"marks_px": [9, 9, 9 + wide, 9, 9 + wide, 9 + high, 9, 9 + high], "marks_cm": sides}
    if noted is None:
        with pytest.raises(PhotographError, match="seems wrong"):
            outline_of_photograph(picture_of(), **said)
        return
    notes = outline_of_photograph(picture_of(), **said).notes
    assert [f"look like {sides[0]}x{sides[1]}" in one for one in notes] == [True] * noted


@pytest.mark.parametrize("ruler", [40, 150, 240])
def test_a_scale_at_the_edge_is_told(ruler) -> None:
    """On the cut and beyond its edge it spoils the outline, whatever its level; beside it, not."""
    said = {"scale_cm": 40, "scale_px": [10, 100, 190, 100]}
    across, within, beside = (picture_of(70, 190) for _ in range(3))
    across[100:108, 10:190] = ruler
    found_ = outline_of_photograph(across, **said)
    assert found_.outline.area_cm2 != pytest.approx(np.pi * (60 * 40 / 180) ** 2, rel=0.01)
    assert [one[:42] for one in found_.notes] == ["the scale touches the outline: look there "]
    within[100:104, 70:130] = ruler
    said = {"scale_cm": 15, "scale_px": [70, 100, 130, 100]}
    assert outline_of_photograph(within, **said).notes == ()
    beside[180:188, 10:190] = 120
    said = {"scale_cm": 40, "scale_px": [10, 180, 190, 180]}
    assert outline_of_photograph(beside, **said).notes == ()


def test_a_cut_that_takes_nothing_is_told() -> None:
    """A piece drawn beside the section is no slip that hides."""
    away = Correction("cut", [[2, 2], [20, 2], [20, 20], [2, 20]])
    said = {"scale_cm": 10, "scale_px": [0, 0, 100, 0]}
    found_ = outline_of_photograph(picture_of(), **said, corrections=[away])
    assert found_.notes == ("the piece cut from (2, 2) takes nothing off the section",)
    apart = Correction("cut", [[95, 0], [105, 0], [105, 199], [95, 199]])
    (note,) = outline_of_photograph(picture_of(), **said, corrections=[apart]).notes
    assert note == "the corrections part the section, and only the largest part is measured"


def test_a_dark_cut_and_a_light_one_have_the_same_edge() -> None:
    """What is dark on light ground is found where its negative is."""
    drawn = drawn_cut_end("lobed", 7, noise=5, blur_px=1)
    light, dark = found_edge(drawn.picture), found_edge(255 - drawn.picture)
    assert (light.darker, dark.darker) == (False, True)
    gap = np.abs(np.hypot(*light.edge_px.T).mean() - np.hypot(*dark.edge_px.T).mean())
    assert gap < 0.02
    assert isinstance(PhotographError("x."), MeasureError)
