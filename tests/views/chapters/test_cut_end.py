"""The cut-end panel as it is drawn: marks where its numbers are, scales that hold all curves."""

from __future__ import annotations

import numpy as np
import pytest

from mensura.estimates.cut_end import cut_end
from mensura.stems import Outline
from mensura.teaching.panels.cut_end import DISCS, PRACTICE_NAMES, numbers
from mensura.views.chapters.cut_end import CUT_END_PANEL as PANEL
from mensura.views.chapters.cut_end import CutEndPicture, readout, status
from mensura.views.kit.live import Live
from mensura.views.stills.cut_end import cut_end_chart
from mensura.views.stills.direction_chart import scale_percent
from mensura.written import signed


@pytest.mark.parametrize("disc", DISCS)
@pytest.mark.parametrize("practice", PRACTICE_NAMES)
def test_the_dot_lies_on_its_own_curve_and_no_curve_leaves_its_chart(
    disc: str, practice: str
) -> None:
    """At the direction that is set; the scale holds truth, tape and every practice."""
    picture = CutEndPicture()
    live = Live(picture)
    shown = numbers(disc, practice, 61)
    picture.show(shown)
    chart = picture.charts[0 if shown.practice == "one" else 1]
    first, last, _ = chart.scale
    assert first <= min(0.0, shown.now_percent) <= max(0.0, shown.now_percent) <= last
    _, low, _, high = chart.box_px
    at = low + (shown.now_percent - first) / (last - first) * high
    assert picture.dot.get_ydata()[0] == pytest.approx(at)
    assert picture.dot.get_xdata()[0] == pytest.approx(float(chart.x_px(61)))
    for one in picture.charts:
        rows = [row for row in shown.disc.cut.calipers if row.practice in one.practices]
        assert all(one.scale[0] <= row.least_over_percent for row in rows)
        assert all(row.most_over_percent <= one.scale[1] for row in rows)
        tape = (shown.disc.cut.tape_over_percent - one.scale[0]) / (one.scale[1] - one.scale[0])
        assert one.tape.get_ydata()[0] == pytest.approx(one.box_px[1] + tape * one.box_px[3])
    live.close()


@pytest.mark.parametrize("seed", range(40))
def test_scales_hold_their_ends_with_few_lines(seed: int) -> None:
    draws = np.random.default_rng(seed)
    least, most = np.sort(draws.normal(0, 10.0 ** draws.uniform(-2, 3), 2))
    first, last, step = scale_percent(float(least), float(most))
    assert first <= min(least, 0.0) + 1e-9
    assert last >= max(most, 0.0) - 1e-9
    assert 1 <= round((last - first) / step) <= 6
    assert (first / step) == pytest.approx(round(first / step))


def test_words_tell_the_numbers() -> None:
    """Tape and calipers as the panel has them, in the sentence and in the table."""
    shown = PANEL.numbers(**PANEL.start())
    tape, now = signed(shown.disc.cut.tape_over_percent), signed(shown.now_percent)
    assert f"{now} %" in status(shown)
    assert f"Tape: {tape} %. Now the tape is nearer." in status(shown)
    said = readout(shown)
    assert tape in said
    assert now in said
    assert "hollows that it spans" in said
    assert "licensed scalers come first" in said
    assert "Bark is" in readout(numbers("disc 17, thick bark", "one reading", 3))


def test_a_still_of_any_size_of_cut() -> None:
    """A matchstick's and a veteran's section: the same picture, its own scales and words."""
    small, large = (
        cut_end_chart(cut_end(Outline(np.array([[0, 0], [3, 0], [3, 2], [0, 2.5]]) * times)))
        for times in (0.1, 300)
    )
    assert "longest" in small.alt
    assert small.alt != large.alt
    assert "1 cm" not in large.svg
    assert small.png[:4] == large.png[:4] == b"\x89PNG"
