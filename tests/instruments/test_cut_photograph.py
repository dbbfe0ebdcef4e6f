"""The made-up photograph of a disc: the stored one is the drawn one, and its section is found."""

import numpy as np
import pytest

from mensura.disk.photograph import read_cut
from mensura.instruments.cut_photograph import SCALE_CM, made_up_photograph
from mensura.places import data_file
from mensura.stems import Ellipse, Outline
from mensura.stems.outline_file import read_outline

ENDS_PX = [77.4, 549.1, 522.6, 549.1]


def test_the_stored_photograph_is_the_drawn_one() -> None:
    """Dot for dot, up to a rounding; and its scale lies where the page says."""
    drawn = made_up_photograph(read_outline(data_file("quillmere-disc-15.csv")))
    stored = read_cut(data_file("quillmere-cut-15.png"), SCALE_CM, ENDS_PX)
    apart = np.abs(drawn.picture.astype(int) - stored.picture.astype(int))
    assert apart.max() <= 1
    assert np.ravel(drawn.scale_px) == pytest.approx(ENDS_PX, abs=0.05)


def test_the_disc_is_found_in_it() -> None:
    """Hollow and all: area to 0.1 %, girth to 0.05 %."""
    disc = read_outline(data_file("quillmere-disc-15.csv"))
    found = read_cut(data_file("quillmere-cut-15.png"), SCALE_CM, ENDS_PX).found().outline
    assert found.area_cm2 == pytest.approx(disc.area_cm2, rel=1e-3)
    assert found.taut_girth_cm == pytest.approx(disc.taut_girth_cm, rel=5e-4)


def test_a_wrong_threshold_loses_sapwood() -> None:
    """In the shade it is as dark as that level: less is found, and less again by a higher one."""
    photo = read_cut(data_file("quillmere-cut-15.png"), SCALE_CM, ENDS_PX)
    areas = [photo.found(level).outline.area_cm2 for level in (None, 160, 168)]
    assert areas[1] < 0.99 * areas[0]
    assert areas[2] < 0.95 * areas[1]


@pytest.mark.parametrize(("wide_cm", "high_cm"), [(12.0, 10.0), (90.0, 60.0), (52.0, 80.0)])
def test_any_section_is_drawn_whole(wide_cm, high_cm) -> None:
    """Smaller than the scale or larger, with its scale in the picture."""
    oval = Ellipse(wide_cm, high_cm)
    photo = made_up_photograph(Outline(oval.outline_cm()))
    assert photo.found().outline.area_cm2 == pytest.approx(oval.area_cm2, rel=5e-3)
    assert (np.asarray(photo.scale_px) > 0).all()
    assert (np.asarray(photo.scale_px) < 600).all()
