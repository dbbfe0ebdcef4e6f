"""Where the tape goes on a standing stem: slope, lean, breast height, swelling, buttress.

Stems and trainees are invented (Quillmere Practice Wood). A place is chosen before a tape is
unrolled, and each family finds what another place makes of the reading. The rule that is followed
stands in each problem's text. Slope and lean are in `parts/leaning.py`, forks and coppice in
`parts/two_stems.py`.
"""

from __future__ import annotations

from typing import Any

from mensura.estimates.areas import area_from_diameters_cm2, area_from_girth_cm2, over_percent
from mensura.stems.standing import StemInSpace
from mensura.teaching.problems.family import Family, Quantity, Slip
from mensura.teaching.problems.parts.leaning import LEANING
from mensura.teaching.problems.parts.two_stems import TWO_STEMS

#: Breast height in these problems, m above the ground.
_RULE_M = 1.3


def _area_percent(share_percent: float) -> float:
    """What an area gains where the diameter gains some per cent."""
    return 100 * ((1 + share_percent / 100) ** 2 - 1)


# ---- other heights -------------------------------------------------------------------------------


def _cone_percent(q: Any) -> float:
    stem = StemInSpace(40.0, _RULE_M, taper_cm_per_m=40.0 / (q.tree_height_m - _RULE_M))
    there, right = (stem.section_at(one).area_cm2 for one in (q.laid_at_m, _RULE_M))
    return -float(over_percent(there, right))


def _cone_share(q: Any) -> float:
    """What the diameter has lost on the way from breast height, in per cent."""
    return float(100 * (q.laid_at_m - _RULE_M) / (q.tree_height_m - _RULE_M))


def _swelling_percent(q: Any, girth_cm: float) -> float:
    there, right = (area_from_girth_cm2(one) for one in (q.on_girth_cm, girth_cm))
    return float(over_percent(there, right))


def _between_cm(q: Any) -> float:
    return float(q.above_girth_cm + q.below_girth_cm) / 2


def _left_percent(q: Any, up_m: float) -> float:
    """What is left of the diameter so far up."""
    return float(100 * (1 - q.fall_percent / 100) ** up_m)


def _up_m(q: Any) -> float:
    return float(q.buttress_top_m + 0.5 - _RULE_M)


def _less_percent(q: Any, up_m: float) -> float:
    there, right = area_from_diameters_cm2([[_left_percent(q, up_m)], [100.0]])
    return -float(over_percent(there, right))


