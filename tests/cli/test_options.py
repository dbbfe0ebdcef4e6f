"""The commands with faulty instruments: every option reaches its fault, every refusal names it."""

from __future__ import annotations

import inspect
import math
from typing import Any

import pytest

from mensura.cli import main
from mensura.cli.options import calipers_of, lay_of, options_of, tape_of
from mensura.instruments import MATERIALS, Calipers, Lay, Tape
from mensura.instruments.fault import BAND, JAWS, LAY, READING
from mensura.instruments.faults import settings_of

STEM = ("--axes", "40x40")


@pytest.fixture
def compared(answered):
    """What `mensura compare` says of a circle of 40 cm."""
    return lambda *words: answered("compare", *STEM, *words)


def shares(found: dict[str, Any]) -> dict[str, Any]:
    return {one["fault"]: one["adds_cm"] for one in found["breakdown"]}


def test_every_fault_has_its_options() -> None:
    """No setting of a fault that the command cannot set; the band's are those of correct too."""
    options = {opt for each in main.commands["compare"].params for opt in each.opts}
    assert {one.option for one in settings_of(LAY, BAND, JAWS, READING)} <= options
    assert {one.option for one in settings_of(BAND, READING)} <= {
        opt for each in main.commands["correct"].params for opt in each.opts
    }


@pytest.mark.parametrize("kind", [LAY, BAND, JAWS, READING])
def test_starts_are_those_of_the_instruments(kind: str) -> None:
    """Options that are not given leave the instruments as they stand, and a taper is asked for."""
    for setting, option in zip(settings_of(kind), options_of(kind), strict=True):
        owner = {LAY: Lay, JAWS: Calipers}.get(kind, Tape)
        expected = inspect.signature(owner).parameters[setting.field].default
        if setting.field == "taper_cm_per_m":
            assert (option.start, expected) == (None, 0)  # asked for beside a height
        else:
            assert option.start == expected
    values = {one.name: one.start for one in options_of(LAY, BAND, JAWS, READING)}
    assert (lay_of(values), tape_of(values), calipers_of(values)) == (Lay(), Tape(), Calipers())


def test_nothing_wrong_has_no_breakdown(run, compared) -> None:
    """Sound instruments: empty lists, and no table in the text."""
    found = compared()
    assert found["breakdown"] == []
    assert [one["breakdown"] for one in found["calipers"]] == [[]] * 5
    assert "Shares depend" not in run("compare", *STEM).stdout


# what each option adds on a circle of 40 cm, by plain arithmetic (girth 40π)
GIRTH = 40 * math.pi
BY_HAND = [
    (("--slack-cm", "0.7"), "slack", 0.7),
    (("--overlap-offset-cm", "7"), "overlap", math.hypot(GIRTH, 7) - GIRTH),
    (("--press-cm", "0.1"), "pressing", -0.2 * math.pi),
    (("--height-off-m", "0.5", "--taper-cm-per-m", "2"), "height", -math.pi),
    (("--stretch-percent", "25"), "stretch", GIRTH / 1.25 - GIRTH),
    (("--shrink-percent", "20"), "shrinking", GIRTH / 0.8 - GIRTH),
    (("--worn-start-cm", "1,5"), "worn start", 1.5),
    (("--thickness-cm", "0.1"), "thickness", 0.1 * math.pi),
    (
        ("--temperature-c", "-10", "--material", "steel"),
        "temperature",
        GIRTH / (1 - 30 * 11.6e-6) - GIRTH,
    ),
    (
        ("--temperature-c", "30", "--expansion-per-c", "1e-4", "--reference-c", "25"),
        "temperature",
        GIRTH / 1.0005 - GIRTH,
    ),
    (("--pull-n", "20", "--stiffness-n", "3000"), "pull", GIRTH / 0.99 - GIRTH),
    (
        ("--pull-n", "20", "--stiffness-n", "3000", "--reference-pull-n", "10"),
        "pull",
        GIRTH / (1 + 1 / 300) - GIRTH,
    ),
    (("--resolution-cm", "0.5"), "rounding", 125.5 - GIRTH),
    (("--resolution-cm", "0.5", "--rounding", "down"), "rounding", 125.5 - GIRTH),
    (("--resolution-cm", "1", "--rounding", "down"), "rounding", 125 - GIRTH),
    # tangents from a point e off a circle of radius R, and the belt round two circles
    (
        ("--knot-cm", "1"),
        "knot",
        2 * math.sqrt(41) - 40 * math.acos(20 / 21),
    ),
    (
        ("--twist-lift-cm", "0.5"),
        "twist",
        2 * math.sqrt(20.25) - 40 * math.acos(20 / 20.5),
    ),
    (("--climber-cm", "2", "--climber-direction-deg", "200"), "climber", 126.83316 - GIRTH),
]  # fmt: skip


