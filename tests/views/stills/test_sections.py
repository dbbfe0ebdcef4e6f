"""The still sections of workbook 02: drawn to scale, lettered clearly, and said in words."""

from __future__ import annotations

import io
import math
import re
from functools import cache
from typing import Any

import numpy as np
import pytest
from PIL import Image

from mensura import compare, data_file, read_outline, reuleaux
from mensura.stems import Ellipse
from mensura.views.kit import look
from mensura.views.kit.live import Live, Still
from mensura.views.stills import sections

DISC = read_outline(data_file("quillmere-disc-07.csv"))
PICTURES = {
    "same girth": sections._SameGirth(Ellipse(60, 48)),
    "same girth, nearly round": sections._SameGirth(Ellipse(60, 59)),
    "same girth, very flat": sections._SameGirth(Ellipse(120, 35)),
    "taut band": sections._TautBand(DISC),
    "blind jaws": sections._BlindJaws(reuleaux(40)),
    "blind jaws, wide": sections._BlindJaws(reuleaux(140)),
}
STILLS = {
    "same girth": lambda: sections.same_girth(Ellipse(60, 48)),
    "taut band": lambda: sections.taut_band(DISC),
    "blind jaws": sections.blind_jaws,
}


@cache
def still_of(name: str) -> Still:
    """A still, drawn by the first test that wants it: who collects tests needs none."""
    return STILLS[name]()


@pytest.fixture(scope="module")
def lives() -> dict[str, Live[Any]]:
    return {name: Live(picture) for name, picture in PICTURES.items()}


def lines_of(live: Live[Any], colour: str) -> list[Any]:
    """Lines of a colour in the section's axes, shape (k, 2) each."""
    return [
        np.column_stack(line.get_data())
        for line in live.figure.axes[0].lines
        if line.get_color() == colour
    ]


def crossed(first: Any, second: Any) -> Any:
    """Cross product of plane vectors: 0 where they are parallel, above where second is left."""
    a, b = np.asarray(first), np.asarray(second)
    return a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]


@pytest.mark.parametrize("name", STILLS)
def test_stills_have_words_and_size(name: str) -> None:
    """Twice the size at which they are shown, on white, with words beside them."""
    still = still_of(name)
    image = Image.open(io.BytesIO(still.png))
    assert image.size == (2 * still.width_px, 2 * still.height_px) == (1720, 800)
    assert image.getpixel((2, 2)) == (255, 255, 255)
    assert len(still.alt) > 120
    assert still.metadata["alt"] == still.alt


@pytest.mark.parametrize("name", PICTURES)
def test_lettering_is_clear(lives: dict[str, Live[Any]], letters: Any, name: str) -> None:
    """Nothing overlaps, is cut off, or is too small to be read from the back."""
    figure = lives[name].figure
    assert len(letters.lettering(figure)) >= 8
    assert letters.overlaps(figure) == []
    assert letters.cut_off(figure) == []
    assert letters.too_small(figure) == []


@pytest.mark.parametrize("name", PICTURES)
def test_the_section_is_to_scale_and_inside(lives: dict[str, Live[Any]], name: str) -> None:
    """Its edge is the model's, the same scale holds both ways, and all of it is seen."""
    live, picture = lives[name], PICTURES[name]
    axes = live.figure.axes[0]
    wood = next(p for p in axes.patches if p.get_facecolor()[:3] == rgb(look.WOOD))
    edge = wood.get_xy()
    assert np.array_equal(edge[: len(edge) - 1], picture.section.outline_cm())
    (x0, x1), (y0, y1) = axes.get_xlim(), axes.get_ylim()
    box = axes.get_window_extent()
    assert (x1 - x0) / box.width == pytest.approx((y1 - y0) / box.height)
    for points in [edge, *lines_of(live, look.TAPE), *lines_of(live, look.CALIPERS)]:
        assert x0 < points[:, 0].min()
        assert points[:, 0].max() < x1
        assert y0 < points[:, 1].min()
        assert points[:, 1].max() < y1


def rgb(colour: str) -> tuple[float, ...]:
    return tuple(int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))


