"""The formula of what could be found, against printed percentage points of Student's law."""

import numpy as np
import pytest

from mensura.estimates import detectable_hand_percent, detectable_tape_percent
from mensura.estimates.hand_verdict import Matters

#: t for 0.25 % in either tail, by degrees of freedom, as tables print it (from memory).
PRINTED = {4: 5.598, 5: 4.773, 11: 3.497, 20: 3.153, 30: 3.030}


@pytest.mark.parametrize(("free", "factor"), PRINTED.items())
def test_chance_is_asked_by_students_law(free: int, factor: float) -> None:
    """Of 5 %, three fifths go to biases; over six judged that is 0.5 % for the first of them."""
    hand = detectable_hand_percent(4, free + 1, 2, 1)
    tape = detectable_tape_percent(4, free + 1, 2, 1)
    for one in (hand, tape):
        assert one.chance_percent / one.error_percent == pytest.approx(factor, abs=0.0006)


def test_nine_of_ten_take_so_many_errors_more() -> None:
    """1.2816 standard errors, the normal law's printed tenth, beyond what is asked for."""
    for matters in (0.25, 1.0, 3.0):
        one = detectable_hand_percent(6, np.array([5, 12, 40]), 3, 2, matters=Matters(matters))
        more = (one.size_percent - one.asked_percent) / one.error_percent
        assert more == pytest.approx([1.2816] * 3, abs=1e-4)
        assert np.all(one.asked_percent >= matters)
