"""Questions of workbook 12, from readings to timber. Logs, plots and errors are invented."""

from __future__ import annotations

from math import hypot, sqrt

from mensura.estimates.logs import huber_m3, newton_m3, smalian_m3
from mensura.estimates.plot_means import mean_of_plots
from mensura.teaching.answers.reply import KnownSlip
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

# a butt log
_LOG_M, _BUTT_CM, _MID_CM, _TOP_CM = 6.0, 42.0, 35.0, 30.0
_HUBER_M3 = float(huber_m3(_MID_CM, _LOG_M))
_SMALIAN_M3 = float(smalian_m3(_BUTT_CM, _TOP_CM, _LOG_M))

# four plots
_PLOTS = (24.0, 31.0, 28.0, 33.0)
_FACTOR = 3.182
_SE = mean_of_plots(_PLOTS).se

# a stand's volume
_D_PERCENT, _H_PERCENT, _F_PERCENT = 1.5, 2.9, 5.0
_VOLUME_PERCENT = hypot(2 * _D_PERCENT, _H_PERCENT, _F_PERCENT)

QUESTIONS: dict[str, Prediction | Exercise] = {
    "12-predict": Prediction(
        "A log is cut from a cone, 40 cm thick at one end and 20 cm at the other. Whose volume is "
        "right?",
        [
            Choice(
                "Huber's, by the middle.",
                "It is 3.6 per cent too small: both ends swell more than the middle makes good.",
            ),
            Choice(
                "Smalian's, by both ends.",
                "It is 7.1 per cent too large, twice as far off as the middle, the other way.",
            ),
            Choice(
                "Newton's, by all three.",
                "The cone's area goes with the square of the distance from the tip, and for "
                "squares and cubes the middle counted four times is exact.",
                right=True,
            ),
            Choice("None, for a cone.", "One is exact: it gives each error its opposite."),
        ],
    ),
    "12-predict-average": Prediction(
        "One tape reads 1 per cent too much. A class measures 500 stems with it. By how much is "
        "the stand's basal area too large?",
        [
            Choice(
                "By next to nothing: with 500 stems it averages out.",
                "Only what is new for each stem averages out. The tape's error is the same for all "
                "500.",
            ),
            Choice("By 1 per cent.", "So are the girths. An area goes by the square."),
            Choice(
                "By 2 per cent.",
                "An area goes by the square, 2.01 per cent, and no number of stems makes it less.",
                right=True,
            ),
        ],
    ),
    "12-predict-first": Prediction(
        "A volume per hectare is unsure by 4 per cent since there are only ten plots, and by 5 per "
        "cent from a form factor of elsewhere. What makes it surest?",
        [
            Choice(
                "Ten more plots.",
                "The plots' 4 per cent become 2.8, and the whole goes from 6.4 to 5.7 per cent.",
            ),
            Choice(
                "A form factor of its own, unsure by half as much.",
                "The whole goes from 6.4 to 4.7 per cent. The largest part pays best, because "
                "squares add.",
                right=True,
            ),
            Choice(
                "Taping every stem a second time.",
                "What a hand does anew at each stem averages out already. It is no part of these.",
            ),
        ],
    ),
    "12-1": Exercise(
        f"A butt log of {_LOG_M:.0f} m has diameters of {_BUTT_CM:.0f}, {_MID_CM:.0f} and "
        f"{_TOP_CM:.0f} cm at the thick end, the middle and the thin end. What is its volume by "
        "Newton's rule, in m³, to three decimals?",
        "m³",
        float(newton_m3(_BUTT_CM, _MID_CM, _TOP_CM, _LOG_M)),
        # rounding to three decimals, 0.0005
        0.0006,
        f"({_BUTT_CM:.0f}² + 4·{_MID_CM:.0f}² + {_TOP_CM:.0f}²)/6 = 1260.7 cm²; times π/4 that is "
        "990.1 cm², and on 6 m 0.594 m³.",
        [
            KnownSlip(_HUBER_M3, "That is Huber's, by the middle alone. A flared butt needs both."),
            KnownSlip(_SMALIAN_M3, "That is Smalian's, by the ends alone. The middle is missing."),
            KnownSlip(
                (_HUBER_M3 + _SMALIAN_M3) / 2,
                "That is the mean of Huber's and Smalian's. Newton takes two thirds of Huber's.",
            ),
        ],
    ),
    "12-2": Exercise(
        "Four plots of one area at random have 24, 31, 28 and 33 m²/ha. How far does the 95 % "
        f"interval of their mean reach either way (Student's factor {_FACTOR}), in m²/ha, to one "
        "decimal?",
        "m²/ha",
        _FACTOR * _SE,
        # rounding to one decimal, 0.05
        0.06,
        "About the mean of 29 the squares add up to 46; over 3 and the root, they spread by 3.92. "
        f"Over √4 that is 1.96 m²/ha, and times {_FACTOR} it is 6.2.",
        [
            KnownSlip(2 * _FACTOR * _SE, "So far reach single plots. The mean of four: over √4."),
            KnownSlip(
                1.96 * _SE, "1.96 is for very many plots. With four it is the larger factor."
            ),
            KnownSlip(_SE, "That is the standard error. The interval reaches further."),
            KnownSlip(
                _FACTOR * _SE * sqrt(3 / 4), "Divide the squares by n − 1: the mean is their own."
            ),
        ],
    ),
    "12-3": Exercise(
        "A stand's volume is worked out as d²·h·f, up to constants. Unsure for all trees alike are "
        f"d by {_D_PERCENT:.1f} %, h by {_H_PERCENT:.1f} % and f by {_F_PERCENT:.0f} %, as "
        "standard uncertainties. How unsure is the volume, in per cent, to two decimals?",
        "%",
        _VOLUME_PERCENT,
        # rounding to two decimals, 0.005
        0.006,
        f"The root of (2·{_D_PERCENT:.1f})² + {_H_PERCENT:.1f}² + {_F_PERCENT:.0f}² is 6.51 %. "
        "Without the form factor it would be 4.17 %.",
        [
            KnownSlip(
                hypot(_D_PERCENT, _H_PERCENT, _F_PERCENT), "d stands squared: twice its per cents."
            ),
            KnownSlip(
                2 * _D_PERCENT + _H_PERCENT + _F_PERCENT, "Add the squares, and take the root."
            ),
            KnownSlip(hypot(2 * _D_PERCENT, _H_PERCENT), "The form factor is missing."),
        ],
    ),
}
