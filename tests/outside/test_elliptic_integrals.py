"""The ellipse's perimeter against published tables of E(m) and routes that do not use E at all."""

import mpmath
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.stems import Ellipse, ellipse_girth_cm


def elliptic_e(m):
    """E(m) as our girth gives it: P = 4a·E(m) with b = a√(1 − m), here a = ½ · 1 cm."""
    return ellipse_girth_cm(1.0, np.sqrt(1 - m)) / 2


# Abramowitz and Stegun 1964, Table 17.1, nine decimals [AS1964], as carried in the test block of
# Octave's ellipke (seen there, not in the book). m = 0.15 is left to the next test.
TABLE_17_1 = {
    0.00: 1.570796327,
    0.10: 1.530757637,
    0.20: 1.489035058,
    0.25: 1.467462209,
    0.30: 1.445363064,
    0.40: 1.399392139,
    0.50: 1.350643881,
}


@pytest.mark.parametrize(("m", "published"), TABLE_17_1.items())
def test_table_17_1(m, published):
    """Nine published decimals [AS1964]."""
    assert elliptic_e(m) == pytest.approx(published, abs=1e-9)


def test_a_last_digit_in_the_copy_of_table_17_1():
    """E(0.15) stands as 1.510121831 in the copy; thirty digits say that it rounds to …832."""
    exact = mpmath.ellipe(mpmath.mpf("0.15"))
    assert mpmath.nstr(exact, 10) == "1.510121832"
    assert elliptic_e(0.15) == pytest.approx(float(exact), rel=1e-14)


# J. Burkardt's public-domain TEST_VALUES, sixteen digits, which cite Abramowitz and Stegun and
# Mathematica.
SIXTEEN_DIGITS = {
    0.55: 1.325024497958230,
    0.60: 1.298428035046913,
    0.70: 1.241670567945823,
    0.75: 1.211056027568459,
    0.80: 1.178489924327839,
    0.90: 1.104774732704073,
    0.95: 1.060473727766278,
}


@pytest.mark.parametrize(("m", "published"), SIXTEEN_DIGITS.items())
def test_sixteen_digits(m, published):
    """Sixteen published digits."""
    assert elliptic_e(m) == pytest.approx(published, abs=2e-14)


# Octave's ellipke, test block, column "exact" (seen second-hand). Below 0 the second axis is the
# longer one: this catches a formula that swaps the axes.
@pytest.mark.parametrize(
    ("m", "published"),
    [
        (0.01, 1.5668619420216682912),
        (0.99, 1.0159935450252239356),
        (-0.01, 1.5747159850169884),
        (-1, 1.9100988945138560),
        (-5, 2.8301982463458774),
    ],
)
def test_flat_and_upright(m, published):
    """Nearly flat ellipses, and ellipses whose second axis is the longer one."""
    assert elliptic_e(m) == pytest.approx(published, rel=1e-14)


def test_flattest_ellipse_is_a_double_line():
    """E(1) = 1: as the second axis vanishes the girth tends to twice the first."""
    assert ellipse_girth_cm(100, 1e-6) == pytest.approx(200, rel=1e-12)


def test_circumference_in_a_library_example():
    """SciPy 1.17, docstring of scipy.special.ellipe: a = 3.5, b = 2.1 gives 17.868899204378693."""
    assert ellipse_girth_cm(7, 4.2) == pytest.approx(17.868899204378693, rel=1e-14)


def test_circumference_of_two_by_one():
    """a = 2, b = 1 gives 9.6884482205476761984 (test suites of several numeric libraries)."""
    assert ellipse_girth_cm(4, 2) == pytest.approx(9.6884482205476761984, rel=1e-14)


def kummer_series(a, b, terms=400):
    """π(a + b)·Σ C(½, n)²·hⁿ with h = ((a − b)/(a + b))²: Ivory 1798, Kummer 1837 (from memory)."""
    h = ((a - b) / (a + b)) ** 2
    total, binomial = 1.0, 1.0
    for n in range(1, terms):
        binomial *= (0.5 - (n - 1)) / n
        total += binomial**2 * h**n
    return np.pi * (a + b) * total


@given(st.floats(0.05, 1))
def test_series_in_h(ratio):
    """A series that knows nothing of E gives the same girth."""
    assert ellipse_girth_cm(60, 60 * ratio) == pytest.approx(
        kummer_series(30, 30 * ratio), rel=1e-12
    )


@given(st.floats(0.001, 1000), st.floats(0.001, 1000))
def test_thirty_digits(a, b):
    """mpmath's ellipe with thirty digits, from stems of 0.02 mm to 20 m."""
    with mpmath.workdps(30):
        long, short = sorted((mpmath.mpf(a), mpmath.mpf(b)), reverse=True)
        exact = 4 * long * mpmath.ellipe(1 - (short / long) ** 2)
    assert ellipse_girth_cm(2 * a, 2 * b) == pytest.approx(float(exact), rel=1e-13)


@pytest.mark.parametrize("ratio", [1, 0.9, 0.8, 0.5, 0.2])
def test_arithmetic_geometric_mean(ratio):
    """Gauss's route by the arithmetic-geometric mean (DLMF 19.8.6, from memory)."""
    a, g, c, weight, total = 1.0, ratio, np.sqrt(1 - ratio**2), 0.5, 0.0
    for _ in range(8):  # converges quadratically: eight steps are plenty
        total += weight * c * c
        a, g, c, weight = (a + g) / 2, np.sqrt(a * g), (a - g) / 2, weight * 2
    by_agm = 2 * np.pi / a * (1 - total)
    assert ellipse_girth_cm(2, 2 * ratio) == pytest.approx(by_agm, rel=1e-13)


@pytest.mark.parametrize("second", [60, 54, 48, 30, 6])
def test_length_of_the_curve(second):
    """Plain integration of the arc length, thirty digits, no elliptic integral in sight."""
    a, b = mpmath.mpf(30), mpmath.mpf(second) / 2
    with mpmath.workdps(30):
        quarter = mpmath.quad(
            lambda t: mpmath.sqrt((a * mpmath.sin(t)) ** 2 + (b * mpmath.cos(t)) ** 2),
            mpmath.linspace(0, mpmath.pi / 2, 5),
        )
    assert Ellipse(60, second).taut_girth_cm == pytest.approx(float(4 * quarter), rel=1e-14)
