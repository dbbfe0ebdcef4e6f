"""The budget panel: its bars and its piece of tape are to scale; its words say what it shows."""

from __future__ import annotations

import re

import numpy as np
import pytest

from mensura.teaching.panels.budget import CONTROLS, NAMES
from mensura.views.chapters.budget import (
    BUDGET_PANEL,
    BudgetPicture,
    averaging,
    readout,
    status,
    verdict,
)
from mensura.views.kit.live import Live
from mensura.written import digits_of

START = BUDGET_PANEL.start()
STATES = [
    START,
    *(START | {one.name: end} for one in CONTROLS for end in one.ends),
    {one.name: one.least for one in CONTROLS},
    {one.name: one.greatest for one in CONTROLS},
]


@pytest.fixture(scope="module")
def picture() -> BudgetPicture:
    made = BudgetPicture()
    Live(made)
    return made


@pytest.mark.parametrize("state", STATES)
def test_bars_are_to_one_scale(picture: BudgetPicture, state) -> None:
    """All bars start at one line and are as long as they are told, none beyond the scale; their
    squares add up to the last one's."""
    numbers = BUDGET_PANEL.numbers(**state)
    picture.show(numbers)
    left, _, wide, _ = picture.BARS_PX
    lines = np.array(picture.bars.get_segments())
    lengths = np.ptp(lines[:, :, 0], axis=1)
    assert lines[:, 0, 0] == pytest.approx(left)
    assert lengths.max() <= wide + 1e-9
    assert (lengths[:-1] ** 2).sum() == pytest.approx(lengths[-1] ** 2)
    scale = lengths[-1] / numbers.law.u
    assert lengths[:-1] == pytest.approx([scale * numbers.contributions_cm[n] for n in NAMES])


@pytest.mark.parametrize("state", STATES)
def test_the_tape_is_to_scale(picture: BudgetPicture, state) -> None:
    """Reading, mean and both intervals lie on the piece of tape, where its marks say."""
    n = BUDGET_PANEL.numbers(**state)
    picture.show(n)
    left, wide = picture.TAPE_PX
    girth, law = n.figures["girth_cm"], n.law
    (draws, by_law), read = picture.ways.get_segments(), picture.read.get_xdata()[0]
    value = picture.value.get_xdata()[0]
    known = [*girth.interval, law.value - law.expanded, law.value + law.expanded]
    known += [n.girth_cm, girth.value]
    seen = [draws[0][0], draws[1][0], by_law[0][0], by_law[1][0], read, value]
    assert min(seen) >= left
    assert max(seen) <= left + wide
    slope, start = np.polyfit(known, seen, 1)
    assert np.polyval([slope, start], known) == pytest.approx(seen, abs=0.01)
    marks = picture.marks.get_xdata()[::3]
    places = (np.array(marks) - start) / slope
    assert len(marks) >= 3
    assert places * 10 == pytest.approx(np.round(places * 10), abs=0.01)


def test_words_say_what_is_shown() -> None:
    """Status, table and text of the picture have the same interval."""
    n = BUDGET_PANEL.numbers(**START)
    low, high = (f"{end:.2f}" for end in n.figures["girth_cm"].interval)
    for text in (status(n), readout(n), BudgetPicture().describe(n)):
        assert low in text
        assert high in text
    most = max(NAMES, key=lambda name: n.contributions_cm[name])
    assert f"{NAMES[most]}'s, {n.shares_percent[most]:.0f} %" in status(n)
    assert len(re.findall("<tr>", readout(n))) == 4


def test_presets_do_not_pile_up() -> None:
    """Each sets every control; ten readings are ten, and all else is as at the start."""
    for state in BUDGET_PANEL.presets.values():
        assert set(state) == set(START)
    ten = BUDGET_PANEL.presets["Ten readings"]
    assert {name for name in START if START[name] != ten[name]} == {"readings"}
    before, after = BUDGET_PANEL.numbers(**START), BUDGET_PANEL.numbers(**ten)
    smaller = {n for n in NAMES if after.contributions_cm[n] < 0.9 * before.contributions_cm[n]}
    assert smaller == {"hand", "resolution"}


def test_the_steps_two_parts_are_told() -> None:
    """In centimetres, their squares together the bar's; one reading has no two parts."""
    n = BUDGET_PANEL.numbers(**START | {"readings": 10, "hand_cm": 0.1})
    stays, averages = (float(one) for one in re.findall(r"(\d\.\d{3}) cm", averaging(n)))
    assert stays**2 + averages**2 == pytest.approx(n.contributions_cm["resolution"] ** 2, abs=1e-3)
    assert stays > averages > 0
    still = BUDGET_PANEL.numbers(**START | {"readings": 10, "hand_cm": 0.0})
    assert "nothing gets smaller" in averaging(still)
    assert "one reading" in averaging(BUDGET_PANEL.numbers(**START | {"readings": 1}))


def test_the_verdict_of_each_preset() -> None:
    """A steep slope pulls the two ways apart, a level tape read to the mm does not; at the start
    the few draws cannot tell. Picture, text of the picture and table say the same."""
    words = {
        "On a steep slope": ("does not agree", "take them"),
        "Read to the mm": ("agrees", "It agrees"),
        "As a class reads": ("too close to tell", "with so few draws"),
    }
    picture = BudgetPicture()
    Live(picture)
    for name, (short, long) in words.items():
        n = BUDGET_PANEL.numbers(**BUDGET_PANEL.presets[name])
        picture.show(n)
        assert picture.law_word.get_text().endswith(short)
        assert picture.describe(n).endswith(f" cm: {short}.")
        assert long in verdict(n)
        assert verdict(n) in readout(n)


def test_two_figures_of_u() -> None:
    """As many digits as show two of them, whatever its size."""
    assert [digits_of(u) for u in (0.0123, 0.0996, 0.999, 9.99, 99.9, 380.0)] == [3, 2, 1, 0, 0, 0]
