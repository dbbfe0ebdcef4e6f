"""What is wrong in this picture? One fault, or none, in how an instrument lies on a stem.

A round is drawn from its seed and its edition, and is the same for ever. Only faults that a drawing
can show unmistakably are drawn, so they are larger than most in the wood. What the fault does to
the reading is computed by the instruments. The stems are invented. What a fault looks like and what
a good hand does about it: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from mensura.checks import MeasureError
from mensura.instruments.calipers import Calipers
from mensura.instruments.fault import JAWS, Fault
from mensura.instruments.faults import fault
from mensura.instruments.lay import Lay
from mensura.instruments.tape import Tape
from mensura.stems.ellipse import circle
from mensura.teaching.answers.reply import Reply
from mensura.teaching.games.round_draws import Draws, draws, of_edition

#: The latest edition, which is played, and what the draws are for.
EDITION = 1
PURPOSE = "what is wrong in this picture"

INSTRUMENTS = ("tape", "calipers")
SOUND = "sound"


@dataclass(frozen=True, eq=False)
class Sight:
    """A fault that a drawing can show.

    fault: its row in the list of faults, which says what it does to a reading; text: as it may be
    chosen; shows: how it is recognised; where: in which part of the picture; drawn: from the draws
    of a round and a side, −1 or 1, the settings that are drawn; told: of those, in words; since:
    the edition in which it came into the game.
    """

    fault: Fault
    text: str
    shows: str
    where: str
    drawn: Callable[[Draws, int], dict[str, float]]
    told: Callable[[Mapping[str, float]], str]
    since: int = 1

    @property
    def key(self) -> str:
        """Its name, the fault's."""
        return self.fault.key

    @property
    def instrument(self) -> str:
        """One of INSTRUMENTS."""
        return "calipers" if self.fault.of == JAWS else "tape"


_SIDE, _ABOVE, _WHOLE = "from the side", "from above", "at the whole stem"


def _sights(*rows: Sight) -> Mapping[str, Sight]:
    return MappingProxyType({one.key: one for one in rows})