@pytest.mark.parametrize(("words", "fault", "adds"), BY_HAND, ids=lambda x: str(x)[:30])
def test_each_fault_of_the_tape_by_hand(compared, words, fault, adds) -> None:
    """One option, one row of the breakdown, the number that a pencil finds."""
    found = compared(*words)
    assert list(shares(found)) == [fault]
    assert shares(found)[fault] == pytest.approx(adds, abs=5e-6)
    assert found["reading_cm"] == pytest.approx(GIRTH + adds, abs=5e-6)


def test_wander_has_its_waves(compared) -> None:
    """More waves of one height are steeper, so the band is longer."""
    two, three = (
        shares(compared("--wander-cm", "5", *more))["wander"]
        for more in ((), ("--wander-waves", "3"))
    )
    assert three > 2 * two > 0


def test_breakdown_sums_to_what_the_reading_is_off(answered) -> None:
    """Thirteen faults at once: the shares add up to reading less taut girth, in their order."""
    words = "--axes 60x48 --tilt-deg 5 --tilt-direction-deg 30 --wander-cm 3 --overlap-offset-cm 1"
    words += " --slack-cm 0.2 --knot-cm 0.5 --climber-cm 2 --climber-direction-deg 80"
    words += " --stretch-percent 1.5 --shrink-percent 0.5 --worn-start-cm 0.4 --thickness-cm 0.04"
    words += " --temperature-c 35"
    words += " --material steel --pull-n 30 --stiffness-n 20000 --resolution-cm 0.1"
    found = answered("compare", *words.split())
    assert list(shares(found)) == [
        *("climber", "knot", "tilt", "wander", "overlap", "slack"),
        *("thickness", "temperature", "pull", "stretch", "shrinking", "worn start", "rounding"),
    ]
    off = found["reading_cm"] - found["taut_girth_cm"]
    assert sum(shares(found).values()) == pytest.approx(off, abs=1e-12 * found["reading_cm"])


def test_calipers_have_their_own_breakdown(compared) -> None:
    """One list for each fault, one number for each reading; they sum to what it is off."""
    words = ("--zero-error-cm", "0.2", "--jaw-lean-deg", "1", "--beam-slope-deg", "5")
    found = compared(*words, "--jaw-press-cm", "0.1", "--resolution-cm", "0.1")
    for one in found["calipers"]:
        adds = shares(one)
        assert list(adds) == ["pressing", "jaw lean", "beam slope", "zero error", "rounding"]
        assert {len(row) for row in adds.values()} == {len(one["readings_cm"])}
        for index, reading in enumerate(one["readings_cm"]):
            assert sum(row[index] for row in adds.values()) == pytest.approx(reading - 40)
    assert shares(found["calipers"][0])["zero error"] == [0.2]
    assert shares(found["calipers"][0])["pressing"] == [-0.2]
    assert shares(found["calipers"][0])["jaw lean"] == pytest.approx([-0.346], abs=5e-4)
    assert list(shares(found)) == ["rounding"]


def test_resolution_is_for_both(answered) -> None:
    """Tape and calipers are read in the same steps."""
    found = answered("compare", "--axes", "60.3x48", "--resolution-cm", "0.5", "--rounding", "down")
    assert found["reading_cm"] % 0.5 == 0
    assert found["calipers"][1]["readings_cm"] == [60.0, 48.0]


def test_pressing_of_band_and_of_jaws_are_two_options(compared) -> None:
    """The band's pressing leaves the calipers alone, and theirs the tape."""
    band, jaws = compared("--press-cm", "0.5"), compared("--jaw-press-cm", "0.5")
    assert (list(shares(band)), shares(band["calipers"][0])) == (["pressing"], {})
    assert (shares(jaws), list(shares(jaws["calipers"][0]))) == ({}, ["pressing"])


def test_the_table_of_faults(run) -> None:
    """The text tells every share, that their sum alone is certain, and that faults are assumed."""
    words = ("--slack-cm", "0.7", "--stretch-percent", "2", "--zero-error-cm", "-0.3")
    text = run("compare", *STEM, *words).stdout
    rows = [line.split() for line in text.splitlines()]
    assert ["taut", "girth", "125.6637"] in rows
    assert ["slack", "+0.7000"] in rows
    assert ["stretch", "-2.4777"] in rows
    assert ["reading", "123.8860"] in rows
    assert rows.count(["zero", "error", "-0.3000"]) == 2
    flat = " ".join(text.split())
    assert "(section, height, lay, condition, resolution); their sum does not." in flat
    assert "sound instruments" not in flat
    assert "no fault but those below" in flat
    assert max(map(len, text.splitlines())) <= 80


