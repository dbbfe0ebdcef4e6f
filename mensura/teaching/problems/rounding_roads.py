"""The worked solutions once more, as numbers that go through a hand: what rounding on the way does.

Each road starts from the given numbers and ends at the answer. What the solution writes down on the
way, its `steps`, passes through `w`; what a calculator may show besides passes through `o`. With
nothing rounded a road ends at the family's answer, by other code (tests/teaching/problems).
"""

from __future__ import annotations

import math
from math import acos, cos, hypot, pi, radians, sin, sqrt, tan
from typing import Any

from mensura.stems.ellipse import ellipse_girth_cm
from mensura.teaching.answers.reply import Early
from mensura.teaching.problems.family import Family, Given
from mensura.teaching.problems.growth_roads import GROWTH_ROADS
from mensura.teaching.problems.place_roads import PLACE_ROADS
from mensura.teaching.problems.practical_roads import PRACTICAL_ROADS
from mensura.teaching.problems.sure_roads import SURE_ROADS, Road, Write
from mensura.teaching.problems.timber_roads import TIMBER_ROADS

_FOOT_M3 = 0.3048**3


def _circle(girth: float) -> float:
    """The area of a circle with this girth."""
    return girth**2 / (4 * pi)


def _disc(diameter: float) -> float:
    """The area of a circle of this width."""
    return pi / 4 * diameter**2


def _tape_on_an_oval(q: Any, w: Write, o: Write) -> float:
    a, b = q.first_diameter_cm, q.second_diameter_cm
    h = w(((a - b) / (a + b)) ** 2)
    longer = o(1 + h / 4 + h**2 / 64)
    return 100 * (o(o((a + b) ** 2 / (4 * a * b)) * o(longer**2)) - 1)


def _turned_reading(q: Any, o: Write, turn_deg: float) -> float:
    turn = radians(turn_deg)
    along = o(o(q.first_diameter_cm * cos(turn)) ** 2)
    return sqrt(along + o(o(q.second_diameter_cm * sin(turn)) ** 2))


def _turned_pair(q: Any, w: Write, o: Write) -> float:
    first, second = (w(_turned_reading(q, o, turn)) for turn in (q.turn_deg, 90 - q.turn_deg))
    mean = w((first + second) / 2)
    return 100 * (o(o(mean**2) / o(q.first_diameter_cm * q.second_diameter_cm)) - 1)


def _blackboard_girth(q: Any, w: Write, o: Write) -> float:
    a, b = q.half_axis_a_cm, q.half_axis_b_cm
    h = w(((a - b) / (a + b)) ** 2)
    exact = w(pi * (a + b) * (h / 4 + h**2 / 64))
    return w(o(2 * pi * sqrt((a * a + b * b) / 2)) - o(pi * (a + b))) - exact


def _tilted_tape(q: Any, w: Write, o: Write) -> float:
    along = w(1 / cos(radians(q.tilt_deg)))
    return float(q.reading_cm) / w(float(ellipse_girth_cm(2.0, 2.0 * along)) / (2 * pi))


def _climber(q: Any, w: Write, o: Write) -> float:
    d, c = q.diameter_cm, q.climber_cm
    turn = w(acos((d - c) / (d + c)))
    return w(2 * sqrt(d * c)) - w(turn * (d - c))


def _share_of_bark(q: Any, w: Write, o: Write) -> float:
    over = w(q.girth_cm / pi)
    return 100 * (1 - w((w(over - 2 * q.bark_cm) / over) ** 2))


def _bark_from_a_factor(q: Any, w: Write, o: Write) -> float:
    over = w(q.girth_cm / pi)
    return w(over - w(q.bark_factor * over)) / 2


def _growth_by_a_worn_tape(q: Any, w: Write, o: Write) -> float:
    later = w(q.girth_cm + w(q.growth_cm - q.worn_start_cm))
    return o(_circle(later)) - o(_circle(q.girth_cm))


