"""The band's condition against surveying: its corrections are those of any steel tape.

The worked examples are from unsigned web pages of surveying courses, each recomputed; one is from a
textbook. Lengths of chains are given here in cm like girths: the rules know no size.
"""

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp, trapezoid

from mensura.estimates import area_from_girth_cm2
from mensura.instruments import MATERIALS, Tape, permissible_error_mm
from mensura.instruments.materials import REFERENCE_C, REFERENCE_N, pull_share

#: Newtons in a kilogram-force and in a pound-force (standard gravity 9.80665 m/s², by definition).
KGF = 9.80665
LBF = 0.45359237 * KGF
FOOT = 30.48


def celsius(fahrenheit):
    return (fahrenheit - 32) / 1.8


def test_reference_conditions():
    """20 °C, adopted by the CIPM on 15 April 1931 [Phillips2016]; 50 N for tapes [UKSI2016]."""
    assert (REFERENCE_C, REFERENCE_N) == (20.0, 50.0)
    assert celsius(68) == pytest.approx(REFERENCE_C, rel=1e-14)
    assert Tape().reference_c == REFERENCE_C
    assert Tape().reference_pull_n == REFERENCE_N


def test_temperature_example():
    """318 m read at 47.92 °C, 11.6e-6: 318.103 m (unsigned example)."""
    tape = Tape(temperature_c=47.92, material="steel")
    assert tape.way_cm(31800) == pytest.approx(31810.3, abs=0.05)


def test_pull_example():
    """318 m with 9.46 kg instead of 5.5, A = 0.05 cm², E = 2.10e6 kg/cm²: 318.012 m (unsigned)."""
    tape = Tape(pull_n=9.46 * KGF, reference_pull_n=5.5 * KGF, stiffness_n=0.05 * 2.10e6 * KGF)
    assert tape.way_cm(31800) == pytest.approx(31801.2, abs=0.05)


def test_layout_example():
    """529.81 ft to be set out with a long, warm, tight tape: 0.053, 0.092, 0.0195 ft (unsigned).

    A 100-ft tape that is 100.010 ft; 95 against 68 °F at 6.45e-6 per °F; 20 against 12 lb with
    0.0075 in² and E = 29e6 lb/in² (E is not in the example; it gives its 0.0195).
    """
    tape = Tape(
        stretch_percent=0.010,
        temperature_c=celsius(95),
        expansion_per_c=6.45e-6 * 1.8,
        pull_n=20 * LBF,
        reference_pull_n=12 * LBF,
        stiffness_n=0.0075 * 29e6 * LBF,
    )
    told, parts = tape.marks_cm(529.81 * FOOT)
    assert -parts["stretch"] / FOOT == pytest.approx(0.053, abs=5e-4)
    assert -parts["temperature"] / FOOT == pytest.approx(0.092, abs=5e-4)
    assert -parts["pull"] / FOOT == pytest.approx(0.0195, abs=5e-5)
    assert told / FOOT == pytest.approx(529.645, abs=1e-3)


def test_base_line_example():
    """20 m, 55 to 80 °F, 10 to 16 kg: +0.0031 and +0.00112 m (Punmia, Surveying I).

    The question was read, the answers are from memory; a tape of 0.8 kg and 7.86 g/cm³ has a
    section of 0.0509 cm², E = 2.109e6 kg/cm², 6.2e-6 per °F. Sag has no part round a stem.
    """
    section = 800 / (7.86 * 2000)
    warm = Tape(temperature_c=celsius(80), reference_c=celsius(55), expansion_per_c=6.2e-6 * 1.8)
    tight = Tape(pull_n=16 * KGF, reference_pull_n=10 * KGF, stiffness_n=section * 2.109e6 * KGF)
    assert (warm.way_cm(2000) - 2000) / 100 == pytest.approx(0.0031, abs=5e-5)
    assert (tight.way_cm(2000) - 2000) / 100 == pytest.approx(0.00112, abs=5e-6)


def of_length(length, nominal):
    """A chain that has stretched or shrunk to its length."""
    longer = 100 * (length / nominal - 1)
    return Tape(stretch_percent=max(longer, 0.0), shrink_percent=max(-longer, 0.0))


# Chains too long or too short (unsigned examples, recomputed): nominal length, error, read, true.
@pytest.mark.parametrize(
    ("nominal", "error", "read", "true"),
    [
        (20, 0.04, 500, 501.0),
        (20, 0.03, 327, 327.49),
        (30, -0.02, 2340, 2338.44),
        (20, -0.05, 1500, 1496.25),
    ],
)
def test_a_tape_too_long_reads_too_little(nominal, error, read, true):
    """True length is the reading times the chain's true length over its nominal one."""
    tape = of_length(nominal + error, nominal)
    assert tape.way_cm(float(read)) == pytest.approx(true, abs=5e-3)
    assert tape.marks_cm(true)[0] == pytest.approx(read, abs=6e-3)


