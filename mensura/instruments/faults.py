"""Every fault, a row each, in the order in which a reading takes them: the one list of them.

From a row follow the field's check, the place in the order, the command's option, the sliders and
bars of the panels, the typical size, the words of the games and what a way back says of it. A row
that is left out of a place says why. What the faults look like and how large they come: common
practice, no source; what each adds is computed by :mod:`mensura.instruments`.
"""

from __future__ import annotations

from collections.abc import Iterator

from mensura.checks import LARGEST_CM
from mensura.instruments.fault import (
    BAND,
    INSTRUMENTS,
    JAWS,
    PLACES,
    READING,
    Fault,
    Setting,
    Slider,
    Typical,
)
from mensura.instruments.lay_faults import LAY_FAULTS, TOO_LITTLE
from mensura.instruments.materials import MATERIALS, REFERENCE_C, REFERENCE_N

_SMALL = {"at_least": 0.0, "at_most": 100.0}
_ANGLE = {"above": -90.0, "below": 90.0}
_WARMTH = {"at_least": -90.0, "at_most": 200.0}
_PULL = {"at_least": 0.0, "at_most": 1e4}

# fmt: off
FAULTS: tuple[Fault, ...] = (
    *LAY_FAULTS,
    # ---- the condition of the band --------------------------------------------------------------
    Fault(
        "thickness",
        BAND,
        (
            Setting(
                "thickness_cm", "cm", "Thickness of the band.", _SMALL,
                slider=Slider("thickness", 0, 3, 0.1, 0.4, "mm", 0, "thickness_mm", 10),
            ),
        ),
        "Thickness",
        "The line that keeps its length runs half a thickness outside the bark.",
        "too much",
        "exactly",
        (Typical({"thickness_cm": 0.03}, "band 0.3 mm thick"),),
        left_out_of={"what went wrong": TOO_LITTLE},
    ),
    Fault(
        "temperature",
        BAND,
        (
            Setting(
                "temperature_c", "°C", "Temperature of the band.", _WARMTH, missing=True,
                slider=Slider("temperature", -20, 60, 1, 35, "°C", REFERENCE_C),
            ),
            Setting(
                "reference_c", "°C", "Temperature at which its length holds; 20 if not given.",
                _WARMTH, missing=True,
            ),
            Setting(
                "material", "", "What it is made of: steel, fibreglass, ...", kind="word",
                missing=True,
            ),
            Setting(
                "expansion_per_c", "per °C", "Its expansion, if not the material's.",
                {"at_least": -1e-3, "at_most": 1e-3}, missing=True,
            ),
        ),
        "Warmth or cold",
        "A cold band is short and counts too many centimetres, a warm one too few.",
        "either",
        "exactly",
        (
            Typical(
                {"material": "steel", "temperature_c": REFERENCE_C + 20}, "steel band 20 °C warmer"
            ),
            Typical(
                {"material": "fibreglass", "temperature_c": REFERENCE_C + 20},
                "fibreglass 20 °C warmer",
            ),
        ),
    ),
    Fault(
        "pull",
        BAND,
        (
            Setting(
                "pull_n", "N", "How hard it is pulled, in newtons.", _PULL, missing=True,
                slider=Slider("pull", 0, 150, 5, 90, "N", REFERENCE_N),
            ),
            Setting(
                "reference_pull_n", "N", "Pull at which its length holds; 50 if not given.", _PULL
            ),
            Setting(
                "stiffness_n", "N", "Pull that would double its length if it could.",
                {"above": 0.0}, missing=True,
            ),
        ),
        "Pull",
        "A band that is pulled harder is longer and counts too few centimetres.",
        "either",
        "exactly",
        (
            Typical(
                {"pull_n": REFERENCE_N + 40, "stiffness_n": MATERIALS["steel"].stiffness_n},
                "steel pulled with 40 N too much",
            ),
        ),
        left_out_of={"what went wrong": TOO_LITTLE},
    ),
    Fault(
        "stretch",
        BAND,
        (
            Setting(
                "stretch_percent", "%", "By how much its marks have moved apart.",
                {"at_least": 0.0, "at_most": 1000.0},
                slider=Slider("stretch", 0, 2, 0.1, 1, "%"),
            ),
        ),
        "Stretch",
        "Marks that have moved apart count fewer centimetres.",
        "too little",
        "exactly",
        (Typical({"stretch_percent": 1.0}, "band stretched by 1 %"),),
    ),
    Fault(
        "shrinking",
        BAND,
        (
            Setting(
                "shrink_percent", "%", "By how much its marks have moved together.",
                {"at_least": 0.0, "below": 100.0},
                slider=Slider("shrunk (cloth)", 0, 2, 0.1, 0.2, "%"),
            ),
        ),
        "Shrinking",
        "Cloth that was wet may shrink: marks that have moved together count more centimetres.",
        "too much",
        "exactly",
        (Typical({"shrink_percent": 2.0}, "cloth shrunk by 2 %"),),
    ),
    Fault(
        "worn start",
        BAND,
        (
            Setting(
                "worn_start_cm", "cm", "How much of its start is worn off.", _SMALL,
                slider=Slider("worn off its start", 0, 2, 0.1, 0.5, "cm"),
            ),
        ),
        "Worn start",
        "What is missing before the first mark that is left is counted all the same.",
        "too much",
        "exactly",
        (Typical({"worn_start_cm": 0.5}, "start worn by 0.5 cm"),),
    ),
    # ---- the calipers' own, as they take them ---------------------------------------------------
    Fault(
        "pressing",
        JAWS,
        (
            Setting(
                "press_cm", "cm", "How deep each jaw is pressed into soft bark.", _SMALL,
                slider=Slider("jaws pressed in", 0, 0.5, 0.05, 0.1, "cm", name="jaw_press_cm"),
                spelt="--jaw-press-cm",
            ),
        ),
        "Jaws pressed into soft bark",
        "Each jaw sinks in, so the width is short by twice as much.",
        "too little",
        "not",
        (Typical({"press_cm": 0.1}, "jaws pressed in by 1 mm each"),),
        left_out_of={"wrong picture": "a millimetre cannot be seen in a drawing of the whole stem"},
    ),
    Fault(
        "jaw lean",
        JAWS,
        (
            Setting(
                "jaw_lean_deg", "deg", "How far play lets the sliding jaw lean outwards.", _ANGLE,
                slider=Slider("jaw leans out by", -3, 3, 0.1, 1.5, "°"),
            ),
        ),
        "Leaning jaw",
        "Its tips stand off, and its foot, which is read, stands nearer to the other jaw than the "
        "stem is wide.",
        "either",
        "not",
        (Typical({"jaw_lean_deg": 1.0}, "jaw that leans out by 1°"),),
    ),
    Fault(
        "beam slope",
        JAWS,
        (
            Setting(
                "beam_slope_deg", "deg", "How far the beam slopes; 0 is square to the stem.",
                _ANGLE,
                slider=Slider("beam slopes by", 0, 15, 0.5, 8, "°"),
            ),
        ),
        "Sloping beam",
        "The slant across the stem is longer than the width.",
        "too much",
        "not",
        (Typical({"beam_slope_deg": 8.0}, "beam that slopes by 8°"),),
    ),
    Fault(
        "zero error",
        JAWS,
        (
            Setting(
                "zero_error_cm", "cm", "What they read when closed.",
                {"at_least": -100.0, "at_most": 100.0},
                slider=Slider("closed they read", -1, 1, 0.05, 0.3, "cm"),
            ),
        ),
        "Zero error",
        "What they read when closed is in every width.",
        "either",
        "not",
        (Typical({"zero_error_cm": 0.3}, "closed they read 0.3 cm"),),
        left_out_of={"wrong picture": "a few millimetres of a scale cannot be seen in a drawing"},
    ),
    # ---- how any reading is written down --------------------------------------------------------
    Fault(
        "rounding",
        READING,
        (
            Setting(
                "resolution_cm", "cm", "Smallest step that is read; 0 for no rounding.", _SMALL,
                slider=Slider("read in steps of", 0, 2, 0.1, 0.5, "cm"),
            ),
            Setting("rounding", "", "To the nearest step, or down.", kind="word"),
        ),
        "Rounding",
        "A reading is off by up to half a step, rounded down by up to a whole one.",
        "either",
        "but for its step",
        (Typical({"resolution_cm": 1.0, "rounding": "down"}, "read down to whole cm"),),
        left_out_of={
            "typical sizes": "it adds anything up to half a step, to either side",
            "what went wrong": "two readings to a millimetre are what the game allows anyway",
        },
    ),
)

