"""Volumes of whole stems. They belong to the topic logs. Stems are invented (Quillmere)."""

from __future__ import annotations

from math import pi, sqrt
from typing import Any

from mensura.estimates.areas import basal_area_m2, diameter_from_girth_cm
from mensura.estimates.solids import solid_m3
from mensura.teaching.problems.family import Family, Quantity, Slip, clear_of

#: Breast height, in m [BCFT].
BREAST_HEIGHT_M = 1.3


def from_girth_m2(girth_cm: float) -> float:
    """Area of the circle with a girth.

    girth_cm: of the section. The area is in m².
    """
    return float(basal_area_m2(diameter_from_girth_cm(girth_cm)))


def _base_diameter_cm(q: Any) -> float:
    """Where the paraboloid through breast height meets the ground: areas go as the height left."""
    left = q.tree_height_m / (q.tree_height_m - BREAST_HEIGHT_M)
    return float(diameter_from_girth_cm(q.girth_cm) * sqrt(left))


STEMS = [
    Family(
        key="paraboloid-stem",
        topic="logs",
        title="A whole stem as a paraboloid through breast height",
        text="A young pine of compartment 7 is {tree_height_m} m high. At breast height, 1.3 m "
        "above level ground, its girth over bark is {girth_cm} cm. Take the stem, from the ground "
        "to its tip, for a paraboloid: its round sections' areas are in proportion to the height "
        "still above them. What is its volume, bark and all? Answer in m³.",
        given=[Quantity("girth_cm", 30.0, 80.0, 0.1), Quantity("tree_height_m", 7.0, 14.0, 0.1)],
        unit="m³",
        answer=lambda q: solid_m3("paraboloid", _base_diameter_cm(q), q.tree_height_m),
        # not where a form factor of 0.55 would pass
        fits_since={2: clear_of(
            lambda q: q.tree_height_m / (q.tree_height_m - BREAST_HEIGHT_M) / 2, 1.0,
            lambda q: 0.55)},
        steps={
            "breast_m2": lambda q: from_girth_m2(q.girth_cm),
            "left_m": lambda q: q.tree_height_m - BREAST_HEIGHT_M,
            "base_m2": lambda q: basal_area_m2(_base_diameter_cm(q)),
        },
        hints=[
            "A paraboloid holds half of the cylinder on its base. Is breast height its base?",
            "The area at breast height belongs to the height above it, H − 1.3 m; the area at the "
            "ground to the whole height H.",
            "Work out ({girth_cm}/100)²/12.566, multiply by {tree_height_m} and divide by "
            "({tree_height_m} − 1.3). That is the base; times half of {tree_height_m} m.",
        ],
        solution="At breast height the area is ({girth_cm}/100)²/12.566 = {breast_m2} m², with "
        "{tree_height_m} − 1.3 = {left_m} m above it. At the ground it is "
        "{breast_m2}·{tree_height_m}/{left_m} = {base_m2} m². V = {base_m2}·{tree_height_m}/2 = "
        "{answer} m³.",
        slips=[
            Slip("breast-height-as-base",
                 lambda q: from_girth_m2(q.girth_cm) * q.tree_height_m / 2,
                 "Breast height was taken for the base. The stem is thicker at the ground."),
            Slip("above-breast-height-only",
                 lambda q: from_girth_m2(q.girth_cm) * (q.tree_height_m - BREAST_HEIGHT_M) / 2,
                 "That is only the part above breast height. The 1.3 m below it are wood too."),
            Slip("cylinder",
                 lambda q: from_girth_m2(q.girth_cm) * q.tree_height_m**2
                 / (q.tree_height_m - BREAST_HEIGHT_M),
                 "That is the cylinder on the base. A paraboloid holds half of it."),
            Slip("cone",
                 lambda q: from_girth_m2(q.girth_cm) * q.tree_height_m**2
                 / (q.tree_height_m - BREAST_HEIGHT_M) / 3,
                 "The third belongs to a cone. A paraboloid holds half of its cylinder."),
            Slip("girth-as-diameter",
                 lambda q: pi**2 * from_girth_m2(q.girth_cm) * q.tree_height_m**2 / 2
                 / (q.tree_height_m - BREAST_HEIGHT_M),
                 "The girth was taken for a diameter. Divide it by π first, or use G²/4π."),
        ],
        asks_unit=True,
        picture="girth",
        source="closed form of the paraboloid; [BCFT] for breast height",
    ),
    Family(
        key="form-factor",
        topic="logs",
        title="Volume of a standing stem by a form factor",
        text="An oak of compartment 7 is {tree_height_m} m high and at breast height {girth_cm} cm "
        "round, over bark. Stems of this made-up stand hold {form_factor} times the cylinder on "
        "their breast-height section (the form factor). Taken for round, what is the stem's "
        "volume? Answer in m³.",
        given=[
            Quantity("girth_cm", 70.0, 190.0, 0.1),
            Quantity("tree_height_m", 16.0, 30.0, 0.1),
            Quantity("form_factor", 0.40, 0.54, 0.01, exact=True),
        ],
        unit="m³",
        # at one half a paraboloid would pass, and 1 − f
        fits_since={2: lambda q: abs(q.form_factor - 0.5) > 0.001},
        answer=lambda q: q.form_factor * from_girth_m2(q.girth_cm) * q.tree_height_m,
        steps={
            "breast_m2": lambda q: from_girth_m2(q.girth_cm),
            "cylinder_m3": lambda q: from_girth_m2(q.girth_cm) * q.tree_height_m,
        },
        hints=[
            "First find the cylinder: as thick as the stem at breast height, as high as the tree.",
            "Area by G²/4π in m², times the height, is the cylinder. The stem is a part of it.",
            "Work out ({girth_cm}/100)²/12.566·{tree_height_m}, and multiply by {form_factor}.",
        ],
        solution="The area at breast height is ({girth_cm}/100)²/12.566 = {breast_m2} m². The "
        "cylinder holds {breast_m2}·{tree_height_m} = {cylinder_m3} m³, the stem "
        "{form_factor}·{cylinder_m3} = {answer} m³.",
        slips=[
            Slip("form-forgotten", lambda q: from_girth_m2(q.girth_cm) * q.tree_height_m,
                 "That is the whole cylinder. A stem tapers: multiply by the form factor."),
            Slip("girth-as-diameter",
                 lambda q: pi / 4e4 * q.girth_cm**2 * q.tree_height_m * q.form_factor,
                 "The girth was taken for a diameter. Divide it by π first, or use G²/4π."),
            Slip("diameter-for-radius",
                 lambda q: q.girth_cm**2 / (1e4 * pi) * q.tree_height_m * q.form_factor,
                 "The diameter was taken for the radius: that makes it four times too large."),
            Slip("quarter-girth",
                 lambda q: (q.girth_cm / 400) ** 2 * q.tree_height_m * q.form_factor,
                 "That is the quarter girth squared, a timber rule. The true area is G²/4π."),
            Slip("divided-by-the-factor",
                 lambda q: from_girth_m2(q.girth_cm) * q.tree_height_m / q.form_factor,
                 "You divided by the form factor. A stem holds less than its cylinder: multiply.",
                 since=2),
            Slip("one-less-the-factor",
                 lambda q: from_girth_m2(q.girth_cm) * q.tree_height_m * (1 - q.form_factor),
                 "That is what the stem leaves out of its cylinder. Multiply by the form factor "
                 "itself.", since=2),
            Slip("cone", lambda q: from_girth_m2(q.girth_cm) * q.tree_height_m / 3,
                 "That is a cone. The form factor of this stand was given: use it."),
        ],
        asks_unit=True,
        picture="girth",
        source="common practice, no source; the form factors are invented",
    ),
]  # fmt: skip