def _slack_tape(q: Any, w: Write, o: Write) -> float:
    return 100 * (o(w(q.reading_cm / w(q.reading_cm - q.slack_cm)) ** 2) - 1)


def _zero_below_nothing(q: Any, w: Write, o: Write) -> float:
    first, second = (
        w(reading - q.zero_error_cm) for reading in (q.first_reading_cm, q.second_reading_cm)
    )
    return pi / 4 * o(w((first + second) / 2) ** 2)


def _leaning_jaw(q: Any, w: Write, o: Write) -> float:
    radius, lean = q.diameter_cm / 2, radians(q.jaw_lean_deg)
    reading = w(radius + o(radius * (1 - sin(lean)) / cos(lean)))
    return w(_disc(q.diameter_cm)) - w(_disc(reading))


def _axes_from_a_pair(q: Any, w: Write, o: Write) -> float:
    c, s = w(cos(radians(q.turn_deg)) ** 2), w(sin(radians(q.turn_deg)) ** 2)
    above = o(q.first_reading_cm**2 * c) - o(q.second_reading_cm**2 * s)
    return sqrt(above / w(c - s))


def _newton(q: Any, w: Write, o: Write) -> float:
    butt, mid, top = (
        w(_circle(girth / 100)) for girth in (q.butt_girth_cm, q.mid_girth_cm, q.top_girth_cm)
    )
    return w((butt + 4 * mid + top) / 6) * float(q.log_length_m)


def _paraboloid(q: Any, w: Write, o: Write) -> float:
    base = w(w(_circle(q.girth_cm / 100)) * q.tree_height_m / w(q.tree_height_m - 1.3))
    return base * float(q.tree_height_m) / 2


def _piece_of_a_cone(q: Any, w: Write, o: Write) -> float:
    thick, thin = q.butt_girth_cm, q.top_girth_cm
    return float(q.log_length_m) * w(o(thick**2) + o(thick * thin) + o(thin**2)) / (12 * pi) / 1e4


def _smalian_on_a_cone(q: Any, w: Write, o: Write) -> float:
    thick, thin = q.butt_diameter_cm, q.top_diameter_cm
    true = w((thick**2 + thick * thin + thin**2) / 3)
    return 100 * (o(w((thick**2 + thin**2) / 2) / true) - 1)


def _rule_over_bark(q: Any, w: Write, o: Write) -> float:
    under = w(q.mid_girth_cm - 2 * pi * q.bark_cm)
    return 100 * (o(o((q.mid_girth_cm / 4) ** 2) / o(_circle(under))) - 1)


def _basal_area(q: Any, w: Write, o: Write) -> float:
    girths = [getattr(q, f"girth_{number}_cm") for number in range(1, 6)]
    total = w(sum(o(girth**2) for girth in girths) / (4 * pi) / 1e4)
    return total * w(1e4 / w(pi * q.plot_radius_m**2))


def _quadratic_mean(q: Any, w: Write, o: Write) -> float:
    squares = [o(getattr(q, f"girth_{number}_cm") ** 2) for number in range(1, 7)]
    return w(sqrt(w(sum(squares) / 6))) / pi


def _from_readings(q: Any, w: Write, o: Write) -> float:
    readings = [getattr(q, f"reading_{number}_cm") for number in range(1, 6)]
    mean = w(sum(readings) / 5)
    return w(sqrt(w(sum((reading - mean) ** 2 for reading in readings)) / 4)) / sqrt(5)


def _expanded(q: Any, w: Write, o: Write) -> float:
    return 2 * w(w(_circle(q.girth_cm)) * w(200 * q.u_girth_cm / q.girth_cm) / 100)


def _stretched_less(q: Any, w: Write, o: Write) -> float:
    girth = w(q.reading_cm * w(1 + q.stretch_percent / 100))
    return w(_circle(girth)) - w(_circle(q.reading_cm))


