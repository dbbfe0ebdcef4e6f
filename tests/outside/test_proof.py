"""The roads' lines against the world outside: fifty digits, published bounds, closed forms."""

import mpmath
import numpy as np
import pytest
import sympy as sp

from mensura.stems import Outline, outline_terms, reuleaux
from mensura.teaching.proof import ROADS, road
from mensura.teaching.proof.symbols import letters

STEPS = {step.key: step for name in ROADS for step in road(name).steps}
A, B = sp.Rational(30), sp.Rational(24)
TURN = sp.pi / 6


def girth(a, b):
    """4a·E(1 − (b/a)²) to fifty digits [AS1964, chapter 17]."""
    with mpmath.workdps(60):
        return mpmath.nstr(4 * a * mpmath.ellipe(1 - (mpmath.mpf(b) / a) ** 2), 58)


def fifty_digits(expression):
    """A side of a line for a = 30, b = 24, θ = t = 30° to fifty digits; integrals by quadrature."""
    s = letters()
    meanings = {
        s.P: sp.Float(girth(30, 24), 55),
        s.h: sp.Rational(1, 81),
        s.A_tape: sp.pi * (sp.Float(girth(30, 24), 55) / (2 * sp.pi)) ** 2,
        s.w1: sp.sqrt(4 * (s.a**2 * sp.cos(s.theta) ** 2 + s.b**2 * sp.sin(s.theta) ** 2)),
        s.w2: sp.sqrt(4 * (s.a**2 * sp.sin(s.theta) ** 2 + s.b**2 * sp.cos(s.theta) ** 2)),
    }
    expression = expression.replace(sp.Order, lambda *_: sp.Integer(0))
    for letter, meaning in meanings.items():
        expression = expression.subs(letter, meaning)
    expression = expression.subs({s.a: A, s.b: B})
    for integral in expression.atoms(sp.Integral):
        (variable, low, high), f = integral.limits[0], integral.function
        with mpmath.workdps(60):
            quick = sp.lambdify(variable, f, "mpmath")
            edges = mpmath.linspace(mpmath.mpf(0), 2 * mpmath.pi, 9)
            assert (low, high) == (0, 2 * sp.pi)
            value = sp.Float(mpmath.nstr(mpmath.quad(quick, edges), 58), 55)
        expression = expression.subs(integral, value)
    return sp.N(expression.subs({s.theta: TURN, s.t: TURN}).doit(), 50)


NUMERIC = [
    key
    for key in STEPS
    if key.startswith(("ellipse", "calipers"))
    and not any(word in STEPS[key].line for word in ("→", "φ", "d/dθ"))
]


@pytest.mark.parametrize("key", NUMERIC)
def test_lines_hold_to_fifty_digits(key):
    """Each verified line, put into mpmath: = to forty digits, ≥, ≤ and > by more than rounding.

    The series is left out beyond h²: its dots are 1/256·h³, as in Kummer's series (theorem).
    """
    relation = STEPS[key].relation()
    left, right = fifty_digits(relation.lhs), fifty_digits(relation.rhs)
    if key == "ellipse-13":
        h = sp.Rational(1, 81)
        dots = (left - right) / (sp.pi * (A + B) * h**3 / 256)
        assert 1 < sp.N(dots) < 1 + 2 * h
    elif isinstance(relation, sp.Eq):
        assert abs(left - right) < sp.Float("1e-40") * abs(right)
    else:
        gap = right - left if isinstance(relation, sp.Le) else left - right
        assert gap > sp.Float("1e-6")
    ours = STEPS[key].sides(30, 24, 30)
    if " at " not in STEPS[key].line or key not in ("calipers-15", "calipers-16"):
        assert ours == pytest.approx((float(left), float(right)), rel=1e-12)


@pytest.mark.parametrize("key", [key for key in STEPS if "→" in STEPS[key].line])
def test_limits_are_approached(key):
    """Ten times nearer to the circle, a hundred times nearer to the limit (by numbers)."""
    gaps = []
    for ratio in (0.9, 0.99):
        left, right = STEPS[key].sides(100, 100 * ratio, 20)
        gaps.append(abs(left - right))
    assert gaps[1] < gaps[0] / 100 * 1.5 + 1e-9


def test_the_series_from_the_elliptic_integral():
    """P = π(a + b)(1 + h/4 + h²/64 + h³/256 + …): Taylor's coefficients of 4aE(m) by its 2F1.

    E(m) = π/2·₂F₁(−½, ½; 1; m) [AS1964, 17.3.10], a = 1 + x, b = 1 − x, m = 4x/(1 + x)².
    """
    x, m = sp.symbols("x m", positive=True)
    elliptic = sum(
        sp.rf(-sp.Rational(1, 2), k) * sp.rf(sp.Rational(1, 2), k) / sp.factorial(k) ** 2 * m**k
        for k in range(7)
    )
    quotient = sp.series((1 + x) * elliptic.subs(m, 4 * x / (1 + x) ** 2), x, 0, 7).removeO()
    assert sp.expand(quotient - (1 + x**2 / 4 + x**4 / 64 + x**6 / 256)) == 0
    series = STEPS["ellipse-13"].relation().rhs / (sp.pi * (letters().a + letters().b))
    ours = sp.expand(series).removeO()
    assert sp.expand(ours.subs(letters().h, x**2) - (quotient - x**6 / 256)) == 0