#: What can be wrong in a picture. Those of edition 1 keep their order and their ranges, since a
#: round takes its numbers in it; what is added says since which edition.
SIGHTS: Mapping[str, Sight] = _sights(
    Sight(
        fault("tilt"),
        "The band is tilted.",
        "A tilted band slants across the stem, and its back slants with it",
        _SIDE,
        lambda draw, side: {
            "tilt_deg": draw.between("tilt_deg", 9, 16, 1),
            "tilt_direction_deg": side * draw.between("tilt_direction_deg", 70, 110, 5),
        },
        lambda n: f"The band is tilted by {n['tilt_deg']:g}°",
    ),
    Sight(
        fault("wander"),
        "The band wanders up and down.",
        "A wandering band has crests and troughs",
        _SIDE,
        lambda draw, side: {"wander_cm": draw.between("wander_cm", 6, 10, 0.5)},
        lambda n: f"The band goes up and down by {n['wander_cm']:g} cm",
    ),
    Sight(
        fault("overlap"),
        "The two ends of the band miss each other.",
        "Ends that miss each other pass one above the other where the band should meet its tab",
        _SIDE,
        lambda draw, side: {
            "overlap_offset_cm": side * draw.between("overlap_offset_cm", 6, 10, 0.5)
        },
        lambda n: f"The ends miss each other by {abs(n['overlap_offset_cm']):g} cm",
    ),
    Sight(
        fault("slack"),
        "The band hangs loose.",
        "A loose band stands off the bark with nothing under it, over a wide part of the stem",
        _ABOVE,
        lambda draw, side: {"slack_cm": draw.between("slack_cm", 3, 7, 0.5)},
        lambda n: f"{n['slack_cm']:g} cm of the band hang loose",
    ),
    Sight(
        fault("twist"),
        "The band is twisted.",
        "A twisted band shows its back, without marks, between two crossings",
        _SIDE,
        lambda draw, side: {"twist_lift_cm": draw.between("twist_lift_cm", 1.5, 2.5, 0.1)},
        lambda n: f"At the twist the band stands {n['twist_lift_cm']:g} cm off",
    ),
    Sight(
        fault("climber"),
        "A climber is caught under the band.",
        "A climber runs up the stem and holds the band off like a round rod",
        _ABOVE,
        lambda draw, side: {
            "climber_cm": draw.between("climber_cm", 2.4, 4, 0.2),
            "climber_direction_deg": side * draw.between("climber_direction_deg", 20, 40, 5),
        },
        lambda n: f"A climber {n['climber_cm']:g} cm thick holds the band off",
    ),
    Sight(
        fault("knot"),
        "The band lies over a knot.",
        "A knot is a bump of the stem's own wood, with rings, no taller than it is wide",
        _ABOVE,
        lambda draw, side: {"knot_cm": draw.between("knot_cm", 2, 3.5, 0.1)},
        lambda n: f"The knot is {n['knot_cm']:g} cm high",
    ),
    Sight(
        fault("height"),
        "The band lies at the wrong height.",
        "A band at the wrong height lies beside the mark at 1.3 m",
        _WHOLE,
        lambda draw, side: {
            "height_off_m": side * draw.between("height_off_m", 0.2, 0.4, 0.05),
            "taper_cm_per_m": draw.between("taper_cm_per_m", 1, 2, 0.5),
        },
        lambda n: (
            f"The band lies at {1.3 + n['height_off_m']:.2f} m, on a stem that loses "
            f"{n['taper_cm_per_m']:g} cm of diameter with each metre"
        ),
    ),
    Sight(
        fault("beam slope", "calipers"),
        "The beam slopes.",
        "A sloping beam crosses the stem aslant",
        _SIDE,
        lambda draw, side: {"beam_slope_deg": side * draw.between("beam_slope_deg", 10, 18, 1)},
        lambda n: f"The beam slopes by {abs(n['beam_slope_deg']):g}°",
    ),
    Sight(
        fault("jaw lean", "calipers"),
        "The sliding jaw leans.",
        "A leaning jaw is not parallel to the other",
        _ABOVE,
        lambda draw, side: {"jaw_lean_deg": draw.between("jaw_lean_deg", 5, 9, 0.5)},
        lambda n: f"The sliding jaw leans out by {n['jaw_lean_deg']:g}°",
    ),
)

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
            f"A round, upright stem, {self.diameter_cm:g} cm thick (made up), is measured with "
            f"{thing}. What is wrong in this picture, if anything?"
        )

    def text(self, choice: str) -> str:
        """A choice as it is read.

        choice: one of `choices`.
        """
        return SOUND_TEXT[self.instrument] if choice == SOUND else SIGHTS[choice].text

    def reply(self, choice: str | None) -> Reply:
        """What is said to a choice.

        choice: one of `choices`, None if nothing was chosen.
        Raises MeasureError for what was not offered.
        """
        if choice is None:
            return Reply(False, "Choose an answer first.", readable=False)
        if choice not in self.choices:
            raise MeasureError("choice", choice, "", "one of: " + ", ".join(self.choices))
        if choice == self.fault:
            return Reply(True, f"Yes. {self._because()}")
        if choice == SOUND:
            return Reply(False, f"Not so. The reading comes out {self._off()}. {self._look()}")
        sight = SIGHTS[choice]
        effect = f"Here the reading comes out {self._off()}."
        return Reply(
            False, f"Not this. {sight.shows}; that is not drawn here. {effect} {self._look()}"
        )

    def _because(self) -> str:
        if self.fault == SOUND:
            right = (
                "Square to the stem, taut, flat on clear bark, at 1.3 m"
                if self.instrument == "tape"
                else "Beam square to the stem and against it, jaws parallel"
            )
            return f"{right}: it reads {self.true_cm:.1f} cm, and that is what is there."
        return (
            f"{self._drawn()}. {SIGHTS[self.fault].fault.why} The reading comes out {self._off()}, "
            f"on {self.true_cm:.1f} cm."
        )

    def _drawn(self) -> str:
        """The fault with its size."""
        laid = self.calipers if self.instrument == "calipers" else self.lay
        return SIGHTS[self.fault].told(vars(laid))

    def _off(self) -> str:
        if self.fault == SOUND:
            return "right to 0.0 cm"
        return f"about {abs(self.adds_cm):.1f} cm too {'large' if self.adds_cm > 0 else 'small'}"

    def _look(self) -> str:
        if self.fault == SOUND:
            return "Look once more at every part."
        return f"Look again {SIGHTS[self.fault].where}."


def picture_round(seed: int, edition: int = EDITION) -> PictureRound:
    """The round that belongs to a seed.

    seed: any whole number; edition: of the game when the seed was given out.
    Raises MeasureError for what is no edition.

    >>> one = picture_round(4)
    >>> one.fault in one.choices, one.reply(one.fault).right
    (True, True)
    """
    sights = {one.key: one for one in of_edition(SIGHTS.values(), edition, EDITION)}
    draw = draws(edition, 24, PURPOSE, seed)
    drawn = [(one.instrument, one.key) for one in sights.values()]
    instrument, wrong = draw.pick("fault", drawn + _SOUND_ROUNDS)
    diameter = draw.between("diameter_cm", 32, 44, 1)
    side = draw.pick("side", (-1, 1))
    settings = {key: one.drawn(draw.of(key), side) for key, one in sights.items()}
    chosen: dict[str, Any] = settings.get(wrong, {})
    of_tape = instrument == "tape"
    others = [key for key, one in sights.items() if one.instrument == instrument and key != wrong]
    wanted = 4 if wrong == SOUND else 3
    while len(others) > wanted:
        others.pop(int(draw.share(f"left out {len(others)}") * len(others)))
    offered = [key for key in sights if key in others or key == wrong]
    return PictureRound(
        seed=seed,
        instrument=instrument,
        diameter_cm=diameter,
        fault=wrong,
        lay=Lay(**chosen) if of_tape else Lay(),
        calipers=Calipers() if of_tape else Calipers(**chosen),
        choices=(*offered, SOUND),
    )


_SOUND_ROUNDS = [("tape", SOUND), ("calipers", SOUND)]
