"""False lines of mixed dimension are found out wherever they fail; the numbers refute them."""

from __future__ import annotations

from math import pi, sqrt

import pytest

from mensura.teaching.proof.judge import judge

AFTER = "a² + b² > 2ab"

#: Each line with left and right side once more, as plain Python; all of them are false.
FALSE = {
    "a + 10^4 > b": lambda a, b: (a + 1e4, b),
    "a + 6000 > b": lambda a, b: (a + 6000, b),
    "5001 > a": lambda a, b: (5001, a),
    "10^8 > ab": lambda a, b: (1e8, a * b),
    "10^6 > √(ab)": lambda a, b: (1e6, sqrt(a * b)),
    "a²+b²+1000000 > 2ab+a": lambda a, b: ((a - b) ** 2 + 1e6, a),
    "(a−b)² > 10^-12": lambda a, b: ((a - b) ** 2, 1e-12),
    "|a−b| > 0.00001": lambda a, b: (abs(a - b), 1e-5),
    "a+b > |a−b| + 0.000001ab": lambda a, b: (a + b - abs(a - b), 1e-6 * a * b),
    "(a−3.7)² > 0": lambda a, b: ((a - 3.7) ** 2, 0),
    "(a−17.31)² > 0": lambda a, b: ((a - 17.31) ** 2, 0),
    "(a−√2)² > 0": lambda a, b: ((a - sqrt(2)) ** 2, 0),
    "a² − 2·3.3a + 3.3² > 0": lambda a, b: ((a - 3.3) ** 2, 0),
    "(ab−7)² > 0": lambda a, b: ((a * b - 7) ** 2, 0),
    "(ab−√2)² > 0": lambda a, b: ((a * b - sqrt(2)) ** 2, 0),
    "(a−b−0.123)² > 0": lambda a, b: ((a - b - 0.123) ** 2, 0),
    "(a²+b²−25)² > 0": lambda a, b: ((a * a + b * b - 25) ** 2, 0),
    "a ≠ 17.31": lambda a, b: (abs(a - 17.31), 0),
    "a+b ≠ 10": lambda a, b: (abs(a + b - 10), 0),
    "a+b ≠ π": lambda a, b: (abs(a + b - pi), 0),
    "999999999999^12 > a": lambda a, b: (999999999999.0**12, a),
    "(a−3)² + (b−5)² > 0": lambda a, b: ((a - 3) ** 2 + (b - 5) ** 2, 0),
    "a²+b²+10^12 > 2ab+a": lambda a, b: ((a - b) ** 2 + 1e12, a),
    "√(√a) < 10^12": lambda a, b: (1e12, a**0.25),
}


@pytest.mark.parametrize("line", FALSE)
def test_a_line_that_fails_somewhere_is_false(line):
    """Whatever the scale at which it fails; by plain arithmetic, up to its last digits."""
    found = judge(line, AFTER)
    assert found.verdict == "false", found.why
    a, b = found.counterexample["a"], found.counterexample["b"]
    assert a > 0
    assert b > 0
    assert a != b
    left, right = FALSE[line](a, b)
    assert left <= right * (1 + 1e-9) + 1e-12 * (a < 100)


#: As odd, and true: no numbers refute them.
TRUE = [
    "a + 10^4 > 0", "a + b > |a−b|", "(a−3.7)² ≥ 0", "(a−b)² + 10^-12 > 0", "a²+b²+1 > 2ab",
    "(ab−7)² + 0.001 > 0", "(a−√2)² ≥ 0", "a³+b³+1 ≥ 3ab", "(a−2)² + (10^-12)^2 > 0",
    "a² + 1 > a", "a + 1 ≠ 0",
]  # fmt: skip


@pytest.mark.parametrize("line", TRUE)
def test_a_true_line_of_mixed_dimension_is_not_false(line):
    """Sampling and exact signs agree that it holds."""
    assert judge(line, AFTER).verdict not in ("false", "unreadable")
