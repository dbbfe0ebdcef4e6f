"""`mensura compare`: right numbers out, a table that can be read, and what it refuses."""

from __future__ import annotations

import math

import pytest


def test_json_has_exactly_these_keys(compared) -> None:
    answer = compared("--axes", "60x48")
    assert list(answer) == [
        "true_area_cm2",
        "taut_girth_cm",
        "reading_cm",
        "tape_area_cm2",
        "tape_over_percent",
        "classroom_over_percent",
        "breakdown",
        "calipers",
        "mensura_version",
        "inputs",
    ]
    assert [one["practice"] for one in answer["calipers"]] == [
        "one",
        "two-arithmetic",
        "two-geometric",
        "two-quadratic",
        "many-arithmetic",
    ]
    for one in answer["calipers"]:
        assert list(one) == [
            "practice",
            "directions_deg",
            "readings_cm",
            "area_cm2",
            "over_percent",
            "breakdown",
        ]
    assert [len(one["readings_cm"]) for one in answer["calipers"]] == [1, 2, 2, 2, 18]


def test_numbers_agree_with_a_published_perimeter_and_closed_forms(compared) -> None:
    # an ellipse with half-axes 2 and 1 has the perimeter 8·E(3/4) = 9.688448 [AS1964, table 17.1]
    answer = compared("--axes", "40x20")
    assert answer["taut_girth_cm"] == pytest.approx(96.88448, abs=5e-6)
    assert answer["true_area_cm2"] == pytest.approx(200 * math.pi, rel=1e-12)
    assert answer["classroom_over_percent"] == pytest.approx(25.0, rel=1e-12)  # (1 − r)²/2r
    # a plane tilted by 60° cuts a round stem in an ellipse twice as long as wide
    tilted = compared("--axes", "40x40", "--tilt-deg", "60", "--tilt-direction-deg", "123")
    assert tilted["reading_cm"] == pytest.approx(2 * 96.88448, abs=1e-5)
    assert tilted["taut_girth_cm"] == pytest.approx(40 * math.pi, rel=1e-12)
    # turned by 45°, both widths are the quadratic mean of the axes
    turned = compared("--axes", "60x48", "--caliper-direction-deg", "45")
    assert turned["calipers"][1]["readings_cm"] == pytest.approx([math.sqrt(2952)] * 2, rel=1e-12)
    assert turned["calipers"][1]["directions_deg"] == [45.0, 135.0]


def test_the_table_can_be_read_on_a_projector(run) -> None:
    text = run("compare", "--axes", "60x48").stdout
    assert max(len(line) for line in text.splitlines()) <= 80
    rows = [line.split() for line in text.splitlines()]
    assert ["Tape,", "level", "170.17", "2304.39", "+42.44", "+1.8764"] in rows
    for row in (
        "two at right angles, product 60.00 48.00 2261.95 0.00 0.0000",
        "18 directions, arithmetic mean 18 readings 2304.39 +42.44 +1.8764",
    ):
        assert row.split() in rows
    assert "True area:  2261.95 cm²" in text
    assert "Taut girth: 170.17 cm" in text
    assert "2π√((a²+b²)/2) would claim an error of +2.5000 %" in text
    assert "upper bound" in text
    assert "sound instruments, steady hand, band held by friction where it lies" in text
    table = [line for line in text.splitlines() if line.startswith((" ", "Tape"))]
    assert len(table) == 8
    assert len({len(line) for line in table}) == 1  # the last column ends in one line


@pytest.mark.parametrize("axes", ["40x40", "60x48", "48x60", "33.3x33.3", "1e-3x1e-3"])
@pytest.mark.parametrize("turn", ["0", "-0", "90", "45"])
def test_nothing_is_printed_as_minus_zero(run, axes: str, turn: str) -> None:
    text = run("compare", "--axes", axes, "--caliper-direction-deg", turn).stdout
    for word in text.replace("°", " ").split():
        assert not (word.startswith(("-0", "+0")) and float(word) == 0)
    assert "nan" not in text