def test_help_groups_the_options(run) -> None:
    """Options stand under what they describe."""
    text = run("compare", "--help").stdout
    headings = ["Options:", "How the tape lies:", "The band's condition:", "The calipers' faults:"]
    places = [text.index(heading) for heading in [*headings, "Readings are rounded:"]]
    assert places == sorted(places)
    assert places[1] < text.index("--wander-cm") < places[2] < text.index("--pull-n") < places[3]


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("--thickness-cm -0.1", "--thickness-cm is -0.1 cm; expected a finite number at least 0"),
        ("--slack-cm -1", "--slack-cm is -1 cm; expected a finite number at least 0"),
        ("--climber-cm -1", "--climber-cm is -1 cm; expected a finite number at least 0"),
        ("--worn-start-cm -1", "--worn-start-cm is -1 cm; expected a finite number at least 0"),
        ("--resolution-cm -1", "--resolution-cm is -1 cm; expected a finite number at least 0"),
        (
            "--stretch-percent -2",
            "--stretch-percent is -2 %; expected a finite number at least 0",
        ),
        ("--tilt-deg 90", "--tilt-deg is 90 deg; expected a finite number above -90 and below 90"),
        ("--jaw-lean-deg 90", "--jaw-lean-deg is 90 deg; expected a finite number above -90 and"),
        ("--beam-slope-deg -91", "--beam-slope-deg is -91 deg; expected a finite number above -90"),
        ("--press-cm 20", "--press-cm is 20 cm; expected less than the stem's radius."),
        ("--jaw-press-cm 20", "--jaw-press-cm is 20 cm; expected less than half the stem."),
        ("--jaw-press-cm -1", "--jaw-press-cm is -1 cm; expected a finite number at least 0"),
        ("--opening-cm 39.9", "--opening-cm is 39.9 cm; expected calipers that open to 40 cm."),
        (
            "--opening-cm 40 --beam-slope-deg 1",
            "--opening-cm is 40 cm; expected calipers that open to 40.01 cm.",
        ),
        ("--opening-cm 0", "--opening-cm is 0 cm; expected a finite number above 0"),
        ("--zero-error-cm -40", "a reading of calipers with these faults is 0 cm; expected"),
        ("--rounding up", "--rounding is 'up'; expected one of: nearest, down."),
        ("--wander-waves 2.5", "--wander-waves is '2.5'; expected a whole number from 1 to 50."),
        ("--wander-waves 51", "--wander-waves is 51; expected a whole number from 1 to 50."),
        ("--wander-waves 0", "--wander-waves is 0; expected a whole number from 1 to 50."),
        ("--height-off-m 0.2", "--taper-cm-per-m is missing; expected a taper beside --height-off"),
        (
            "--height-off-m 41 --taper-cm-per-m 1",
            "--height-off-m is 41 m; expected a height at which this taper leaves some stem.",
        ),
        (
            "--temperature-c 30",
            "--material is missing; expected a material, or --expansion-per-c, beside",
        ),
        (
            "--temperature-c 30 --material cloth",
            "--expansion-per-c is missing; expected a number: no source gives one for cloth.",
        ),
        (
            "--temperature-c 201 --material steel",
            "--temperature-c is 201 °C; expected a finite number at least -90 and at most 200 °C.",
        ),
        ("--pull-n 30", "--stiffness-n is missing; expected a number above 0, beside a pull."),
        ("--pull-n 30 --stiffness-n 0", "--stiffness-n is 0 N; expected a finite number above 0"),
        (
            "--pull-n 0 --stiffness-n 40",
            "--pull-n is 0 N; expected a pull that this stiffness can bear.",
        ),
        ("--pull-n hard", "--pull-n is 'hard'; expected a finite number in N."),
        (
            "--resolution-cm 100 --rounding down",
            "a reading of calipers with these faults is 0 cm; expected readings above 0 cm.",
        ),
    ],
)
def test_impossible_states_are_refused_by_option_and_bound(
    refused, words: str, sentence: str
) -> None:
    assert refused("compare", *STEM, *words.split()).startswith(sentence)


def test_an_unknown_material_is_shown_the_list(refused) -> None:
    """The refusal names each material there is."""
    sentence = refused("compare", *STEM, "--material", "wool", "--temperature-c", "3")
    assert sentence == f"--material is 'wool'; expected one of: {', '.join(MATERIALS)}."
    assert refused("correct", "--reading-cm", "9", "--material", "wool") == sentence


def test_an_unknown_option_is_shown_those_spelt_like_it(refused) -> None:
    """Thirty options are too many for one sentence."""
    near = refused("compare", *STEM, "--slack", "3")
    assert near == "there is no option '--slack' here; did you mean --slack-cm?"
    far = refused("compare", *STEM, "--quux", "3")
    assert far == "there is no option '--quux' here; expected one that --help lists."
