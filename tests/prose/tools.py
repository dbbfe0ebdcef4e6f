"""The names in which the figures of the prose are worked out: mathematics and the package's own.

What a row needs besides is written here as a function, with the reason of its name.
"""

from __future__ import annotations

import math
from statistics import NormalDist
from typing import Any

import numpy as np

import mensura
from mensura.estimates import Matters, areas, out_of_round, place_readings
from mensura.estimates.comparison import PRACTICES
from mensura.estimates.place_costs import TREE_M
from mensura.estimates.quillmere_practical import quillmere_practical
from mensura.estimates.tree_volume import USUAL_FORM_FACTOR
from mensura.estimates.which_instrument import CALIPERS, TAPE, Morning, most_readings
from mensura.instruments.drawn_photograph import spoilt_photographs
from mensura.instruments.faults import fault
from mensura.instruments.line_fit import student_factor
from mensura.instruments.materials import REFERENCE_C, REFERENCE_N, material
from mensura.instruments.tape_card import Card, card
from mensura.instruments.tape_check import TapeCheck, check_tape
from mensura.instruments.typical import GIRTH_CM
from mensura.teaching.problems.bank import problem
from mensura.teaching.problems.family import LEAST_TOLERANCE_PERCENT
from mensura.teaching.problems.parts.stems import BREAST_HEIGHT_M

NAMES: dict[str, Any] = {
    **{name: getattr(mensura, name) for name in dir(mensura) if not name.startswith("_")},
    **{name: one for name, one in vars(areas).items() if not name.startswith("_")},
    **{name: one for name, one in vars(math).items() if not name.startswith("_")},
    **{name: one for name, one in vars(out_of_round).items() if not name.startswith("_")},
    "BREAST_HEIGHT_M": BREAST_HEIGHT_M,
    "CALIPERS": CALIPERS,
    "LEAST_TOLERANCE_PERCENT": LEAST_TOLERANCE_PERCENT,
    "Matters": Matters,
    "Morning": Morning,
    "PRACTICES": PRACTICES,
    "REFERENCE_C": REFERENCE_C,
    "REFERENCE_N": REFERENCE_N,
    "TAPE": TAPE,
    "TREE_M": TREE_M,
    "USUAL_FORM_FACTOR": USUAL_FORM_FACTOR,
    "abs": abs,
    "fault": fault,
    "material": material,
    "place_readings": place_readings,
    "quillmere_practical": quillmere_practical,
    "len": len,
    "math": math,
    "max": max,
    "mean": lambda values: sum(values) / len(values),
    "min": min,
    "np": np,
    "round": round,
    "spoilt_photographs": spoilt_photographs,
    "student_factor": student_factor,
    "sum": sum,
    "typical_girth_cm": GIRTH_CM,
}


def name(tool: Any) -> Any:
    """Lets rows use a function by its name."""
    NAMES[tool.__name__] = tool
    return tool


@name
def normal_point(share: float) -> float:
    """Where so much of the normal law lies below. share: of 1."""
    return NormalDist().inv_cdf(share)


@name
def leading(over_percent: Any) -> float:
    """What an excess over the ellipse's area tends to, in parts of (a − b)²/(ab), as b → a.

    over_percent: from the ratio of the axes, in per cent. Two near ratios, and their error taken
    off; to five decimals.
    """

    def share(gap: float) -> float:
        ratio = 1.0 - gap
        return float(over_percent(ratio)) / 100 * ratio / gap**2

    return round((4 * share(0.01) - share(0.02)) / 3, 5)


@name
def panel(which: str) -> Any:
    """A chapter's panel, for its presets and controls. which: "laying", as its module is called."""
    from importlib import import_module

    home = import_module(f"mensura.views.chapters.{which}")
    return next(one for called, one in vars(home).items() if called.endswith("PANEL"))


@name
def ripple_along_cm(outline: Any, n: int, direction_deg: float) -> float:
    """How high ripple n of a hull stands in one direction: its cosine part, counted from there."""
    terms = mensura.outline_terms(outline, n)
    turn = n * math.radians(direction_deg)
    return float(terms.cosine_cm[-1] * math.cos(turn) + terms.sine_cm[-1] * math.sin(turn))


@name
def least_ripple_mm(first_cm: float, second_cm: float) -> float:
    """Down to which fourth ripple two calipers on the axes, averaged, stay nearer than a tape.

    first_cm, second_cm: the axes of the ellipse whose ripple is changed. Below it the mean claims
    too little by more than the tape claims too much; the tape's error grows with the ripple too.
    """
    oval, least = mensura.Ellipse(first_cm, second_cm), 0.0
    while True:
        stem = mensura.RippledOval(oval, least)
        mean_cm = float(stem.width_cm(0.0) + stem.width_cm(90.0)) / 2
        tape_cm2 = float(areas.area_from_girth_cm2(stem.taut_girth_cm))
        if stem.area_cm2 - math.pi / 4 * mean_cm**2 > tape_cm2 - stem.area_cm2:
            return 10 * float(stem.fourth_cm)
        least -= 0.001