def test_the_blackboard_formula_is_named_for_smooth_ellipses_only(run) -> None:
    rough = run("compare", "--axes", "60x48", "--ridges", "28", "--furrow-depth-cm", "1").stdout
    assert "blackboard" not in rough
    assert "28 ridges" in rough


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (
            ["--axes", "0x48"],
            "--axes, first diameter, is 0 cm; expected a finite number above 0 and at most "
            "2000 cm.",
        ),
        (["--axes", "60x-48"], "--axes, second diameter, is -48 cm; expected a finite"),
        (["--axes", "60x2001"], "--axes, second diameter, is 2001 cm; expected a finite"),
        (["--axes", "nanx48"], "--axes, first diameter, is 'nan'; expected a finite"),
        (["--axes", "60xinf"], "--axes, second diameter, is 'inf'; expected a finite"),
        (
            ["--axes", "1e999x48"],
            "--axes, first diameter, is '1e999'; expected a power of ten within reach (",
        ),
        (["--axes", "6_0x48"], "--axes, first diameter, is '6_0'; expected a finite"),
        (["--axes", "٦٠x48"], "--axes, first diameter, is '٦٠'; expected a finite"),
        (["--axes", "x48"], "--axes, first diameter, is empty; expected a finite"),
        (["--axes", "60"], "--axes is '60'; expected two diameters in cm like 60x48."),
        (["--axes", "60x48x3"], "--axes is '60x48x3'; expected two diameters in cm like 60x48."),
        (["--axes", ""], "--axes is empty; expected two diameters in cm like 60x48."),
        (["--axes", "60\n48"], r"--axes is '60\n48'; did you mean 60x48?"),
        ([], "--axes and --outline: neither given; expected exactly one of them."),
        (
            ["--axes", "60x48", "--outline", "a.csv"],
            "--axes and --outline: both given; expected exactly one of them.",
        ),
        (["--axes", "60x48", "--tilt-deg", "90"], "--tilt-deg is 90 deg; expected a finite"),
        (["--axes", "60x48", "--tilt-deg", "-90"], "--tilt-deg is -90 deg; expected a finite"),
        (["--axes", "60x48", "--tilt-deg", "nan"], "--tilt-deg is 'nan'; expected a finite"),
        (["--axes", "60x48", "--tilt-deg", "1_0"], "--tilt-deg is '1_0'; expected a finite"),
        (
            ["--axes", "60x48", "--tilt-deg", "89.999"],
            "the tape's reading on this stem, laid like this, is ",
        ),
        (
            ["--axes", "60x48", "--tilt-direction-deg", "east"],
            "--tilt-direction-deg is 'east'; expected a finite number in deg.",
        ),
        (
            ["--axes", "60x48", "--caliper-direction-deg", "1e400"],
            "--caliper-direction-deg is '1e400'; expected a power of ten",
        ),
        (
            ["--axes", "60x48", "--ridges", "28"],
            "--furrow-depth-cm is missing; expected a depth above 0 cm beside --ridges 28.",
        ),
        (["--axes", "60x48", "--furrow-depth-cm", "1"], "--ridges is missing; expected a whole"),
        (
            ["--axes", "60x48", "--ridges", "2", "--furrow-depth-cm", "1"],
            "--ridges is 2; expected 0 or a whole number from 3 to 2000.",
        ),
        (
            ["--axes", "60x48", "--ridges", "2.5", "--furrow-depth-cm", "1"],
            "--ridges is '2.5'; expected a whole number from 0 to 2000.",
        ),
        (
            ["--axes", "60x48", "--ridges", "28", "--furrow-depth-cm", "-1"],
            "--furrow-depth-cm is -1 cm; expected a finite number at least 0 cm.",
        ),
        (
            ["--axes", "60x48", "--ridges", "28", "--furrow-depth-cm", "30"],
            "--furrow-depth-cm is 30 cm; expected less than the radius",
        ),
        (["--axes", "60x48", "--seed", "9" * 5000], "--seed is '9999"),
        (["--axes", "60x48", "--seed", "-1"], "--seed is -1; expected a whole number from 0"),
        (
            ["--axes", "1e-13x2000"],
            "--axes, first diameter, is '1e-13'; expected 0, or a size from 10^-12 to 10^12 cm.",
        ),
        (
            ["--axes", "60x48", "--tlit-deg", "3"],
            "there is no option '--tlit-deg' here; did you mean --tilt-deg?",
        ),
        (["--axes"], "--axes is alone; expected a value after it."),
        (
            ["--axes", "60x48", "more"],
            "'more' was not understood; expected options only, like --json.",
        ),
    ],
)
def test_compare_refuses_in_one_sentence(refused, words: list[str], sentence: str) -> None:
    assert refused("compare", *words).startswith(sentence)
