"""What is written beside a line is passed over, and more hands are read."""

from __future__ import annotations

import pytest

from mensura.teaching.proof.asides import leading_arrow, without_asides
from mensura.teaching.proof.judge import judge
from mensura.teaching.proof.notation import Unreadable, read_line

READ = {
    "√a(a+b) > 0": "√a·(a + b) > 0",
    "√π(A_tape) > √π(A_cal)": "√π·A_tape > √π·A_cal",
    "√2(a+b) > 0": "√2·(a + b) > 0",
    "a²+b² > 2ab.": "a² + b² > 2ab",
    "⇒ a²+b² > 2ab": "a² + b² > 2ab",
    "=> a²+b² > 2ab": "a² + b² > 2ab",
    "⇔ a > b": "a > b",
    "⟺ a > b": "a > b",
    "∴ a > b ∎": "a > b",
    "so a > b ✓": "a > b",
    "And so: a > b": "a > b",
    "hence, a > b, q.e.d.": "a > b",
    "since a ≠ b, (a−b)² > 0": "(a − b)² > 0",
    "(a−b)² > 0 since a ≠ b.": "(a − b)² > 0",
    "(a−b)² > 0 (because b != a)": "(a − b)² > 0",
    r"\frac{a^2+b^2}{2} > ab": "(a² + b²)/2 > ab",
    r"\sqrt{ab} \le \frac{a+b}{2}": "√(ab) ≤ (a + b)/2",
    r"\left(\frac{a}{b}\right)^{2} \geq \pi \cdot a": "(a/b)² ≥ πa",
    r"\implies \dfrac{1}{2}(a+b) > 0": "1/2·(a + b) > 0",
    r"a \neq b": "a ≠ b",
}


@pytest.mark.parametrize("typed", READ)
def test_asides_and_other_hands_are_read(typed):
    assert read_line(typed).read_as == READ[typed]


REFUSED = {
    "√2ab > 0": (1, "write √(2ab) or √2·ab"),
    "√ab > 0": (1, "write √(ab) or √a·b"),
    "√a²(a+b) > 0": (1, "two ways"),
    "a/2b + b/2a > 1": (3, "/(2b)"),
    "a²−2ab+b² = (a−b)² > 0": (20, "first a² − 2ab + b² > 0, then (a − b)² > 0"),
    "0 < (a−b)² < a²": (12, "first 0 < (a − b)², then (a − b)² < a²"),
    "a ⇒ b": (3, "no relation sign"),
    r"\frac a b > 0": (1, "two parts in braces"),
    r"\foo a > 0": (1, "not known"),
    "so": (1, "empty"),
    "since a > b, a² > b²": (1, "not known"),
}


@pytest.mark.parametrize("typed", REFUSED)
def test_what_stays_refused_says_how_it_is_written(typed):
    place, words = REFUSED[typed]
    with pytest.raises(Unreadable) as refused:
        read_line(typed)
    assert refused.value.place == place
    assert words in refused.value.says


def test_places_stay_where_they_are():
    """An aside is blanked and not cut out, so that a mark points at the right character."""
    text, cites = without_asides("so a² + x > 2ab ✓")
    assert len(text) == len("so a² + x > 2ab ✓")
    assert not cites
    assert judge("so a² + x > 2ab ✓", "a > 0").place == 9


def test_arrows_that_say_a_direction():
    assert leading_arrow(" => a > b") == "⇒"
    assert leading_arrow("⇐ a > b") == "⇐"
    assert leading_arrow("a > b") == ""