@name
def flat_climber_adds_cm(thick_cm: float, wide_cm: float, stem_cm: float) -> float:
    """What an elliptic climber that lies with its flat side on a round stem adds to a taut tape.

    thick_cm, wide_cm: its diameters; stem_cm: the stem's. From the hull of both, drawn; in cm.
    """
    turn = np.linspace(0, 2 * np.pi, 20_001)[:-1]
    stem = stem_cm / 2 * np.column_stack([np.cos(turn), np.sin(turn)])
    climber = np.column_stack([thick_cm * np.cos(turn), wide_cm * np.sin(turn)]) / 2
    climber[:, 0] += (stem_cm + thick_cm) / 2
    hull = mensura.Outline(mensura.stems.hulls.hull_points_cm(np.vstack([stem, climber])))
    return float(hull.taut_girth_cm) - math.pi * stem_cm


@name
def student_covers_percent(factor: float, degrees_of_freedom: int) -> float:
    """What so many times the standard uncertainty covers, either way, from few readings.

    By the angle whose tangent is factor/√ν: Student's density is a power of its cosine, added up
    here, so that the package's own table of factors is not asked.
    """
    power = degrees_of_freedom - 1

    def area(to: float) -> float:
        angles = (np.arange(20_000) + 0.5) * to / 20_000
        return float(np.sum(np.cos(angles) ** power)) * to / 20_000

    return 100 * area(math.atan(factor / math.sqrt(degrees_of_freedom))) / area(math.pi / 2)


@name
def t3() -> TapeCheck:
    """The check of tape T3 in workbook 06: its readings beside the reference."""
    return check_tape([50, 100, 150], [51.3, 100.7, 150.2], thickness_cm=0.04)


@name
def t3_card() -> Card:
    """The card of tape T3 in workbook 10, from six marks."""
    return card([20, 50, 100, 150, 200, 250], [21.6, 51.3, 100.7, 150.2, 199.7, 249.0])


@name
def readings_there(instrument: str) -> int:
    """How often the morning of workbook 10 lets each stem be read. instrument: "tape" or
    "calipers", these in pairs."""
    kit, way = (TAPE, "girth") if instrument == "tape" else (CALIPERS, "products")
    return int(most_readings(Morning(), kit, way))


@name
def plot_share(part: str) -> float:
    """A part of a plot's basal area that hand and card leave unsure in workbook 10, as a share.

    part: "calipers, hand", "calipers, card" and the same of the tape, by the formulas of the page:
    2u/(R·√(nN)) and 2u/R.
    """
    plot, (instrument, whose) = Morning(), part.split(", ")
    kit = TAPE if instrument == "tape" else CALIPERS
    size_cm = plot.diameter_cm * (math.pi if instrument == "tape" else 1.0)
    if whose == "card":
        return float(2 * kit.common_cm / size_cm)
    many = readings_there(instrument) * plot.stem_count
    return float(2 * kit.hand_cm / size_cm / math.sqrt(many))


@name
def flip_q() -> float:
    """(a − b)²/ab at which both instruments err alike, to leading order, as workbook 10 has it."""
    calipers, tape = (
        sum(plot_share(f"{one}, {part}") ** 2 for part in ("hand", "card"))
        for one in ("calipers", "tape")
    )
    return math.sqrt((calipers - tape) / (9 / 64 - 1 / 16 - 1 / (32 * Morning().stem_count)))


@name
def turned_over_percent(first_cm: float, second_cm: float, count: int) -> list[float]:
    """How far one reading of an ellipse, or the mean of two, errs in the area, at each degree.

    first_cm, second_cm: its axes; count: 1 or 2 readings, at right angles.
    """
    stem = mensura.Ellipse(first_cm, second_cm)
    turns = [np.arange(180.0) + 90.0 * k for k in range(count)]
    mean_cm = sum(stem.width_cm(turn) for turn in turns) / count
    return list(100 * (math.pi / 4 * mean_cm**2 / stem.area_cm2 - 1))


@name
def q07_gets(kind: str, number: str) -> float:
    """A number of the problem of a kind that workbook 08 gives the trainee Q07."""
    return float(problem(kind, "Q07", "quillmere").numbers[number])


@name
def tilt_within_deg(percent: float) -> float:
    """Up to which tilt both short ways to a tilted loop's length err by so many per cent at most.

    The ways: the root of 1/cos θ, and 1 + tan²θ/4. percent: of the loop's length. To 0.1 degrees.
    """
    stem = mensura.circle(40.0)
    for tilt in np.arange(0.1, 80.0, 0.1):
        times = stem.oblique_girth_cm(tilt) / stem.taut_girth_cm
        turn = math.radians(tilt)
        ways = (1 / math.sqrt(math.cos(turn)), 1 + math.tan(turn) ** 2 / 4)
        if max(abs(way / times - 1) for way in ways) > percent / 100:
            return float(tilt - 0.1)
    raise ValueError(f"no tilt up to 80 degrees errs by {percent} %")
