"""The found outline over its photograph: where it was found, lettered clearly, said in words."""

import numpy as np
import pytest

from mensura.instruments.cut_end_photo import outline_of_photograph
from mensura.instruments.drawn_photograph import spoilt_photographs
from mensura.views.kit import look
from mensura.views.kit.live import Live
from mensura.views.stills.found_outline import FoundOutlinePicture, found_on_photograph

SAW, LEAN = (spoilt_photographs()[place] for place in (4, 2))


def pictures():
    """With corrections and a scale; with marks and a pith; a wide colour photograph."""
    marked = outline_of_photograph(
        LEAN.picture, marks_cm=LEAN.marks_cm, marks_px=LEAN.marks_px, pith_px=[200, 190]
    )
    wide = np.repeat(np.pad(SAW.picture, ((0, 0), (0, 500)), constant_values=74)[..., None], 3, 2)
    return {
        "corrected": FoundOutlinePicture(
            SAW.picture, SAW.put_right(), SAW.scale_px, SAW.corrections, SAW.name
        ),
        "marks": FoundOutlinePicture(LEAN.picture, marked, LEAN.marks_px),
        "wide": FoundOutlinePicture(wide, SAW.found()),
    }


@pytest.mark.parametrize("name", ["corrected", "marks", "wide"])
def test_lettering_is_clear(letters, name) -> None:
    """Nothing overlaps, is cut off or too small, whatever the photograph's shape."""
    live = Live(pictures()[name])
    assert len(letters.lettering(live.figure)) >= 2
    assert letters.overlaps(live.figure) == []
    assert letters.cut_off(live.figure) == []
    assert letters.too_small(live.figure) == []
    live.close()


def test_the_line_is_drawn_where_it_was_found() -> None:
    """The black line's points are the outline's, closed, in the photograph's own dots."""
    picture = pictures()["marks"]
    live = Live(picture)
    axes = live.figure.axes[0]
    black = [
        one for one in axes.lines if one.get_color() == look.TRUTH and len(one.get_xdata()) > 9
    ]
    line = np.column_stack(black[0].get_data())
    assert line[:-1] == pytest.approx(np.asarray(picture.found.edge_px))
    assert tuple(line[0]) == tuple(line[-1])
    assert axes.get_xlim() == (-0.5, LEAN.picture.shape[1] - 0.5)
    assert axes.get_ylim() == (LEAN.picture.shape[0] - 0.5, -0.5)
    live.close()


def test_the_words_say_what_to_judge() -> None:
    """Where it lies, that the eye judges, scale, pieces, threshold; no figure of the stem."""
    still = found_on_photograph(SAW.picture, SAW.put_right(), SAW.scale_px, SAW.corrections)
    for words in ("by eye", "Scale at (105, 360)", "Pieces drawn by hand: 1", "Threshold"):
        assert words in still.alt
    assert "cm" not in still.alt