@pytest.mark.parametrize("shape", [(10, 9), (10, 8), (10, 7), (2, 1), (20, 1)])
def test_published_bounds(shape):
    """π(a + b) < Muir's < P < 2π√((a² + b²)/2): the roads' bounds are the outer ones.

    Muir 1883, 2π((a^1.5 + b^1.5)/2)^(2/3), proved a lower bound by Barnard, Pearce and Schovanec
    2001 (from memory); the root mean square by Jensen's inequality (theorem).
    """
    a, b = shape
    exact, below = STEPS["ellipse-3"].sides(a, b)
    also, above = STEPS["ellipse-5"].sides(a, b)
    muir = 2 * np.pi * ((a**1.5 + b**1.5) / 2) ** (2 / 3)
    assert below < muir < exact == also < above
    assert exact == pytest.approx(float(girth(a, b)), rel=1e-14)


def polygon(sides):
    """A regular polygon with circumradius 1, at an odd angle and off the origin."""
    turn = 2 * np.pi * np.arange(sides) / sides + 0.2
    return Outline(np.stack([3 + np.cos(turn), np.sin(turn) - 2], axis=-1))


@pytest.mark.parametrize(
    ("sides", "quotient"), [(3, 0.604600), (4, 0.785398), (5, 0.864806), (6, 0.906900),
                            (8, 0.948059), (12, 0.977049)]
)  # fmt: skip
def test_isoperimetric_quotients_of_regular_polygons(sides, quotient):
    """4πA/P² is π/(n·tan(π/n)) (closed form); the ripples come down to it and never pass it."""
    exact = np.pi / (sides * np.tan(np.pi / sides))
    assert exact == pytest.approx(quotient, abs=5e-7)
    before = 1.0
    for count in (sides, 10 * sides, 100 * sides):
        terms = outline_terms(polygon(sides), count)
        by_ripples = 4 * np.pi * terms.hull_area_cm2 / terms.girth_cm**2
        assert exact < by_ripples < before
        before = by_ripples
    # the tail is that of Σ 1/k², about 1/K of its first term after K multiples of n
    assert before == pytest.approx(exact, abs=0.02 * (1 - exact))


@pytest.mark.parametrize("sides", [3, 4, 7])
def test_ripples_of_a_regular_polygon(sides):
    """Only multiples of n, and p_n alike: −P/(π(n² − 1)) in size (closed form: equal edges)."""
    terms = outline_terms(polygon(sides), 4 * sides)
    size = np.hypot(terms.cosine_cm, terms.sine_cm)
    n = np.arange(1, 4 * sides + 1)
    expected = np.where(n % sides == 0, terms.girth_cm / (np.pi * np.maximum(n**2 - 1, 1)), 0)
    assert size[1:] == pytest.approx(expected[1:], abs=1e-12)
    # the first ripple is where the polygon stands: its Steiner point, here the middle
    assert (terms.cosine_cm[0], terms.sine_cm[0]) == pytest.approx((3, -2), abs=1e-12)


@pytest.mark.parametrize("outline", [polygon(5), Outline([[0, 0], [60, 0], [50, 30], [20, 10]])])
def test_ripples_against_quadrature(outline):
    """p_n, q_n and c₀ are the integrals of the support function (a million even places)."""
    directions = np.arange(2**16) * (360 / 2**16)
    waves = 2 * np.fft.rfft(outline.support_cm(directions)) / 2**16
    terms = outline_terms(outline, 12)
    assert terms.mean_cm == pytest.approx(waves[0].real / 2, rel=1e-7)
    assert terms.cosine_cm == pytest.approx(waves[1:13].real, abs=1e-6)
    assert terms.sine_cm == pytest.approx(-waves[1:13].imag, abs=1e-6)
    many = outline_terms(outline, 2000)
    assert many.support_cm(directions[::512]) == pytest.approx(
        outline.support_cm(directions[::512]), abs=0.02
    )


def test_reuleaux():
    """Area (π − √3)/2 = 0.704770923… of w² [OEIS-A060708], girth πw [Barbier1860].

    Calipers claim 11.4402 % too much; all even ripples vanish; ripple 3m, m odd, is
    2w/(πm(n² − 1)), and together they take just what is missing.
    """
    claimed, true = STEPS["outline-19"].sides(0.5, 0.5)
    assert true == pytest.approx(0.704770923010458, rel=1e-14)
    assert claimed / true - 1 == pytest.approx(0.11440205, abs=5e-9)
    missing, taken = STEPS["outline-18"].sides(0.5, 0.5)
    assert missing == pytest.approx(taken, rel=1e-12)
    terms = outline_terms(reuleaux(1.0, 30000), 45)
    size = np.hypot(terms.cosine_cm, terms.sine_cm)
    n = np.arange(1, 46)
    assert size[n % 2 == 0] == pytest.approx(0, abs=1e-8)
    odd = n[(n % 3 == 0) & (n % 2 == 1)]
    assert size[odd - 1] == pytest.approx(2 / (np.pi * (odd / 3) * (odd**2 - 1)), abs=1e-8)
    assert terms.girth_cm == pytest.approx(np.pi, rel=1e-8)
    by_calipers, by_tape = STEPS["outline-17"].sides(0.5, 0.5)
    assert by_calipers == pytest.approx(by_tape, rel=1e-14)


def test_mean_width_of_an_ellipse():
    """Cauchy's theorem [Cauchy1841]: ellipse 2 by 1, mean width 9.6884482/π = 3.08392884."""
    mean, girth_over_pi = STEPS["calipers-19"].sides(2, 1)
    assert mean == pytest.approx(3.08392884, abs=5e-8)
    assert girth_over_pi == pytest.approx(mean, rel=1e-13)