#: Settings that are no fault: how wide calipers open.
LIMITS: dict[str, tuple[Setting, ...]] = {
    JAWS: (
        Setting(
            "opening_cm", "cm", "The widest they open; as wide as needed if not given.",
            {"above": 0.0, "at_most": LARGEST_CM}, missing=True,
        ),
    ),
}
# fmt: on


def faults_of(*kinds: str) -> tuple[Fault, ...]:
    """The faults of some kinds, in the order in which a reading takes them.

    kinds: LAY, BAND, JAWS, READING.

    >>> [one.key for one in faults_of(JAWS)]
    ['pressing', 'jaw lean', 'beam slope', 'zero error']
    """
    return tuple(one for one in FAULTS if one.of in kinds)


def faults_in(place: str, *kinds: str) -> dict[str, Fault]:
    """The faults of some kinds that a place shows, by name, in their order.

    place: one of PLACES; kinds: LAY, BAND, JAWS, READING, no two of which share a name.

    >>> list(faults_in("wrong picture", JAWS, READING))
    ['jaw lean', 'beam slope']
    """
    return {one.key: one for one in faults_of(*kinds) if one.belongs_in(place)}


def settings_of(*kinds: str) -> tuple[Setting, ...]:
    """Every setting of some kinds of fault, and what else their instrument can be told.

    kinds: LAY, BAND, JAWS, READING.

    >>> [one.option for one in settings_of(READING)]
    ['--resolution-cm', '--rounding']
    """

    def each() -> Iterator[Setting]:
        for kind in kinds:
            for one in faults_of(kind):
                yield from one.settings
            yield from LIMITS.get(kind, ())

    return tuple(each())


def fault(key: str, instrument: str = "tape") -> Fault:
    """One fault by its name.

    key: its name; instrument: "tape" or "calipers". Raises KeyError for another.

    >>> fault("rounding").why[:26]
    'A reading is off by up to '
    """
    return {one.key: one for one in faults_of(*INSTRUMENTS[instrument])}[key]


__all__ = ["FAULTS", "LIMITS", "PLACES", "fault", "faults_in", "faults_of", "settings_of"]