FAMILIES = [
    *LEANING,
    Family(
        key="another-breast-height",
        topic="place",
        title="Breast height of another country",
        text="A tree, {tree_height_m} m high, tapers evenly to its tip like a cone. Its plot's "
        "breast height is 1.30 m; a visitor lays the tape at {laid_at_m} m, as at home. By how "
        "many per cent is the visitor's sectional area smaller?",
        given=[
            Quantity("tree_height_m", 14.0, 30.0, 0.5, exact=True),
            Quantity("laid_at_m", 1.35, 1.42, 0.01, exact=True),
        ],
        unit="%",
        answer=_cone_percent,
        steps={
            "to_tip_m": lambda q: q.tree_height_m - _RULE_M,
            "share_percent": _cone_share,
        },
        hints=[
            "A cone's diameter is in proportion to what? To the way that is left to the tip.",
            "From 1.30 m to the tip it is H − 1.30 m. The share of it by which the tape lies "
            "higher is the share that the diameter loses.",
            "Take ({laid_at_m} − 1.30)/({tree_height_m} − 1.30) off 1, and square it: what is "
            "left of the area?",
        ],
        solution="From 1.30 m it is {tree_height_m} − 1.30 = {to_tip_m} m to the tip. The tape "
        "lies {laid_at_m} − 1.30 of them higher: the diameter loses {share_percent} %. The area "
        "loses 2·{share_percent} − {share_percent}²/100 = {answer} %. Twice the diameter's per "
        "cent is an approximation, near enough here. Fuller stems lose less.",
        slips=[
            Slip("as-a-diameter", _cone_share,
                 "That is what the diameter loses. The area goes with its square."),
            Slip("tip-from-the-ground",
                 lambda q: -_area_percent(-100 * (q.laid_at_m - _RULE_M) / q.tree_height_m),
                 "You took the whole height. The diameter is known at 1.30 m: from there to the "
                 "tip it is 1.30 m less."),
            Slip("from-the-ground",
                 lambda q: -_area_percent(-100 * q.laid_at_m / q.tree_height_m),
                 "That is against the foot of the cone. Asked is against breast height."),
            Slip("ratio-of-heights",
                 lambda q: -_area_percent(100 * (_RULE_M / q.laid_at_m - 1)),
                 "The diameter does not go with the height above the ground, but with the way "
                 "that is left to the tip."),
            Slip("wrong-way",
                 lambda q: -_cone_percent(q),
                 "Asked is by how much it is smaller: that is a number above 0."),
        ],
        picture="standing",
        source="theorem (similar triangles in a cone)",
    ),
    Family(
        key="swelling-at-breast-height",
        topic="place",
        title="A swelling at breast height",
        text="A whorl swells a stem just at breast height. On it the girth is {on_girth_cm} cm; "
        "at equal distances above and below, where the stem is sound, it is {above_girth_cm} and "
        "{below_girth_cm} cm. The rule takes the mean of these two. By how many per cent is the "
        "sectional area too large if the tape goes over the swelling?",
        given=[
            Quantity("on_girth_cm", 107.0, 113.0, 0.1),
            Quantity("above_girth_cm", 95.0, 99.0, 0.1),
            Quantity("below_girth_cm", 100.0, 104.0, 0.1),
        ],
        unit="%",
        answer=lambda q: _swelling_percent(q, _between_cm(q)),
        steps={
            "mean_cm": _between_cm,
            "quotient": lambda q: q.on_girth_cm / _between_cm(q),
        },
        hints=[
            "What would the girth be just there, if there were no swelling?",
            "With an even taper it is the mean of those above and below. Set the girth on the "
            "swelling against it, and square.",
            "Work out 100·(({on_girth_cm}/(({above_girth_cm} + {below_girth_cm})/2))² − 1).",
        ],
        solution="The mean is ({above_girth_cm} + {below_girth_cm})/2 = {mean_cm} cm, and "
        "{on_girth_cm}/{mean_cm} = {quotient}. Squared, less 1, times 100, it is {answer} %. The "
        "mean of two areas is an approximation of the same. Above or below alone would bring the "
        "taper in.",
        slips=[
            Slip("above-alone", lambda q: _swelling_percent(q, q.above_girth_cm),
                 "You took the girth above alone. The stem is thicker at breast height: the mean "
                 "of above and below counts."),
            Slip("below-alone", lambda q: _swelling_percent(q, q.below_girth_cm),
                 "You took the girth below alone. The stem is thinner at breast height: the mean "
                 "of above and below counts."),
            Slip("squared-too-late", lambda q: 100 * (q.on_girth_cm / _between_cm(q) - 1),
                 "That is by how much the girth is too long. The area goes with its square."),
            Slip("wrong-base",
                 lambda q: 100 * (1 - (_between_cm(q) / q.on_girth_cm) ** 2),
                 "You took it as a share of the swelling's area. Asked is a share of the area by "
                 "the rule."),
            Slip("swelling-in-the-mean",
                 lambda q: _swelling_percent(
                     q, (q.on_girth_cm + q.above_girth_cm + q.below_girth_cm) / 3),
                 "The swelling is in your mean. Leave it out."),
        ],
        picture="standing",
        source="[DeYoung2016] [KramerAkca1995]",
    ),
    Family(
        key="above-the-buttresses",
        topic="place",
        title="What is lost by going above the buttresses",
        text="The buttresses of a tree end {buttress_top_m} m above the ground. By the rule of its "
        "plot the tape goes 0.50 m above them. Take it that the round stem, inside the buttresses "
        "too, loses with each metre {fall_percent} % of the diameter that it had a metre "
        "below. By how many per cent is the sectional area where the tape lies smaller than that "
        "of the round stem at 1.30 m?",
        given=[
            Quantity("buttress_top_m", 2.6, 6.0, 0.1, exact=True),
            Quantity("fall_percent", 5.0, 9.5, 0.5, exact=True),
        ],
        unit="%",
        answer=lambda q: _less_percent(q, _up_m(q)),
        steps={
            "up_m": _up_m,
            "left": lambda q: _left_percent(q, _up_m(q)) / 100,
        },
        hints=[
            "How many metres lie between 1.30 m and the tape? And what is left of the diameter "
            "after one of them?",
            "After x metres (1 − p/100)ˣ of the diameter is left; x need not be whole. Of the area "
            "its square is left.",
            "Work out 1 − {fall_percent}/100, raise it to {buttress_top_m} + 0.50 − 1.30, "
            "square it, and see what is missing to 1.",
        ],
        solution="From 1.30 m to the tape it is {buttress_top_m} + 0.50 − 1.30 = {up_m} m. Of the "
        "diameter {left} is left, of the area the square of it: {answer} % are missing. Whoever "
        "compares plots must know at which height each stem was taped. On a ladder or wet "
        "buttresses only by the owner's rules.",
        slips=[
            Slip("straight-line",
                 lambda q: -_area_percent(-q.fall_percent * _up_m(q)),
                 "You let the stem lose as much with each metre as with the first. It loses a "
                 "share of what is left."),
            Slip("diameter-for-area", lambda q: 100 - _left_percent(q, _up_m(q)),
                 "That is what the diameter loses. The area goes with its square."),
            Slip("from-the-ground", lambda q: _less_percent(q, q.buttress_top_m + 0.5),
                 "You began at the ground. It is set against the stem at 1.30 m."),
            Slip("half-metre-forgotten", lambda q: _less_percent(q, q.buttress_top_m - _RULE_M),
                 "The tape lies half a metre above the buttresses' end."),
            Slip("wrong-base",
                 lambda q: 100 * ((100 / _left_percent(q, _up_m(q))) ** 2 - 1),
                 "You took it as a share of the smaller area. Asked is a share of that at 1.30 m."),
        ],
        picture="standing",
        source="[Metcalf2009] for what a metre takes; closed form for the rest",
    ),
    *TWO_STEMS,
]  # fmt: skip
