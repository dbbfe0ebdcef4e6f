"""The command `mensura place`: its figures in closed form, its words, and what it refuses."""

from __future__ import annotations

from math import cos, pi, radians, tan
from typing import Any

import pytest
from scipy.special import ellipe

from mensura.estimates.place_said import UNSOURCED
from mensura.stems import belt_cm

FORKED = ["--diameter-cm", "40", "--fork-at-m", "1.1", "--leg-diameters-cm", "25x22"]
LEANING = ["--diameter-cm", "40", "--lean-deg", "10"]
SLOPE = ["--diameter-cm", "40", "--slope-deg", "20", "--taper-cm-per-m", "1"]


def cost(answer: dict[str, Any], way: str) -> float:
    """Of one way to ignore a rule."""
    (found,) = [one["cost_percent"] for one in answer["rules"] if one["cost_key"] == way]
    return float(found)


def test_a_leaning_stem_in_closed_form(answered) -> None:
    """Level band by the complete elliptic integral, level calipers D/cos λ and D, to 1e-6."""
    answer = answered("place", *LEANING)
    wide = 40 / cos(radians(10))
    band = 2 * wide * ellipe(1 - (40 / wide) ** 2)
    assert answer["girth_cm"] == pytest.approx(40 * pi, abs=1e-6)
    assert answer["level_band_cm"] == pytest.approx(band, abs=1e-6)
    assert answer["level_caliper_in_lean_cm"] == pytest.approx(wide, abs=1e-6)
    assert answer["level_caliper_across_cm"] == pytest.approx(40, abs=1e-6)
    assert cost(answer, "level-band") == pytest.approx(100 * ((band / pi / 40) ** 2 - 1), abs=1e-6)
    assert round(cost(answer, "level-band"), 3) == 1.552


def test_a_fork_in_closed_form(answered) -> None:
    """A list of girths; the taut belt round both legs; calipers over both and the gap."""
    answer = answered("place", *FORKED, "--leg-gap-cm", "3")
    belt = belt_cm(25.0, 22.0, 3.0)
    assert answer["girth_cm"] == pytest.approx([25 * pi, 22 * pi], abs=1e-6)
    assert answer["level_band_cm"] == pytest.approx(belt, abs=1e-6)
    assert answer["level_caliper_in_lean_cm"] == pytest.approx(50, abs=1e-6)
    assert answer["level_caliper_across_cm"] == pytest.approx(25, abs=1e-6)
    wanted = 100 * ((belt / pi) ** 2 / (25**2 + 22**2) - 1)
    assert cost(answer, "two-as-one") == pytest.approx(wanted, abs=1e-6)


def test_a_slope_costs_its_side(answered) -> None:
    """+0.729 % downhill instead of uphill, whichever side was asked for."""
    wanted = 100 * ((1 + 0.4 * tan(radians(20)) / 40) ** 2 - 1)
    for side in ([], ["--side", "uphill"], ["--side", "Downhill"], ["--side", "middle"]):
        answer = answered("place", *SLOPE, *side)
        assert cost(answer, "downhill") == pytest.approx(wanted, abs=1e-6)
    assert round(wanted, 3) == 0.729


def test_a_height_on_a_side_is_where_the_level_figures_are(answered) -> None:
    """1.37 m from below the slope, on a stem that thins by 1 cm a metre; the girth stays."""
    answer = answered("place", *SLOPE, "--side", "downhill", "--height-m", "1.37")
    across = 40 - (0.07 - 0.4 * tan(radians(20)))
    assert answer["level_band_cm"] == pytest.approx(pi * across, abs=1e-6)
    assert answer["girth_cm"] == pytest.approx(40 * pi, abs=1e-6)
    assert answer["over_percent"] == pytest.approx(100 * ((across / 40) ** 2 - 1), abs=1e-6)


def test_plumb_is_higher_than_along(answered) -> None:
    """1.30 m told upright on a stem that leans by 20°: 8.34 cm farther up it."""
    words = ["--diameter-cm", "40", "--lean-deg", "20", "--taper-cm-per-m", "2"]
    along, upright = (answered("place", *words, *more)["band_cm"] for more in ([], ["--plumb"]))
    assert along - upright == pytest.approx(2 * pi * 1.3 * (1 / cos(radians(20)) - 1), abs=1e-9)


def test_a_swelling_costs_its_square(answered) -> None:
    """8 % at breast height are 16.64 %; the level band there reads it, the girth does not."""
    answer = answered("place", "--diameter-cm", "40", "--swelling-percent", "8")
    assert cost(answer, "swelling") == pytest.approx(16.64, abs=1e-9)
    assert answer["level_band_cm"] == pytest.approx(43.2 * pi, abs=1e-9)
    assert answer["girth_cm"] == pytest.approx(40 * pi, abs=1e-9)


