"""The panel with all faults: its sums by the instruments alone, its bars where they belong."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from mensura.instruments.calipers import Calipers
from mensura.instruments.fault import INSTRUMENTS
from mensura.instruments.faults import FAULTS, faults_of
from mensura.instruments.lay import Lay
from mensura.instruments.tape import Tape
from mensura.views.chapters.all_faults import (
    ALL_FAULTS_PANEL,
    BAND_OF,
    CALIPER_DIRECTION_DEG,
    CALIPER_FAULTS,
    CONTROLS,
    SOUND,
    STEM,
    TAPE_FAULTS,
    AllFaults,
    AllFaultsPicture,
    numbers,
    readout,
    status,
)
from mensura.views.kit.live import Live
from mensura.views.kit.panel import LivePanel

START = ALL_FAULTS_PANEL.start()
#: All that raises a reading, and all that lowers it, as far as the controls go.
UP = {c.name: c.greatest for c in CONTROLS} | {
    "height_off_m": -0.5,
    "temperature_c": -20.0,
    "stretch_percent": 0.0,
    "jaw_lean_deg": -3.0,
    **dict.fromkeys(("pull_n", "press_cm", "jaw_press_cm"), 0.0),
}
DOWN = {c.name: c.least for c in CONTROLS} | {
    "height_off_m": 0.5,
    "temperature_c": 60.0,
    "stretch_percent": 2.0,
    "shrink_percent": 0.0,
    "jaw_lean_deg": 3.0,
    "pull_n": 150.0,
    **dict.fromkeys(("press_cm", "jaw_press_cm"), 0.5),
    "resolution_cm": 2.0,
}
ENDS = [START | {c.name: end} for c in CONTROLS for end in (c.least, c.greatest)]
STATES = [START, SOUND, UP, DOWN, *ENDS]


@pytest.fixture(scope="module")
def live() -> Live[AllFaults]:
    return Live(AllFaultsPicture())


def test_all_means_all() -> None:
    """A control and a bar for every fault there is; each starts away from soundness."""
    for instrument, shown in (("tape", TAPE_FAULTS), ("calipers", CALIPER_FAULTS)):
        assert list(shown) == [one.key for one in faults_of(*INSTRUMENTS[instrument])]
    assert len(CONTROLS) == len(FAULTS)
    groups = [c.group for c in CONTROLS]
    assert [groups.count(name) for name in dict.fromkeys(groups)] == [9, 6, 4, 1]
    for control in CONTROLS:
        assert control.least < control.start < control.greatest
        assert control.least <= SOUND[control.name] <= control.greatest
        assert control.start != SOUND[control.name]
        assert control.unit


def test_sound_instruments_add_nothing() -> None:
    """All controls at soundness: no share, and the tape's own excess for an oval remains."""
    shown = numbers(**SOUND)
    assert not shown.adds_cm.any()
    assert not shown.caliper_adds_cm.any()
    assert shown.result.reading_cm == shown.result.taut_girth_cm
    girth = shown.result.taut_girth_cm
    over = 100 * (girth**2 / (4 * math.pi) / (math.pi / 4 * 42 * 38) - 1)
    assert shown.result.tape_over_percent == pytest.approx(over)


@pytest.mark.parametrize("state", STATES)
def test_shares_sum_to_the_reading(state: dict[str, float]) -> None:
    """The running sums start at nothing and end at what the instruments read."""
    shown = numbers(**state)
    result = shown.result
    assert shown.sums_cm[0] == 0
    assert np.diff(shown.sums_cm) == pytest.approx(shown.adds_cm)
    assert result.taut_girth_cm + shown.sums_cm[-1] == pytest.approx(result.reading_cm)
    one = result.calipers[0].readings_cm[0]
    assert shown.width_cm + shown.caliper_sums_cm[-1] == pytest.approx(one)
    # nothing that the instruments name is left out of the rows
    assert set(result.breakdown) <= set(TAPE_FAULTS)
    assert set(result.calipers[0].breakdown) <= set(CALIPER_FAULTS)


#: Each control alone, its share by plain arithmetic where there is some, on a girth G.
ALONE = {
    "height_off_m": ("height", lambda g, x: -g / (g / math.pi) * x),
    "slack_cm": ("slack", lambda g, x: x),
    "thickness_mm": ("thickness", lambda g, x: math.pi * x / 10),
    "temperature_c": (
        "temperature",
        lambda g, x: g / (1 + BAND_OF.expansion_per_c * (x - 20)) - g,
    ),
    "stretch_percent": ("stretch", lambda g, x: g / (1 + x / 100) - g),
    "shrink_percent": ("shrinking", lambda g, x: g / (1 - x / 100) - g),
    "worn_start_cm": ("worn start", lambda g, x: x),
    "press_cm": ("pressing", lambda g, x: -2 * math.pi * x),
    "overlap_offset_cm": ("overlap", lambda g, x: math.hypot(g, x) - g),
    "pull_n": ("pull", lambda g, x: g / (1 + (x - 50) / 25e3) - g),
    "knot_cm": (
        "knot",
        lambda g, x: (
            2 * math.sqrt(g / math.pi * x + x * x)
            - g / math.pi * math.acos(1 / (1 + 2 * math.pi * x / g))
        ),
    ),
}


@pytest.mark.parametrize("name", ALONE)
def test_each_share_by_hand(name: str) -> None:
    """One fault alone adds what its rule says: 1 cm of diameter a metre is π cm of girth."""
    row, rule = ALONE[name]
    shown = numbers(**SOUND | {name: START[name]})
    at = list(TAPE_FAULTS).index(row)
    assert shown.adds_cm[at] == pytest.approx(rule(shown.result.taut_girth_cm, START[name]))
    assert np.count_nonzero(shown.adds_cm) == 1