def test_the_circle_has_the_stem_s_girth(lives: dict[str, Live[Any]]) -> None:
    """The drawn circle's length is the taut girth, and its area is what the tape claims."""
    (circle,) = lines_of(lives["same girth"], look.TAPE)
    result = compare(Ellipse(60, 48))
    steps = np.hypot(*np.diff(circle, axis=0).T).sum()
    assert steps == pytest.approx(result.taut_girth_cm, rel=1e-4)
    radius = np.hypot(*circle.T)
    assert math.pi * radius**2 == pytest.approx(np.full(len(radius), result.tape_area_cm2))


def test_the_band_bridges_the_hollow(lives: dict[str, Live[Any]]) -> None:
    """The drawn band is the hull: convex, around every point, as long as the tape reads."""
    live = lives["taut band"]
    (band,) = lines_of(live, look.TAPE)
    steps = np.diff(band, axis=0)
    turns = crossed(steps, np.roll(steps, -1, axis=0))
    assert (turns > -1e-9).all()
    assert np.hypot(*steps.T).sum() == pytest.approx(DISC.taut_girth_cm)
    for start, step in zip(band[:-1], steps, strict=True):
        assert (crossed(step, DISC.outline_cm() - start) > -1e-6).all()
    # the hollow is hatched, behind the wood
    hatched = [patch for patch in live.figure.axes[0].patches if patch.get_hatch()]
    assert len(hatched) == 1
    assert DISC.hull_area_cm2 > 1.005 * DISC.area_cm2


def test_three_pairs_of_jaws_stand_equally_far_apart(lives: dict[str, Live[Any]]) -> None:
    """Parallel in pairs, 0.5 cm outside the stem on either side, in three directions."""
    bars = lines_of(lives["blind jaws"], look.CALIPERS)
    assert len(bars) == 6
    directions = set()
    for one, other in zip(bars[::2], bars[1::2], strict=True):
        along = (one[1] - one[0]) / np.hypot(*(one[1] - one[0]))
        normal = np.array([-along[1], along[0]])
        assert crossed(along, other[1] - other[0]) == pytest.approx(0, abs=1e-9)
        assert abs((other[0] - one[0]) @ normal) == pytest.approx(41, abs=0.01)
        directions.add(round(math.degrees(math.atan2(*along[::-1])) % 180))
    assert len(directions) == 3
    styles = {
        str(line._unscaled_dash_pattern)
        for line in lives["blind jaws"].figure.axes[0].lines
        if line.get_color() == look.CALIPERS
    }
    assert len(styles) == 3


def test_words_are_the_model_s() -> None:
    """Areas and errors by plain arithmetic stand in the alternative texts."""
    # 60 by 48 cm: area 720π
    alt = still_of("same girth").alt
    for part in ("170.17 cm round", f"{720 * math.pi:.0f} cm²", "2304 cm²", "+1.88 %"):
        assert part in alt
    # a Reuleaux triangle of width w holds (π − √3)w²/2, a circle of that width πw²/4
    alt = still_of("blind jaws").alt
    held, circle = (math.pi - math.sqrt(3)) * 800, math.pi * 400
    assert f"circle of {circle:.0f} cm²" in alt
    assert f"holds {held:.0f} cm²" in alt
    assert f"+{100 * (circle / held - 1):.2f} %" in alt
    assert alt.count("these jaws read 40.00 cm") == 3
    # the disc: hollow and ovality compound to the whole
    alt = still_of("taut band").alt
    hollow, rest, whole = (float(part) for part in re.findall(r"\+(\d+\.\d+) %", alt))
    assert (1 + hollow / 100) * (1 + rest / 100) - 1 == pytest.approx(whole / 100, abs=2e-4)
    assert whole == pytest.approx(compare(DISC).tape_over_percent, abs=0.00501)


@pytest.mark.parametrize("name", STILLS)
def test_words_are_those_of_the_picture(
    lives: dict[str, Live[Any]], letters: Any, name: str
) -> None:
    """What is written in the picture is what is said: every line of it, in order."""
    axes = lives[name].figure.axes[1]
    written = [text.get_text() for text in axes.texts if text.get_text().strip()]
    assert len(written) >= 5
    assert still_of(name).alt.endswith(" ".join(written))


def test_another_width_is_another_picture() -> None:
    """The width that is asked for is drawn and said."""
    still = sections.blind_jaws(30)
    assert "these jaws read 30.00 cm" in still.alt
    assert still.png != still_of("blind jaws").png
