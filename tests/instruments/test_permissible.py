"""What a new tape may err, by class and length."""

import pytest

from mensura.checks import MeasureError
from mensura.instruments import permissible_error_mm


@pytest.mark.parametrize(
    ("accuracy_class", "up_to_1_m", "two", "three", "hook_on_two"),
    [("I", 0.2, 0.3, 0.4, 0.4), ("II", 0.5, 0.7, 0.9, 0.9), ("III", 1.0, 1.4, 1.8, 1.7)],
)
def test_each_class_by_hand(accuracy_class, up_to_1_m, two, three, hook_on_two):
    """a + bL, and c for an end surface, worked out with a pencil [UKSI2016]."""
    lengths = [0.2, 1.0, 1.01, 2.0, 3.0]
    by_hand = [up_to_1_m, up_to_1_m, two, two, three]
    assert permissible_error_mm(accuracy_class, lengths) == pytest.approx(by_hand)
    hook = permissible_error_mm(accuracy_class, 1.26, end_surface=True)
    assert hook == pytest.approx(hook_on_two)


@pytest.mark.parametrize(
    ("accuracy_class", "length", "said"),
    [
        ("IV", 1, "accuracy_class is 'IV'; expected one of: I, II, III"),
        ("I", 0, "length_m is 0 m; expected .*above 0"),
        ("I", 1001, "length_m is 1001 m; expected .*at most 1000"),
    ],
)
def test_what_has_no_permissible_error(accuracy_class, length, said):
    """Another class, no length, and one that no tape has."""
    with pytest.raises(MeasureError, match=f"^{said}"):
        permissible_error_mm(accuracy_class, length)
