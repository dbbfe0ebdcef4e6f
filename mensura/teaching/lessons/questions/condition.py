"""Questions of workbook 06, the condition of a tape. The tapes and stems are invented."""

from __future__ import annotations

from mensura.estimates.areas import area_from_diameters_cm2, over_percent
from mensura.instruments.correction import correct_girth
from mensura.instruments.materials import REFERENCE_C, material
from mensura.instruments.tape import Tape
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

# a cloth tape whose mark 70 lies at 100 cm of a sound ruler
_MARK_CM, _TRUE_CM, _READ_CM = 70.0, 100.0, 84.0
_STRETCHED = Tape(stretch_percent=100 * (_TRUE_CM / _MARK_CM - 1))

# a tape that is worn and stretched
_WORN_CM, _STRETCH_PERCENT, _TOLD_CM = 5.0, 4.0, 110.0
_OLD = Tape(stretch_percent=_STRETCH_PERCENT, worn_start_cm=_WORN_CM)
_FACTOR = 1 + _STRETCH_PERCENT / 100

# a diameter rounded down to whole cm
_LONG_CM, _DOWN_CM = 41.5, 41.0
_LONG_CM2, _DOWN_CM2 = (area_from_diameters_cm2([one]) for one in (_LONG_CM, _DOWN_CM))

# a steel band on a hot day
_STEEL_PER_C = material("steel").expansion_per_c or 0.0
_HOT_C, _BAND_CM = 38.0, 180.0
_SHORT_CM = (
    correct_girth(_BAND_CM, Tape(material="steel", temperature_c=_HOT_C)).girth_cm - _BAND_CM
)

QUESTIONS: dict[str, Prediction | Exercise] = {
    "06-predict": Prediction(
        "A tape has stretched by 1 per cent: its marks have moved apart. It goes, level and taut, "
        "round a stem of 125.0 cm girth. What does it read?",
        [
            Choice(
                "126.3 cm: the band is longer, so it reads more.",
                "The stem has not grown. Fewer of the wider steps fit round it.",
            ),
            Choice(
                "125.0 cm: what counts is the stem.",
                "What counts is how many marks fit round the stem, and they stand wider now.",
            ),
            Choice(
                "123.8 cm: fewer marks fit round.",
                "Each mark covers 1.01 of a true centimetre, and 125.0/1.01 = 123.76.",
                right=True,
            ),
            Choice(
                "That depends on where the tape has stretched.",
                "If all of it has stretched alike, as assumed here, only the share counts. A tape "
                "that has given way in one place cannot be corrected by one number: throw it out.",
            ),
        ],
    ),
    "06-1": Exercise(
        f"The mark {_MARK_CM:.0f} of an old cloth tape lies at {_TRUE_CM:.0f} cm of a sound ruler. "
        f"Round a stem that tape reads {_READ_CM:.1f} cm. The girth, in cm?",
        "cm",
        correct_girth(_READ_CM, _STRETCHED).girth_cm,
        0.5,
        f"Each mark covers {_TRUE_CM:.0f}/{_MARK_CM:.0f} = 1.4286 cm, so {_READ_CM:.0f} marks "
        "cover 120.0 cm.",
        [
            KnownSlip(
                _READ_CM * _MARK_CM / _TRUE_CM, "Turn the share over: the marks stand wider."
            ),
            KnownSlip(
                _READ_CM + _TRUE_CM - _MARK_CM,
                "The 30 cm had gathered over 70 marks. Over 84 they are 36: stretch is a share.",
            ),
            KnownSlip(
                _READ_CM * (1 + (_TRUE_CM - _MARK_CM) / _TRUE_CM),
                "The 30 cm belong to 70 marks, not to 100: the stretch is 42.86 per cent.",
            ),
        ],
    ),
    "06-2": Exercise(
        f"A tape has lost its first {_WORN_CM:.0f} cm, and its end is held as zero. What is left "
        f"has stretched by {_STRETCH_PERCENT:.0f} per cent. It reads {_TOLD_CM:.0f} cm. The "
        "girth, in cm, to one decimal?",
        "cm",
        correct_girth(_TOLD_CM, _OLD).girth_cm,
        # rounding to one decimal, 0.05
        0.06,
        f"First the marks that are there: {_TOLD_CM:.0f} − {_WORN_CM:.0f} = 105. Each covers "
        "1.04 cm: 109.2 cm.",
        [
            KnownSlip(
                _TOLD_CM * _FACTOR - _WORN_CM,
                "The lost marks never lay on the stem: take them off before you multiply.",
            ),
            KnownSlip((_TOLD_CM + _WORN_CM) * _FACTOR, "A lost start makes readings too long."),
            KnownSlip(
                (_TOLD_CM - _WORN_CM) / _FACTOR, "A stretched band reads too short: multiply."
            ),
            KnownSlip(_TOLD_CM - _WORN_CM, "The stretch is still in it."),
        ],
    ),
    "06-3": Exercise(
        f"A diameter of {_LONG_CM:.1f} cm is rounded down to {_DOWN_CM:.0f} cm. By how many per "
        "cent does the area come out too small, to two decimals?",
        "%",
        -over_percent(_DOWN_CM2, _LONG_CM2),
        # rounding to two decimals, 0.005
        0.01,
        f"({_DOWN_CM:.0f}/{_LONG_CM:.1f})² = 0.97605: 2.40 per cent too small.",
        [
            KnownSlip(
                100 * (_LONG_CM - _DOWN_CM) / _LONG_CM,
                "That is the diameter's error. The area's is about twice as much.",
            ),
            KnownSlip(
                over_percent(_LONG_CM2, _DOWN_CM2),
                "Compare with the true area, not with the one that was written down.",
            ),
        ],
    ),
    "06-4": Exercise(
        f"A steel band is true at {REFERENCE_C:.0f} °C and lengthens by {_STEEL_PER_C * 1e6:g} "
        f"millionths per °C. At {_HOT_C:.0f} °C it reads {_BAND_CM:.1f} cm. By how many mm is that "
        "too short, to two decimals?",
        "mm",
        10 * _SHORT_CM,
        # rounding to two decimals, 0.005
        0.01,
        f"{10 * _BAND_CM:.0f} mm × {_STEEL_PER_C * 1e6:g}/1 000 000 × {_HOT_C - REFERENCE_C:.0f} "
        "= 0.38 mm. No tape in the wood is read that finely.",
        [
            KnownSlip(
                10 * _BAND_CM * _STEEL_PER_C * _HOT_C,
                f"Count from {REFERENCE_C:.0f} °C, where the band is true.",
            ),
            KnownSlip(_SHORT_CM, "That is in cm."),
        ],
    ),
}