@pytest.mark.parametrize(
    ("true", "nominal", "read", "length"),
    [(2338.44, 20, 2350, 19.90), (1496.25, 30, 1476, 30.41)],
)
def test_a_second_chain_is_found_from_the_first(true, nominal, read, length):
    """Two chains on one line: the second's length makes its marks tell the same way."""
    tape = of_length(length, nominal)
    assert tape.way_cm(float(read)) == pytest.approx(true, rel=0.006 / length)


def test_scale_rule():
    """A wrong tape's factor for lengths, its square for areas (rule of the same pages)."""
    told, _ = Tape(stretch_percent=2).marks_cm(125.0)
    assert told * 1.02 == pytest.approx(125, rel=1e-14)
    assert area_from_girth_cm2(told) * 1.02**2 == pytest.approx(
        area_from_girth_cm2(125.0), rel=1e-14
    )


# Expansion in 1e-6 per °C, as ranges, since tables differ. Steel: 11.6 of surveying (6.45e-6 per
# °F), 11.5 ± 2 of the GUM's example H.1, 12 of a property table for carbon steel; stainless: 10–12
# ferritic, 16–18 austenitic; 36 for epoxy with glass; 80 for rigid PVC (property tables, unsigned).
@pytest.mark.parametrize(
    ("name", "least", "most"),
    [
        ("steel", 9.5, 13.5),
        ("stainless steel", 10, 18),
        ("fibreglass", 8, 36),
        ("plastic", 50, 180),
    ],
)
def test_expansion_lies_within_the_tables(name, least, most):
    """Values and their ranges lie within what was published [GUM1995]."""
    one = MATERIALS[name]
    for value in (one.least_per_c, one.expansion_per_c, one.most_per_c):
        assert least * 0.999 <= 1e6 * value <= most * 1.001


def test_expansion_of_surveyors_steel():
    """6.45e-6 per °F and 11.6e-6 per °C are one figure."""
    assert MATERIALS["steel"].expansion_per_c == pytest.approx(6.45e-6 * 1.8, rel=1e-3)


def test_warmth_of_steel_is_within_a_tapes_own_tolerance():
    """Class II allows 0.3 + 0.2·L mm, L in whole metres upwards: 0.7 mm up to 2 m [UKSI2016].

    On a girth of 125.7 cm, 30 °C off the reference moves steel 0.44 mm: less than that. For rigid
    PVC it is 3 mm: more than four times what the tape's maker may be off.
    """
    allowed_mm = permissible_error_mm("II", 1.257)
    assert allowed_mm == pytest.approx(0.7)
    for name, least, most in (("steel", 0.43, 0.45), ("plastic", 2.9, 3.1)):
        _, parts = Tape(temperature_c=-10, material=name).marks_cm(125.7)
        assert least < 10 * parts["temperature"] < most
        assert (10 * parts["temperature"] < allowed_mm) == (name == "steel")


@pytest.mark.parametrize(("friction", "share"), [(0.2, 0.74), (0.3, 0.65), (0.5, 0.50)])
def test_the_capstan_law(friction, share):
    """Euler 1769, Eytelwein 1808 (from memory): a piece dφ presses with T·dφ and loses μ·T·dφ.

    The balance of forces integrated numerically from the hand round half a turn, to where the pull
    of the other hand meets it; then the mean of what is left.
    """
    at = np.linspace(0, np.pi, 2001)
    fall = solve_ivp(
        lambda _, pull: -friction * pull, (0, np.pi), [1.0], t_eval=at, rtol=1e-10, atol=1e-12
    )
    assert fall.y[0, -1] == pytest.approx(np.exp(-friction * np.pi), rel=1e-8)
    mean = trapezoid(fall.y[0], at) / np.pi
    assert pull_share(friction) == pytest.approx(mean, rel=1e-6)
    assert pull_share(friction) == pytest.approx(share, abs=0.005)
    part = quad(lambda turn: np.exp(-friction * turn), 0, 2)[0] / 2
    assert pull_share(friction, 2.0) == pytest.approx(part, rel=1e-12)


def test_a_smooth_post_takes_nothing_of_the_pull():
    """No friction, the whole pull; next to none, nearly the whole; more takes more."""
    assert pull_share(0.0) == 1.0
    assert pull_share(1e-12) == pytest.approx(1.0, abs=1e-11)
    assert np.all(np.diff(pull_share(np.linspace(0, 2, 50))) < 0)
