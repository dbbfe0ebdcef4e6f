"""What is wrong in this picture? One fault, or none, in how an instrument lies on a stem.

A round is drawn from its seed and is the same for ever. Only faults that a drawing can show
unmistakably are drawn, so they are larger than most in the wood. What the fault does to the reading
is computed by the instruments. The stems are invented. What a fault looks like and what a good hand
does about it: common practice, no source.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from mensura.checks import MeasureError
from mensura.draws import uniforms
from mensura.instruments.calipers import Calipers
from mensura.instruments.lay import Lay
from mensura.instruments.tape import Tape
from mensura.stems.ellipse import circle
from mensura.teaching.answers.reply import Reply

INSTRUMENTS = ("tape", "calipers")
SOUND = "sound"


@dataclass(frozen=True)
class Fault:
    """A fault that a drawing can show.

    key: short name; instrument: one of INSTRUMENTS; text: as it may be chosen; shows: how it is
    recognised; where: in which part of the picture; why: what it does to a reading.
    """

    key: str
    instrument: str
    text: str
    shows: str
    where: str
    why: str


_SIDE, _ABOVE, _WHOLE = "from the side", "from above", "at the whole stem"

FAULTS: dict[str, Fault] = {
    fault.key: fault
    for fault in (
        Fault(
            "tilt",
            "tape",
            "The band is tilted.",
            "A tilted band slants across the stem, and its back slants with it",
            _SIDE,
            "The way round is an ellipse, longer than the circle.",
        ),
        Fault(
            "wander",
            "tape",
            "The band wanders up and down.",
            "A wandering band has crests and troughs",
            _SIDE,
            "Up and down is a longer way than level.",
        ),
        Fault(
            "overlap",
            "tape",
            "The two ends of the band miss each other.",
            "Ends that miss each other pass one above the other where the band should meet its tab",
            _SIDE,
            "The band is a turn of a screw, longer than the circle.",
        ),
        Fault(
            "slack",
            "tape",
            "The band hangs loose.",
            "A loose band stands off the bark with nothing under it, over a wide part of the stem",
            _ABOVE,
            "All that hangs loose is read as girth.",
        ),
        Fault(
            "twist",
            "tape",
            "The band is twisted.",
            "A twisted band shows its back, without marks, between two crossings",
            _SIDE,
            "The band leaves the bark on either side of the twist.",
        ),
        Fault(
            "climber",
            "tape",
            "A climber is caught under the band.",
            "A climber runs up the stem and holds the band off like a round rod",
            _ABOVE,
            "The band bridges the gap on either side of it. Ease it off with gloved hands: it "
            "may have thorns and hide insects.",
        ),
        Fault(
            "knot",
            "tape",
            "The band lies over a knot.",
            "A knot is a bump of the stem's own wood, with rings, no taller than it is wide",
            _ABOVE,
            "The band leaves the bark on either side. Measure as far above it as below, and take "
            "the mean.",
        ),
        Fault(
            "height",
            "tape",
            "The band lies at the wrong height.",
            "A band at the wrong height lies beside the mark at 1.3 m",
            _WHOLE,
            "The stem is thicker below and thinner above.",
        ),
        Fault(
            "slope",
            "calipers",
            "The beam slopes.",
            "A sloping beam crosses the stem aslant",
            _SIDE,
            "The slant across the stem is longer than the width.",
        ),
        Fault(
            "lean",
            "calipers",
            "The sliding jaw leans.",
            "A leaning jaw is not parallel to the other",
            _ABOVE,
            "Its tips stand off, and its foot, which is read, stands nearer to the other jaw than "
            "the stem is wide.",
        ),
    )
}

SOUND_TEXT = {"tape": "Nothing: the band lies as it should.", "calipers": "Nothing: they lie well."}


@dataclass(frozen=True)
class PictureRound:
    """One round of the game.

    seed: it was drawn from; instrument: one of INSTRUMENTS; diameter_cm: of the round stem; fault:
    key of FAULTS, or SOUND; lay, calipers: what is drawn; choices: keys that may be chosen.
    """

    seed: int
    instrument: str
    diameter_cm: float
    fault: str
    lay: Lay
    calipers: Calipers
    choices: tuple[str, ...]

    @property
    def true_cm(self) -> float:
        """Girth of the stem for a tape, its diameter for calipers, in cm."""
        if self.instrument == "calipers":
            return self.diameter_cm
        return float(circle(self.diameter_cm).taut_girth_cm)

    @property
    def adds_cm(self) -> float:
        """What the fault does to the reading, in cm; below 0 for too little."""
        stem = circle(self.diameter_cm)
        if self.instrument == "calipers":
            return float(self.calipers.read(stem, 0.0)[0]) - self.diameter_cm
        return float(Tape().read(stem, self.lay).reading_cm) - self.true_cm

    @property
    def accepted(self) -> tuple[str, ...]:
        """The choices that are right: the one fault, or that there is none."""
        return (self.fault,)

    @property
    def question(self) -> str:
        """What is asked."""
        thing = "a girth tape" if self.instrument == "tape" else "calipers"
        return (
            f"A round stem, {self.diameter_cm:g} cm thick (made up), is measured with {thing}. "
            "What is wrong in this picture, if anything?"
        )

    def text(self, choice: str) -> str:
        """A choice as it is read.

        choice: one of `choices`.
        """
        return SOUND_TEXT[self.instrument] if choice == SOUND else FAULTS[choice].text

    def reply(self, choice: str | None) -> Reply:
        """What is said to a choice.

        choice: one of `choices`, None if nothing was chosen.
        Raises MeasureError for what was not offered.
        """
        if choice is None:
            return Reply(False, "Choose an answer first.")
        if choice not in self.choices:
            raise MeasureError("choice", choice, "", "one of: " + ", ".join(self.choices))
        if choice == self.fault:
            return Reply(True, f"Yes. {self._because()}")
        if choice == SOUND:
            return Reply(False, f"Not so. The reading comes out {self._off()}. {self._look()}")
        fault = FAULTS[choice]
        effect = f"Here the reading comes out {self._off()}."
        return Reply(
            False, f"Not this. {fault.shows}; that is not drawn here. {effect} {self._look()}"
        )

    def _because(self) -> str:
        if self.fault == SOUND:
            right = (
                "Level, taut, flat on clear bark, at 1.3 m"
                if self.instrument == "tape"
                else "Beam level and against the stem, jaws parallel"
            )
            return f"{right}: it reads {self.true_cm:.1f} cm, and that is what is there."
        return (
            f"{self._drawn()}. {FAULTS[self.fault].why} The reading comes out {self._off()}, on "
            f"{self.true_cm:.1f} cm."
        )

    def _drawn(self) -> str:
        """The fault with its size."""
        lay, sizes = self.lay, self.calipers
        return {
            "tilt": f"The band is tilted by {lay.tilt_deg:g}°",
            "wander": f"The band goes up and down by {lay.wander_cm:g} cm",
            "overlap": f"The ends miss each other by {abs(lay.overlap_offset_cm):g} cm",
            "slack": f"{lay.slack_cm:g} cm of the band hang loose",
            "twist": f"At the twist the band stands {lay.twist_lift_cm:g} cm off",
            "climber": f"A climber {lay.climber_cm:g} cm thick holds the band off",
            "knot": f"The knot is {lay.knot_cm:g} cm high",
            "height": (
                f"The band lies at {1.3 + lay.height_off_m:.2f} m, on a stem that loses "
                f"{lay.taper_cm_per_m:g} cm of diameter with each metre"
            ),
            "slope": f"The beam slopes by {abs(sizes.beam_slope_deg):g}°",
            "lean": f"The sliding jaw leans out by {sizes.jaw_lean_deg:g}°",
        }[self.fault]

    def _off(self) -> str:
        if self.fault == SOUND:
            return "right to 0.0 cm"
        return f"about {abs(self.adds_cm):.1f} cm too {'large' if self.adds_cm > 0 else 'small'}"

    def _look(self) -> str:
        if self.fault == SOUND:
            return "Look once more at every part."
        return f"Look again {FAULTS[self.fault].where}."


def picture_round(seed: int) -> PictureRound:
    """The round that belongs to a seed.

    seed: any whole number.

    >>> one = picture_round(4)
    >>> one.fault in one.choices, one.reply(one.fault).right
    (True, True)
    """
    u = iter(uniforms(24, "what is wrong in this picture", seed).tolist())

    def pick(options: Any) -> Any:
        return options[int(next(u) * len(options))]

    def between(low: float, high: float, step: float) -> float:
        return float(round(round((low + (high - low) * next(u)) / step) * step, 6))

    instrument, fault = pick([(f.instrument, f.key) for f in FAULTS.values()] + _SOUND_ROUNDS)
    diameter = between(32, 44, 1)
    side = pick((-1, 1))
    settings: dict[str, dict[str, float]] = {
        "tilt": {
            "tilt_deg": between(9, 16, 1),
            "tilt_direction_deg": side * between(70, 110, 5),
        },
        "wander": {"wander_cm": between(6, 10, 0.5)},
        "overlap": {"overlap_offset_cm": side * between(6, 10, 0.5)},
        "slack": {"slack_cm": between(3, 7, 0.5)},
        "twist": {"twist_lift_cm": between(1.5, 2.5, 0.1)},
        "climber": {
            "climber_cm": between(2.4, 4, 0.2),
            "climber_direction_deg": side * between(20, 40, 5),
        },
        "knot": {"knot_cm": between(2, 3.5, 0.1)},
        "height": {
            "height_off_m": side * between(0.2, 0.4, 0.05),
            "taper_cm_per_m": between(1, 2, 0.5),
        },
        "slope": {"beam_slope_deg": side * between(10, 18, 1)},
        "lean": {"jaw_lean_deg": between(5, 9, 0.5)},
    }
    chosen: dict[str, Any] = settings.get(fault, {})
    of_tape = instrument == "tape"
    others = [key for key, one in FAULTS.items() if one.instrument == instrument and key != fault]
    wanted = 4 if fault == SOUND else 3
    while len(others) > wanted:
        others.pop(int(next(u) * len(others)))
    offered = [key for key in FAULTS if key in others or key == fault]
    return PictureRound(
        seed=seed,
        instrument=instrument,
        diameter_cm=diameter,
        fault=fault,
        lay=Lay(**chosen) if of_tape else Lay(),
        calipers=Calipers() if of_tape else Calipers(**chosen),
        choices=(*offered, SOUND),
    )


_SOUND_ROUNDS = [("tape", SOUND), ("calipers", SOUND)]
