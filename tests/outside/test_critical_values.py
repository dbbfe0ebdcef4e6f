"""Critical values of Cochran, Grubbs and Mandel against printed tables."""

import pytest

from mensura.estimates import (
    cochran_critical,
    double_grubbs_critical,
    grubbs_critical,
    mandel_h_critical,
    mandel_k_critical,
)


def test_cochran():
    """Twenty entries at 5 % for two to five repeats [NMS2009]."""
    for hands, printed in {
        5: [0.841, 0.684, 0.598, 0.544],
        6: [0.781, 0.616, 0.532, 0.480],
        8: [0.680, 0.516, 0.438, 0.391],
        10: [0.602, 0.445, 0.373, 0.331],
        20: [0.389, 0.270, 0.221, 0.192],
    }.items():
        assert cochran_critical(hands, [2, 3, 4, 5]) == pytest.approx(printed, abs=6e-4)


def test_grubbs_on_both_sides():
    """LibreTexts, Analytical Chemistry, appendix 7, read. Its 2.202 for seven at 5 % and 2.755 for
    fifteen at 1 % are misprints: 2.020 and 2.806 by the formula."""
    printed = [1.481, 1.715, 1.887, 2.215, 2.290, 2.507]
    assert grubbs_critical([4, 5, 6, 9, 10, 14]) == pytest.approx(printed, abs=5.5e-4)
    printed = [1.764, 2.139, 2.482, 2.755]
    assert grubbs_critical([5, 7, 10, 14], 0.01) == pytest.approx(printed, abs=5.5e-4)
    assert grubbs_critical(7) == pytest.approx(2.020, abs=5e-4)
    assert grubbs_critical(15, 0.01) == pytest.approx(2.806, abs=5e-4)


def test_grubbs_on_one_side():
    """A German table made after [Grubbs1969], read, at 5, 1 and 2.5 %; 2.71 is printed there for
    2.705 and 1.71 for 1.715."""
    for chance, hands, printed in (
        (0.05, [7, 10, 15, 20], [1.94, 2.18, 2.41, 2.56]),
        (0.01, [5, 10, 15, 20], [1.75, 2.41, 2.71, 2.88]),
        (0.025, [5, 10, 15, 20], [1.71, 2.29, 2.55, 2.71]),
    ):
        assert grubbs_critical(hands, chance, 1) == pytest.approx(printed, abs=0.0055)


def test_two_on_one_side():
    """Table 5 of [ISO5725], two largest or two smallest, at 1 and 5 %, from memory: every one of
    the 26 entries to its fourth decimal."""
    for hands, printed in {
        4: (0.0000, 0.0002),
        5: (0.0018, 0.0090),
        6: (0.0116, 0.0349),
        7: (0.0308, 0.0708),
        8: (0.0563, 0.1101),
        9: (0.0851, 0.1492),
        10: (0.1150, 0.1864),
        11: (0.1448, 0.2213),
        12: (0.1738, 0.2537),
        13: (0.2016, 0.2836),
        14: (0.2280, 0.3112),
        15: (0.2530, 0.3367),
        20: (0.3585, 0.4391),
    }.items():
        ours = double_grubbs_critical(hands, 0.01), double_grubbs_critical(hands, 0.05)
        assert ours == pytest.approx(printed, abs=1.2e-4), hands


def test_mandel():
    """Table 6 of [ISO5725] at 1 %, as reprinted on a blog, for two, three and five repeats. It
    differs from the exact formulas by one in the last digit here and there."""
    for hands, h, k in (
        (5, 1.72, [2.05, 1.85, 1.65]),
        (8, 2.06, [2.25, 1.97, 1.71]),
        (10, 2.18, [2.32, 2.00, 1.74]),
    ):
        assert mandel_h_critical(hands, 0.01) == pytest.approx(h, abs=0.0101)
        assert mandel_k_critical(hands, [2, 3, 5], 0.01) == pytest.approx(k, abs=0.0101)


def test_mandel_at_five_percent():
    """By the formulas whose exactness [Wilrich2013] announces, worked out outside this project."""
    hands = [5, 8, 10, 15]
    assert mandel_h_critical(hands) == pytest.approx([1.571, 1.749, 1.798, 1.858], abs=5e-4)
    assert mandel_k_critical(hands, 2) == pytest.approx([1.814, 1.885, 1.904, 1.926], abs=5e-4)
    assert mandel_k_critical(hands, 3) == pytest.approx([1.623, 1.669, 1.683, 1.700], abs=5e-4)