def test_the_state_reaches_the_instruments() -> None:
    """The same numbers as a tape and calipers set by hand."""
    shown = numbers(**START)
    lay = Lay(
        height_off_m=-0.3, taper_cm_per_m=1.0, press_cm=0.1, climber_cm=1.5,
        climber_direction_deg=120, knot_cm=1, twist_lift_cm=0.6, tilt_deg=6, tilt_direction_deg=30,
        wander_cm=3.0, wander_waves=2, overlap_offset_cm=4, slack_cm=0.8,
    )  # fmt: skip
    tape = Tape(
        thickness_cm=0.04, temperature_c=45, expansion_per_c=36e-6, pull_n=90, stiffness_n=25e3,
        stretch_percent=1, shrink_percent=0.2, worn_start_cm=0.5, resolution_cm=0.5,
    )  # fmt: skip
    assert shown.result.reading_cm == pytest.approx(tape.read(STEM, lay).reading_cm)
    calipers = Calipers(
        press_cm=0.1, jaw_lean_deg=1.5, beam_slope_deg=8, zero_error_cm=0.3, resolution_cm=0.5
    )
    read = calipers.read(STEM, CALIPER_DIRECTION_DEG)
    assert shown.result.calipers[0].readings_cm == pytest.approx(read)


@pytest.mark.parametrize("state", STATES)
def test_bars_stand_where_the_numbers_are(live: Live[AllFaults], state: dict[str, float]) -> None:
    """Each bar goes from one running sum to the next; filled means more; all within the axes."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    for drawn, sums, limits in (
        (picture.girth, shown.sums_cm, picture.GIRTH_CM),
        (picture.width, shown.caliper_sums_cm, picture.WIDTH_CM),
    ):
        paths = drawn.bars.get_paths()
        assert len(paths) == len(sums) - 1
        for row, path in enumerate(paths, 1):
            x = path.vertices[:, 0]
            assert sorted((x.min(), x.max())) == pytest.approx(sorted(sums[row - 1 : row + 1]))
            assert path.vertices[:, 1].mean() == pytest.approx(row, abs=0.2)
        filled = drawn.bars.get_facecolor()[:, :3].mean(axis=1) < 0.99
        rises = np.diff(sums) >= 0
        assert (filled == rises).all()
        assert limits[0] < sums.min()
        assert sums.max() < limits[1]
    assert picture.read.get_xdata()[0] == shown.sums_cm[-1]
    overs = [shown.result.level_over_percent, shown.result.tape_over_percent]
    overs += [one.over_percent for one in shown.result.calipers]
    stalks, ends = picture.areas
    assert ends.get_offsets()[:, 0] == pytest.approx(overs)
    assert [segment[1][0] for segment in stalks.get_segments()] == pytest.approx(overs)
    assert picture.AREA_PERCENT[0] < min(overs)
    assert max(overs) < picture.AREA_PERCENT[1]


@pytest.mark.parametrize("state", [UP, DOWN, START])
def test_bars_keep_clear_of_the_key(live: Live[AllFaults], state: dict[str, float]) -> None:
    """No bar runs through the words of the key."""
    live.paint(numbers(**state))
    picture = live.picture
    renderer = live.figure.canvas.get_renderer()
    axes = picture.verdict.axes
    words = [t for t in axes.texts if t.get_text().startswith("too ")]
    assert len(words) == 2
    for path in picture.girth.bars.get_paths():
        box = axes.transData.transform(path.vertices)
        for word in words:
            w = word.get_window_extent(renderer)
            apart = box[:, 0].max() < w.x0 or box[:, 1].max() < w.y0 or box[:, 1].min() > w.y1
            assert apart


def test_words_carry_the_present_numbers() -> None:
    """Alternative text, status and tables speak of the state, and of the order of the shares."""
    shown = numbers(**SOUND | {"slack_cm": 1.5, "zero_error_cm": 0.25})
    alt = AllFaultsPicture().describe(shown)
    for part in ("125.74 cm", "127.24 cm", "slack +1.50", "tilt 0.00", "zero error +0.25"):
        assert part in alt
    assert "Largest share: slack, +1.50 cm." in status(shown)
    assert "No fault of lay or band is set." in status(numbers(**SOUND))
    table = readout(shown)
    assert re.search(r"slack</th><td>\+1\.50</td><td>127\.24", table)
    for words in ("section, height, lay, condition", "depends on that order", "sum does not"):
        assert words in table
    rows = list(TAPE_FAULTS)
    places = [table.index(f">{row}<") for row in rows]
    assert places == sorted(places)


def test_shares_depend_on_the_order() -> None:
    """What the sentence says: the same stretch takes more off a longer way."""
    alone = numbers(**SOUND | {"stretch_percent": 1.0})
    after = numbers(**SOUND | {"stretch_percent": 1.0, "slack_cm": 2.0})
    at = list(TAPE_FAULTS).index("stretch")
    assert after.adds_cm[at] < alone.adds_cm[at] - 0.01


def test_two_that_cancel() -> None:
    """Two faults cancel to a millimetre."""
    cancel = numbers(**START | ALL_FAULTS_PANEL.presets["Two that cancel"])
    assert abs(cancel.sums_cm[-1]) < 0.1
    assert np.abs(cancel.adds_cm).max() > 1


def test_a_live_panel_answers() -> None:
    """Setting a control sends another picture, other words and the compact rows."""
    panel = LivePanel(ALL_FAULTS_PANEL)
    before = panel.image.whole()
    panel.boxes["slack_cm"].value = "1.6"
    assert panel.image.whole() != before
    assert "slack +1.60" in panel.image.alt
    assert "mensura-all-faults" in panel.words.value