def test_another_breast_height_is_a_setting(answered) -> None:
    """The place, and a fork between both heights."""
    words = ["--diameter-cm", "40", "--fork-at-m", "1.35", "--leg-diameters-cm", "25x22"]
    at = {
        height: answered("place", *words, "--breast-height-m", height) for height in ("1.3", "1.37")
    }
    assert isinstance(at["1.3"]["girth_cm"], float)
    assert isinstance(at["1.37"]["girth_cm"], list)
    assert at["1.37"]["place"].startswith("1.37 m along the stem")


def test_every_rule_has_its_parts(answered) -> None:
    """Rule, source or its mark, place and cost, the dearest first; cautions and disagreements."""
    answer = answered("place", *SLOPE, "--lean-deg", "10", "--litter-cm", "5", "--climber-cm", "2")
    for one in answer["rules"]:
        assert {"rule", "source", "place", "cost_percent"} <= set(one)
        assert one["source"] == UNSOURCED or ":" in one["source"]
    sizes = [abs(one["cost_percent"]) for one in answer["rules"]]
    assert sizes == sorted(sizes, reverse=True)
    assert "licensed" in answer["cautions"][-1]
    assert any("hung up" in one for one in answer["cautions"])
    assert all(len(one["views"]) > 1 for one in answer["disagreements"])


def test_the_screen_says_the_same(run, answered) -> None:
    """Place and caution first, costs with their signs, sources in short, no line too long."""
    words = [*SLOPE, "--lean-deg", "10", "--side", "downhill", "--moss-cm", "0.5"]
    told, answer = run("place", *words).stdout, answered("place", *words)
    lines = told.splitlines()
    assert lines[0].startswith("Measure here: 1.30 m along the stem from the ground on the uphill")
    assert max(map(len, lines)) <= 80
    for one in answer["rules"]:
        written = f"{one['cost_percent']:+.3f}".replace("-", "−")
        assert any(line.lstrip().startswith((written, "0.000")) for line in lines)
        assert one["ignored"][:40] in told
    caution = next(i for i, line in enumerate(lines) if line.startswith("Caution:"))
    assert caution < next(i for i, line in enumerate(lines) if "level band" in line)
    assert "Luoma and others 2017" in told
    assert "from memory" not in told


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ([], "--diameter-cm is missing; expected a diameter in cm, as in 40."),
        (["40"], "'40' was not understood; did you mean --diameter-cm 40?"),
        ([*LEANING[:3], "90"], "--lean-deg is 90 deg; expected a finite number at least 0 and"),
        ([*LEANING, "--height-m", "-1"], "--height-m is -1 m; expected a finite number at least 0"),
        (
            ["--diameter-cm", "40", "--fork-at-m=-0.1", "--leg-diameters-cm", "25x22"],
            "--fork-at-m is -0.1 m; expected a finite number at least 0 and at most 60 m.",
        ),
        (
            [*FORKED[:5], "41x22"],
            "--leg-diameters-cm is 41 cm; expected at most the stem's own diameter below the fork, "
            "40 cm.",
        ),
        ([*FORKED[:5], "25"], "--leg-diameters-cm is '25'; expected two diameters in cm like"),
        ([*FORKED[:5], "25 22"], "--leg-diameters-cm is '25 22'; did you mean 25x22?"),
        ([*FORKED[:5], "oakx22"], "--leg-diameters-cm, first diameter, is 'oak'; expected a"),
        (FORKED[:4], "--leg-diameters-cm is missing; expected two diameters beside a fork."),
        (
            [*FORKED[:2], *FORKED[4:]],
            "--fork-at-m is missing; expected a height in m beside two legs.",
        ),
        ([*LEANING, "--slope-deg", "steep"], "--slope-deg is 'steep'; expected a finite number in"),
        (
            [*LEANING, "--breast-height-m", "3.1"],
            "--breast-height-m is 3.1 m; expected a finite number above 0 and at most 3 m.",
        ),
        ([*LEANING, "--side", "uphil"], "--side is 'uphil'; did you mean uphill?"),
        ([*LEANING, "--lean-towards", "left"], "--lean-towards is 'left'; expected one of: "),
        ([*LEANING, "--height-m", "130 cm"], "--height-m is '130 cm'; did you mean 1.3 m?"),
        (
            [*LEANING, "--taper-cm-per-m", "20", "--height-m", "9"],
            "--height-m is 9 m; expected a height at which the taper leaves a stem.",
        ),
        ([*LEANING[:3], "89.9"], "--lean-deg, the level cut that it makes, is 22918.3"),
    ],
    ids=lambda one: " ".join(one) if isinstance(one, list) else "",
)
def test_refusals_name_the_option(refused, words: list[str], sentence: str) -> None:
    assert refused("place", *words).startswith(sentence)