def _slope_more(q: Any, w: Write, o: Write) -> float:
    radius = w(q.plot_radius_m / w(sqrt(w(cos(radians(q.slope_deg))))))
    return 100 * (radius - float(q.plot_radius_m))


def _column(q: Any, w: Write, o: Write) -> float:
    as_diameter = w(100 * q.tree_height_m / q.reading_cm)
    return float(q.reading_cm if 45 <= as_diameter <= 120 else q.reading_cm / pi)


#: Family → its road; none where the answer is a number of a list or a count.
ROADS: dict[str, Road] = {
    **SURE_ROADS,
    **PRACTICAL_ROADS,
    **PLACE_ROADS,
    **GROWTH_ROADS,
    **TIMBER_ROADS,
    "girth-to-diameter": lambda q, w, o: q.girth_cm / pi,
    "girth-to-area": lambda q, w, o: pi / 4 * o(w(q.girth_cm / pi) ** 2),
    "inches-to-diameter": lambda q, w, o: w(2.54 * q.girth_in) / pi,
    "diameter-to-basal-area": lambda q, w, o: w(pi / 4 * o(q.diameter_cm**2)) / 1e4,
    "area-to-girth": lambda q, w, o: sqrt(o(4 * pi * q.area_cm2)),
    "growth-of-area": lambda q, w, o: (
        w(_circle(w(q.girth_cm + q.growth_cm))) - w(_circle(q.girth_cm))
    ),
    "girth-or-diameter": _column,
    "oval-area": lambda q, w, o: pi / 4 * o(q.first_diameter_cm * q.second_diameter_cm),
    "tape-on-an-oval": _tape_on_an_oval,
    "mean-of-the-axes": lambda q, w, o: (
        100 * (o((w((q.first_diameter_cm + q.second_diameter_cm) / 2)
                  / w(sqrt(q.first_diameter_cm * q.second_diameter_cm))) ** 2) - 1)
    ),
    "turned-reading": lambda q, w, o: _turned_reading(q, o, q.turn_deg),
    "turned-pair": _turned_pair,
    "squared-beam": lambda q, w, o: w(_circle(w(4 * q.side_cm))) - w(q.side_cm**2),
    "same-in-every-direction": lambda q, w, o: o((pi - sqrt(3)) / 2) * o(q.width_cm**2),
    "classroom-claim": lambda q, w, o: (
        100 * o(w(q.half_axis_a_cm - q.half_axis_b_cm) ** 2)
        / o(2 * q.half_axis_a_cm * q.half_axis_b_cm)
    ),
    "blackboard-girth": _blackboard_girth,
    "at-least-so-much": lambda q, w, o: (
        o(_circle(w(pi * (q.half_axis_a_cm + q.half_axis_b_cm))))
        - o(pi * q.half_axis_a_cm * q.half_axis_b_cm)
    ),
    "how-oval-may-it-be": lambda q, w, o: q.half_axis_a_cm * w(
        1 + w(q.allowed_percent / 100)
        - o(sqrt((q.allowed_percent / 100) ** 2 + q.allowed_percent / 50))
    ),
    "tilted-tape": _tilted_tape,
    "ends-that-miss": lambda q, w, o: q.girth_cm * w(sqrt(q.allowed_percent / 100)),
    "climber-under-the-tape": _climber,
    "taped-too-high": lambda q, w, o: o(
        w(q.reading_cm + w(q.girth_taper_cm_per_m * q.height_off_m)) ** 2
    ) / (4 * pi),
    "slack-tape": _slack_tape,
    "girth-under-bark": lambda q, w, o: q.girth_cm - w(2 * pi * q.bark_cm),
    "share-of-bark": _share_of_bark,
    "wood-from-a-bark-factor": lambda q, w, o: w(_circle(q.girth_cm)) * w(q.bark_factor**2),
    "bark-from-a-factor": _bark_from_a_factor,
    "two-gauge-readings": lambda q, w, o: pi / 4 * o(
        w(q.diameter_cm - w(q.first_bark_cm + q.second_bark_cm)) ** 2
    ),
    "girth-for-a-wanted-wood": lambda q, w, o: pi * w(q.diameter_cm / q.bark_factor),
    "how-far-stretched": lambda q, w, o: 100 * (w(q.girth_cm / q.reading_cm) - 1),
    "area-by-a-stretched-tape": lambda q, w, o: o(
        w(q.reading_cm * w(1 + q.stretch_percent / 100)) ** 2
    ) / (4 * pi),
    "shrunken-tape": lambda q, w, o: (
        q.reading_cm - w(q.reading_cm * w(1 - q.shrink_percent / 100))
    ),
    "growth-by-a-worn-tape": _growth_by_a_worn_tape,
    "two-faults-in-one-tape": lambda q, w, o: (
        w(w(q.girth_cm / (1 + q.stretch_percent / 100)) + q.worn_start_cm) - q.girth_cm
    ),
    "steel-in-the-frost": lambda q, w, o: (
        w(10 * q.girth_cm) * 0.0000116 * w(20 - q.temperature_c)
    ),
    "how-warm-until-it-matters": lambda q, w, o: 20 + w(0.05 / w(q.girth_cm * 0.0000116)),
    "zero-below-nothing": _zero_below_nothing,
    "zero-from-a-post": lambda q, w, o: q.reading_cm - w(q.girth_cm / pi),
    "leaning-jaw-area": _leaning_jaw,
    "batten-at-the-tips": lambda q, w, o: (
        q.reading_cm + w(q.contact_cm * w(tan(radians(q.jaw_lean_deg))))
    ),
    "axes-from-a-turned-pair": _axes_from_a_pair,
    "huber": lambda q, w, o: w(_circle(q.mid_girth_cm / 100)) * q.log_length_m,
    "smalian": lambda q, w, o: (
        (w(_disc(q.butt_diameter_cm / 100)) + w(_disc(q.top_diameter_cm / 100)))
        / 2 * q.log_length_m
    ),
    "newton": _newton,
    "piece-of-a-cone": _piece_of_a_cone,
    "paraboloid-stem": _paraboloid,
    "form-factor": lambda q, w, o: q.form_factor * w(
        w(_circle(q.girth_cm / 100)) * q.tree_height_m
    ),
    "smalian-on-a-cone": _smalian_on_a_cone,
    "quarter-girth": lambda q, w, o: o((w(q.mid_girth_cm / 4) / 100) ** 2) * q.log_length_m,
    "hoppus-feet": lambda q, w, o: o(w(q.mid_girth_in / 4) ** 2) * q.log_length_ft / 144,
    "true-from-hoppus": lambda q, w, o: w(q.hoppus_ft / o(pi / 4)) * _FOOT_M3,
    "wood-left-out": lambda q, w, o: (
        w(_circle(q.mid_girth_cm / 100) * q.log_length_m)
        - w((q.mid_girth_cm / 400) ** 2 * q.log_length_m)
    ),
    "rule-over-bark": _rule_over_bark,
    "basal-area-per-hectare": _basal_area,
    "stems-per-hectare": lambda q, w, o: q.stem_count * w(1e4 / w(pi * q.plot_radius_m**2)),
    "quadratic-mean-diameter": _quadratic_mean,
    "plot-radius": lambda q, w, o: sqrt(w(q.plot_area_m2 / pi)),
    "plot-on-a-slope": lambda q, w, o: q.plot_radius_m / w(sqrt(w(cos(radians(q.slope_deg))))),
    "doubt-of-an-area": lambda q, w, o: 2 * w(100 * q.u_girth_cm / q.girth_cm),
    "expanded-doubt-of-an-area": _expanded,
    "doubt-of-a-volume": lambda q, w, o: hypot(
        w(200 * q.u_girth_cm / q.mid_girth_cm), w(100 * q.u_length_m / q.log_length_m)
    ),
    "doubt-of-a-mean": lambda q, w, o: hypot(
        w(q.u_reading_cm / sqrt(q.reading_count)), q.u_common_cm
    ),
    "doubt-from-readings": _from_readings,
    "doubt-of-growth": lambda q, w, o: (
        100 * w(2 * w(sqrt(2) * q.u_girth_cm)) / q.growth_cm
    ),
    "greatest-second-reading": lambda q, w, o: sqrt(
        o(w(q.girth_cm / 2) ** 2) - o(q.first_reading_cm**2)
    ),
    "least-second-reading": lambda q, w, o: w(q.girth_cm / 2) - q.first_reading_cm,
}  # fmt: skip

