"""How a tape can lie wrongly: the first rows of the list of faults, in the order they are taken.

What they add is summed by :class:`mensura.instruments.lay.Lay`, which has a field for each number.
"""

from __future__ import annotations

from mensura.checks import LARGEST_CM
from mensura.instruments.fault import LAY, Fault, Setting, Slider, Typical

_LENGTH = {"at_least": 0.0, "at_most": LARGEST_CM}
_ANGLE = {"above": -90.0, "below": 90.0}

#: Why a fault is not asked for in the game of wrong readings.
TOO_LITTLE = "of a typical size it adds less than two readings can tell apart"

# fmt: off
LAY_FAULTS: tuple[Fault, ...] = (
    Fault(
        "height",
        LAY,
        (
            Setting(
                "height_off_m", "m", "How far above breast height; below 0 is lower.",
                {"at_least": -10.0, "at_most": 100.0},
                slider=Slider("height off by", -0.5, 0.5, 0.05, -0.3, "m"),
            ),
            Setting(
                "taper_cm_per_m", "cm/m", "By how much the diameter falls with each metre.",
                {"at_least": -100.0, "at_most": 100.0}, beside="height_off_m",
            ),
        ),
        "Wrong height",
        "The stem is thicker below and thinner above: its girth changes by π times what the "
        "diameter does.",
        "either",
        "not",
        (
            Typical(
                {"height_off_m": -0.3, "taper_cm_per_m": 1.0},
                "0.3 m too low, taper 1 cm a metre",
            ),
            Typical(
                {"height_off_m": 1.0, "taper_cm_per_m": 1.0},
                at="for every cm that it is thinner there", case="too high",
            ),
            Typical(
                {"height_off_m": -1.0, "taper_cm_per_m": 1.0},
                at="for every cm that it is thicker there", case="too low",
            ),
        ),
        made_by=("height_off_m", "taper_cm_per_m"),
        left_out_of={"chapter panel": "a band at another height lies round another section"},
    ),
    Fault(
        "pressing",
        LAY,
        (
            Setting(
                "press_cm", "cm", "How deep the band is pressed into soft bark.", _LENGTH,
                slider=Slider("band presses in", 0, 0.5, 0.05, 0.1, "cm"),
            ),
        ),
        "Band pressed into soft bark",
        "Each millimetre that it sinks in takes 2π mm off the girth.",
        "too little",
        "not",
        (Typical({"press_cm": 0.1}, "bark pressed in by 1 mm", "for every millimetre"),),
        left_out_of={
            "chapter panel": "a millimetre is less than the width of the band's line there",
            "wrong picture": "a millimetre cannot be seen in a drawing of the whole stem",
        },
    ),
    Fault(
        "climber",
        LAY,
        (
            Setting(
                "climber_cm", "cm", "Diameter of a climber caught under the band.", _LENGTH,
                slider=Slider("climber across", 0, 4, 0.1, 1.5, "cm"),
            ),
            Setting(
                "climber_direction_deg", "deg", "Where it stands, from the first axis.",
                slider=Slider("climber stands at", 0, 180, 5, 60, "°"),
            ),
        ),
        "Climber caught under the band",
        "The band bridges the gap on either side of it. Ease it off with gloved hands: it may have "
        "thorns and hide insects.",
        "too much",
        "not",
        (
            Typical(
                {"climber_cm": 2.0},
                "climber as thick as a thumb, 2 cm",
                "for a climber as thick as a thumb (2 cm)",
            ),
        ),
    ),
    Fault(
        "knot",
        LAY,
        (
            Setting(
                "knot_cm", "cm", "Height of a knot or flake under the band.", _LENGTH,
                slider=Slider("knot, height", 0, 3, 0.1, 1, "cm"),
            ),
            Setting(
                "knot_width_cm", "cm", "How wide its top is, along the bark; 0 is a point.",
                _LENGTH,
            ),
        ),
        "Knot under the band",
        "Over a knot the band leaves the bark on either side. Measure as far above it as below, "
        "and take the mean.",
        "too much",
        "not",
        (
            Typical({"knot_cm": 1.0}, "knot 1 cm high", "for 1 cm high"),
            Typical({"knot_cm": 1.0, "knot_width_cm": 10.0}, at="for one 10 cm wide"),
        ),
        left_out_of={
            "chapter panel": "it lifts the band as the twist does, and the column of controls is "
            "full; the panel with all faults has it"
        },
    ),
    Fault(
        "twist",
        LAY,
        (
            Setting(
                "twist_lift_cm", "cm", "Stand-off of the band where it is twisted.", _LENGTH,
                slider=Slider("twist, stand-off", 0, 2, 0.1, 0.6, "cm"),
            ),
        ),
        "Twist",
        "At a twist the band leaves the bark on either side.",
        "too much",
        "not",
        (
            Typical(
                {"twist_lift_cm": 0.5}, "twist that stands off 0.5 cm", "for a stand-off of 0.5 cm"
            ),
        ),
    ),
    Fault(
        "tilt",
        LAY,
        (
            Setting(
                "tilt_deg", "deg", "How far the tape is tilted; 0 is square to the stem.", _ANGLE,
                slider=Slider("tilt", 0, 15, 0.5, 6, "°"),
            ),
            Setting(
                "tilt_direction_deg", "deg", "Where it rises steepest, from the first axis.",
                slider=Slider("rises towards", -90, 90, 5, 30, "°"),
            ),
        ),
        "Tilt",
        "A tilted band goes round an ellipse, which is longer than the circle.",
        "too much",
        "not",
        tuple(
            Typical({"tilt_deg": float(turn)}, f"tilt of {turn}°", f"at {turn}°")
            for turn in (5, 10, 20)
        ),
    ),
    Fault(
        "wander",
        LAY,
        (
            Setting(
                "wander_cm", "cm", "How far it goes up and down, from crest to trough.", _LENGTH,
                slider=Slider("wander, height", 0, 5, 0.25, 3, "cm"),
            ),
            Setting(
                "wander_waves", "waves", "In how many waves, 1 to 50; 2 if not given.",
                {"at_least": 1.0, "at_most": 50.0}, kind="count",
                slider=Slider("waves", 1, 3, 1, 2, ""),
            ),
        ),
        "Wander",
        "Up and down is a longer way than straight round.",
        "too much",
        "not",
        (
            Typical(
                {"wander_cm": 5.0, "wander_waves": 2},
                "wander of 5 cm, two waves",
                "for 5 cm from crest to trough in two waves",
            ),
        ),
    ),
    Fault(
        "overlap",
        LAY,
        (
            Setting(
                "overlap_offset_cm", "cm", "How far its two ends miss each other.",
                {"at_least": -LARGEST_CM, "at_most": LARGEST_CM},
                slider=Slider("ends miss by", 0, 8, 0.5, 4, "cm"),
            ),
        ),
        "Ends that miss each other",
        "The band is a turn of a screw, longer than the circle.",
        "too much",
        "not",
        (
            Typical(
                {"overlap_offset_cm": 7.0},
                "ends miss each other by 7 cm",
                "for ends that miss by 7 cm",
            ),
        ),
        left_out_of={"what went wrong": TOO_LITTLE},
    ),
    Fault(
        "slack",
        LAY,
        (
            Setting(
                "slack_cm", "cm", "Band that hangs loose.", _LENGTH,
                slider=Slider("slack", 0, 4, 0.1, 0.8, "cm"),
            ),
        ),
        "Slack",
        "All that hangs loose is read as girth.",
        "too much",
        "not",
        (Typical({"slack_cm": 2.0}, "slack of 2 cm"),),
        reach="as much as hangs loose",
    ),
)
# fmt: on
