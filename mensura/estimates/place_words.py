"""What is said of one stem's place: its rules with who says so, notes and cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mensura.estimates.place import AskedStem

_TEXTBOOK = "Forest Measurements, open textbook, Oregon, 3.2"
#: Each rule in a sentence, and who says so.
RULES: dict[str, tuple[str, str]] = {
    "breast-height": (
        "Measure at breast height, which the survey states.",
        "1.30 m in most of Europe; 1.37 m in Nepal and the United States",
    ),
    "slope": ("On a slope, tell the height from the uphill side.", f"{_TEXTBOOK}, fig. 3.3"),
    "litter": (
        "Tell the height from the soil: put litter aside.",
        "Herries and others 2010, New Zealand, as quoted",
    ),
    "lean-along": ("Tell the height along a leaning stem.", f"{_TEXTBOOK}, fig. 3.7"),
    "lean-side": (
        "On level ground, tell a leaning stem's height on its upper side.",
        "German national inventory, as quoted; Nepal's rules: the side of the lean",
    ),
    "lean-square": ("Hold the band square to the stem's axis.", f"{_TEXTBOOK}, fig. 3.7"),
    "lean-calipers": ("Hold the calipers square to the stem's axis.", f"{_TEXTBOOK}, fig. 3.7"),
    "fork-below": (
        "A fork below breast height makes two stems: a band round each.",
        f"{_TEXTBOOK}, fig. 3.4",
    ),
    "fork-both": (
        "A fork below breast height makes two stems: measure both.",
        f"{_TEXTBOOK}, fig. 3.4",
    ),
    "fork-two": (
        "A fork below breast height makes two stems, measured above it.",
        f"{_TEXTBOOK}, fig. 3.4",
    ),
    "fork-at": (
        "A fork at breast height: one stem, measured just below its swelling.",
        f"{_TEXTBOOK}, fig. 3.4",
    ),
    "fork-above": ("A fork above breast height: one stem.", f"{_TEXTBOOK}, fig. 3.4"),
    "swelling": (
        "Over a swelling or hollow: the mean at equal distances above and below.",
        f"{_TEXTBOOK}, fig. 3.6",
    ),
    "moss": ("Take moss and loose bark off first.", "S. Subedi 2018"),
}
_SIDES = {
    "uphill": " on the uphill side",
    "downhill": " on the downhill side",
    "middle": " half-way between the sides",
    "upper": " on the upper side of the lean",
    "under": " on the under side of the lean",
}


def side_words(side: str, slope_deg: float, lean_deg: float) -> str:
    """From which side a height is told, with a blank before it; "" where no side differs.

    side: one of SIDES; slope_deg, lean_deg: of ground and stem.

    >>> side_words("uphill", 20.0, 0.0), side_words("uphill", 0.0, 0.0)
    (' on the uphill side', '')
    """
    return _SIDES[side] if slope_deg or lean_deg else ""


def notes_for(asked: AskedStem) -> tuple[str, ...]:
    """What has to be said of the figures.

    asked: the stem.
    """
    said = []
    if asked.taper_cm_per_m == 0:
        said.append("No taper was told: another height costs nothing on this stem.")
    if asked.swelling_percent and asked.fork_below:
        said.append("The swelling is taken to be on both legs, with the same gap between them.")
    elif asked.swelling_percent and asked.stem.swelling is not None:
        times = float(asked.stem.swelling.factor(asked.place_m))
        if abs(times - 1) <= 1e-12:
            said.append("The swelling is clear of the place: no rule is needed for it.")
    if asked.fork_below:
        said.append("The legs are taken not to taper, side by side in the plane of the lean.")
    return tuple(said)


def cautions_for(asked: AskedStem) -> tuple[str, ...]:
    """What to be careful of where such a stem stands.

    asked: the stem.
    """
    said = []
    if asked.lean_deg:
        said.append(
            "A leaning stem may be hung up or lifting its roots: look up, keep out from under it."
        )
    if asked.fork_at_m is not None:
        said.append("A fork can split, and dead tops hang in it: look up before you step close.")
    if asked.slope_deg:
        said.append("On a slope find a firm stand first, and let nobody stand below you.")
    said.append("A steel band cuts and springs back. Local rules and licensed practice come first.")
    return tuple(said)