#: The same for a later form of a family that asks something else: its key, and since which edition.
LATER: dict[tuple[str, int], Road] = {
    ("area-by-a-stretched-tape", 2): _stretched_less,
    ("plot-on-a-slope", 2): _slope_more,
}


def road_of(family: Family) -> Road | None:
    """The road of a family, in its form; None where the answer is a number of a list or a count.

    family: which method.
    """
    return LATER.get((family.key, family.from_edition), ROADS.get(family.key))


def to_figures(figures: int) -> Write:
    """Rounding to some figures, as a hand writes a number down.

    figures: how many, from 1.

    >>> to_figures(3)(75.026), to_figures(3)(0.0)
    (75.0, 0.0)
    """

    def write(value: float) -> float:
        if not value or not math.isfinite(value):
            return value
        return round(value, figures - 1 - math.floor(math.log10(abs(value))))

    return write


def as_it_is(value: float) -> float:
    """No rounding.

    value: in any unit.
    """
    return value


def early(family: Family, given: Given) -> tuple[Early, ...]:
    """Where a problem's road ends if the numbers on it are rounded too early; none without a road.

    family: in its form; given: the problem's numbers, by name.

    >>> from mensura.teaching.problems.bank import family
    >>> [(one.figures, round(one.values[0], 3)) for one in early(family("zero-from-a-post"),
    ...     Given({"girth_cm": 100.0, "reading_cm": 32.35}))][1:]
    [(4, 0.52), (3, 0.55), (2, 0.35)]
    """
    road = road_of(family)
    if road is None:
        return ()
    exact = road(given, as_it_is, as_it_is)
    found = []
    for figures in (5, 4, 3, 2):
        write = to_figures(figures)
        values = (road(given, write, write), road(given, write, as_it_is))
        found.append(Early(figures, values, _reach(road, given, exact, figures)))
    return tuple(found)


def _reach(road: Road, given: Any, exact: float, figures: int) -> float:
    """How far the end moves if every number on the way is off by half its last place.

    A number that is given with more figures than that is rounded as well.
    """
    total = 0.0
    for name in given.names:
        cut = to_figures(figures)(getattr(given, name)) - getattr(given, name)
        total += abs(road(given.moved(name, cut), as_it_is, as_it_is) - exact) if cut else 0.0
    met: list[float] = []

    def note(value: float) -> float:
        met.append(value)
        return value

    road(given, note, note)
    for place, value in enumerate(met):
        if to_figures(figures)(value) == value:
            continue
        half = 0.5 * 10.0 ** (math.floor(math.log10(abs(value))) + 1 - figures)
        total += max(abs(_end(road, given, place, way * half) - exact) for way in (-1, 1))
    return total


def _end(road: Road, given: Any, place: int, by: float) -> float:
    """The road's end with one number on the way moved."""
    count = -1

    def moved(value: float) -> float:
        nonlocal count
        count += 1
        return value + by if count == place else value

    try:
        return road(given, moved, moved)
    except ValueError:
        return road(given, as_it_is, as_it_is)
