"""The one vocabulary of the problems: what a given number is called, its unit, and what it means.

A family may use these names only, so that every problem, its picture and its JSON speak alike. The
unit is in the name; the words stand in lists and in alternative texts, short words in pictures.
"""

from __future__ import annotations

from dataclasses import dataclass

from mensura.checks import MeasureError


@dataclass(frozen=True)
class Meaning:
    """What a name stands for.

    unit: as it is written, "" for a count or a plain number; words: in plain English; short: the
    same for a place in a picture that shows the rest, "" if the words are short enough.

    >>> Meaning("cm", "thickness of the bark", "bark").label, Meaning("cm", "girth").label
    ('bark', 'girth')
    """

    unit: str
    words: str
    short: str = ""

    @property
    def label(self) -> str:
        """The short words, where there are any."""
        return self.short or self.words


#: Names of given numbers. Those with _1, _2 … are one of several of a kind.
QUANTITIES: dict[str, Meaning] = {
    # girths and diameters of one section
    "girth_cm": Meaning("cm", "girth"),
    "girth_in": Meaning("in", "girth"),
    "girth_mm": Meaning("mm", "girth"),
    "growth_cm": Meaning("cm", "growth of the girth"),
    "diameter_cm": Meaning("cm", "diameter"),
    "diameter_in": Meaning("in", "diameter"),
    "first_diameter_cm": Meaning("cm", "longer diameter"),
    "second_diameter_cm": Meaning("cm", "shorter diameter"),
    "first_reading_cm": Meaning("cm", "first reading of the calipers", "first reading"),
    "second_reading_cm": Meaning("cm", "second reading, at right angles", "second reading"),
    "reading_cm": Meaning("cm", "reading"),
    "half_axis_a_cm": Meaning("cm", "longer half-axis"),
    "half_axis_b_cm": Meaning("cm", "shorter half-axis"),
    "side_cm": Meaning("cm", "side"),
    "width_cm": Meaning("cm", "width"),
    "area_cm2": Meaning("cm²", "area of the section", "area"),
    # how a tape lies
    "tilt_deg": Meaning("°", "tilt of the tape", "tilt"),
    "turn_deg": Meaning("°", "how far the calipers are turned off the axes", "turned by"),
    "overlap_offset_cm": Meaning("cm", "how far the tape's ends miss each other", "ends miss by"),
    "slack_cm": Meaning("cm", "slack"),
    "climber_cm": Meaning("cm", "diameter of the climber under the tape", "climber, across"),
    "girth_taper_cm_per_m": Meaning(
        "cm/m", "how fast the girth falls with height", "girth falls by"
    ),
    "height_off_m": Meaning("m", "how far the tape lies above breast height", "too high by"),
    # bark
    "bark_cm": Meaning("cm", "thickness of the bark", "bark"),
    "first_bark_cm": Meaning("cm", "bark where one jaw touches"),
    "second_bark_cm": Meaning("cm", "bark where the other jaw touches"),
    "bark_factor": Meaning("", "diameter under bark over that over bark", "bark factor"),
    # condition of a tape, and calipers
    "stretch_percent": Meaning("%", "stretch of the band", "stretch"),
    "shrink_percent": Meaning("%", "shrinkage of the band", "shrinkage"),
    "worn_start_cm": Meaning("cm", "length missing at the band's start", "worn away"),
    "temperature_c": Meaning("°C", "temperature of the band", "temperature"),
    "zero_error_cm": Meaning("cm", "reading of the closed calipers", "closed, they read"),
    "jaw_lean_deg": Meaning("°", "lean of the sliding jaw", "lean"),
    "contact_cm": Meaning(
        "cm", "distance of the touching point from the beam", "beam to touch point"
    ),
    "resolution_cm": Meaning("cm", "finest division of the scale"),
    # logs
    "log_length_m": Meaning("m", "length of the log", "length"),
    "log_length_ft": Meaning("ft", "length of the log", "length"),
    "mid_girth_cm": Meaning("cm", "girth at the middle of the log", "middle\ngirth"),
    "mid_girth_in": Meaning("in", "girth at the middle of the log", "middle\ngirth"),
    "mid_diameter_cm": Meaning("cm", "diameter at the middle of the log", "middle\ndiameter"),
    "butt_diameter_cm": Meaning("cm", "diameter at the thick end", "thick end\ndiameter"),
    "top_diameter_cm": Meaning("cm", "diameter at the thin end", "thin end\ndiameter"),
    "butt_girth_cm": Meaning("cm", "girth at the thick end", "thick end\ngirth"),
    "top_girth_cm": Meaning("cm", "girth at the thin end", "thin end\ngirth"),
    "tree_height_m": Meaning("m", "height of the tree"),
    "form_factor": Meaning("", "volume over that of the cylinder"),
    "hoppus_ft": Meaning("hoppus ft", "volume by the quarter-girth rule"),
    # plots
    "plot_radius_m": Meaning("m", "radius of the plot", "radius"),
    "plot_area_m2": Meaning("m²", "area of the plot", "plot"),
    "stem_count": Meaning("", "number of stems"),
    "slope_deg": Meaning("°", "slope of the ground", "slope"),
    # doubt
    "u_girth_cm": Meaning("cm", "standard uncertainty of the girth"),
    "u_diameter_cm": Meaning("cm", "standard uncertainty of a diameter"),
    "u_length_m": Meaning("m", "standard uncertainty of the length"),
    "u_reading_cm": Meaning("cm", "standard uncertainty of one reading"),
    "u_common_cm": Meaning("cm", "standard uncertainty that all readings share"),
    "reading_count": Meaning("", "number of readings"),
    "allowed_percent": Meaning("%", "error of the area that is allowed"),
    # growth between two readings
    "between_years": Meaning("years", "time between both readings", "time between"),
    "shrunk_cm": Meaning("cm", "by how much the second girth reads less", "reads less by"),
    "lost_bark_mm": Meaning("mm", "thickness of the bark that came off", "bark lost"),
    "higher_cm": Meaning("cm", "how much higher the band lay the second time", "higher by"),
    "diameter_taper_cm_per_m": Meaning(
        "cm/m", "how fast the diameter falls with height", "diameter falls by"
    ),
    "growths_sd_cm": Meaning("cm", "standard deviation of the growths"),
    "habit_percent": Meaning("%", "standard uncertainty of each hand's habit"),
    # how sure: a check beside a reference, a budget, how wide an interval must be
    "u_start_cm": Meaning("cm", "standard uncertainty of the zero error"),
    "u_scale_percent": Meaning("%", "standard uncertainty of the scale"),
    "correlation": Meaning("", "correlation of zero error and scale"),
    "mark_m": Meaning("m", "length of the mark from the start"),
    "u_mean_mm": Meaning("mm", "standard uncertainty of the mean reading"),
    "error_mm": Meaning("mm", "error found so far"),
    "u_one_mm": Meaning("mm", "standard uncertainty of one reading"),
    "u_reference_mm": Meaning("mm", "standard uncertainty of the reference"),
    "tilt_up_to_deg": Meaning("°", "greatest tilt of the tape"),
    "hand_sd_cm": Meaning("cm", "standard deviation of the hand's readings"),
    "expanded_cm": Meaning("cm", "expanded uncertainty from the tape's card"),
    "u_card_cm": Meaning("cm", "standard uncertainty from the tape's card"),
    "card_degrees": Meaning("", "degrees of freedom of the card"),
    "spread_cm": Meaning("cm", "standard deviation of single readings"),
    "allowed_u_cm": Meaning("cm", "standard uncertainty that is allowed"),
    "common_percent": Meaning("%", "what the tape adds on every stem"),
    "tape_spread_percent": Meaning("%", "spread by the tape, stem to stem"),
    "plot_min": Meaning("min", "time for the plot"),
    "way_min": Meaning("min", "to reach a stem"),
    "reading_min": Meaning("min", "a reading with its note"),
    "caliper_spread_percent": Meaning("%", "spread by the calipers, stem to stem"),
    # a class's readings
    "means_sd_cm": Meaning("cm", "standard deviation of the hands' means"),
    "differences_sd_cm": Meaning("cm", "standard deviation of the differences"),
    "tape_repeat_cm": Meaning("cm", "spread of tapings, as diameters"),
    "caliper_repeat_cm": Meaning("cm", "spread of caliper readings"),
    **{
        f"more_{k}_cm": Meaning("cm", f"what is read too much on stem {k}", f"too much on {k}")
        for k in range(1, 3)
    },
    **{
        f"apart_{k}_cm": Meaning(
            "cm", f"girth over π less calipers, stem {k}", f"tape less calipers {k}"
        )
        for k in range(1, 6)
    },
    # from readings to timber
    "section_length_m": Meaning("m", "length of each section", "section"),
    "huber_m3": Meaning("m³", "volume by Huber's rule", "by Huber"),
    "smalian_m3": Meaning("m³", "volume by Smalian's rule", "by Smalian"),
    "lower_diameter_cm": Meaning("cm", "diameter at the cut", "at the cut"),
    "upper_diameter_cm": Meaning("cm", "diameter further up", "further up"),
    "tip_m": Meaning("m", "from the cut to the tip", "cut to tip"),
    "above_cut_m": Meaning("m", "from the cut to the second diameter", "second diameter"),
    "plot_length_m": Meaning("m", "side of the plot down the slope", "down the slope"),
    "plot_width_m": Meaning("m", "side of the plot across the slope", "across the slope"),
    "plot_volume_m3": Meaning("m³", "volume that stands on the plot", "on the plot"),
    "factor_m2_per_ha": Meaning("m²/ha", "what each counted stem stands for", "factor"),
    "line_count": Meaning("", "stems just as wide as the gauge", "just as wide"),
    "u_diameter_percent": Meaning("%", "standard uncertainty of the diameter"),
    "u_height_percent": Meaning("%", "standard uncertainty of the height"),
    "u_form_percent": Meaning("%", "standard uncertainty of the form factor"),
    "u_each_percent": Meaning("%", "standard uncertainty that is new for each tree"),
    "u_all_percent": Meaning("%", "standard uncertainty that all trees share"),
    # a photograph of a cut end
    "scale_cm": Meaning("cm", "length of the scale", "scale"),
    "along_px": Meaning("px", "length of the scale to the right", "to the right"),
    "up_px": Meaning("px", "length of the scale upwards", "upwards"),
    "area_px2": Meaning("px²", "area of the section in the picture", "area"),
    "across_px": Meaning("px", "width of the frame in the picture", "frame, across"),
    "frame_up_px": Meaning("px", "height of the frame in the picture", "frame, upwards"),
    "camera_to_scale_m": Meaning("m", "from the camera to the scale", "camera to scale"),
    "nearer_cm": Meaning("cm", "how much nearer than the scale the cut lies", "cut nearer by"),
    "click_count": Meaning("", "number of points on the edge", "points"),
    "taut_girth_cm": Meaning("cm", "girth of a taut tape"),
    "true_area_cm2": Meaning("cm²", "true area of the section", "true area"),
    "scale_px": Meaning("px", "length of the scale in the picture", "scale"),
    "u_mark_px": Meaning("px", "standard uncertainty of each mark on the scale", "u of a mark"),
    "radius_px": Meaning("px", "radius of the section in the picture", "radius"),
    "u_edge_px": Meaning("px", "standard uncertainty of the whole edge", "u of the edge"),
    # where to measure: a standing stem in its ground
    "lean_deg": Meaning("°", "lean of the stem from plumb", "lean"),
    "taper_cm_per_m": Meaning("cm/m", "how fast the diameter falls with height", "diameter falls"),
    "rule_height_m": Meaning("m", "breast height by the rule", "breast height"),
    "laid_at_m": Meaning("m", "height at which the tape lies", "tape at"),
    "allowed_cm": Meaning("cm", "the reading may be too long by"),
    "on_girth_cm": Meaning("cm", "girth on the swelling", "girth on it"),
    "above_girth_cm": Meaning("cm", "girth above the swelling", "girth above"),
    "below_girth_cm": Meaning("cm", "girth below the swelling", "girth below"),
    "below_fork_cm": Meaning("cm", "girth just below the fork", "girth below the fork"),
    "buttress_top_m": Meaning("m", "height at which the buttresses end", "buttresses end at"),
    "fall_percent": Meaning("%", "what each metre takes of the diameter", "each metre takes"),
    "leg_diameter_cm": Meaning("cm", "diameter of each leg", "each leg"),
    "leg_gap_cm": Meaning("cm", "gap between the legs", "gap"),
    **{f"fork_{k}_m": Meaning("m", f"fork, from downhill, of stem {k}") for k in range(1, 6)},
    **{
        f"girth_at_{k}_cm": Meaning("cm", f"girth at the {which} place", f"{which} girth")
        for k, which in enumerate(("first", "second", "third", "fourth", "fifth"), 1)
    },
    **{
        name.format(k): Meaning(unit, words.format(which))
        for k, which in enumerate(("first", "second", "third", "fourth"), 1)
        for name, unit, words in (
            ("count_{}", "", "stems at the {} point"),
            ("volume_{}_m3", "m³", "{} volume"),
            ("area_{}_m2", "m²", "area of the {} plot"),
        )
    },
    **{f"girth_{k}_cm": Meaning("cm", f"girth of stem {k}", f"girth {k}") for k in range(1, 9)},
    **{
        f"diameter_{k}_cm": Meaning("cm", f"diameter of stem {k}", f"diameter {k}")
        for k in range(1, 9)
    },
    **{f"reading_{k}_cm": Meaning("cm", f"reading {k}") for k in range(1, 9)},
    **{
        f"width_{k}_cm": Meaning("cm", f"width by calipers of stem {k}", f"width {k}")
        for k in range(1, 9)
    },
    **{
        f"difference_{k}_cm": Meaning(
            "cm", f"difference of both tapings of stem {k}", f"tapings {k} differ by"
        )
        for k in range(1, 9)
    },
}


def meaning(name: str) -> Meaning:
    """What a name stands for.

    name: of a given number. Raises MeasureError for one outside the vocabulary.

    >>> meaning("mid_girth_cm").words
    'girth at the middle of the log'
    """
    if name not in QUANTITIES:
        raise MeasureError(
            "name", name, "", "a name of mensura/teaching/problems/vocabulary.py, like girth_cm"
        )
    return QUANTITIES[name]
