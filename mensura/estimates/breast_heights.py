"""Breast height by country and purpose: how high people measure, and who says so.

A setting of a survey and no law of nature: what is compared must have been measured at one height.
Sources: [BCFT], [BS5837], [CFMP1999], [DeYoung2016], [EDI1559], [ForestryNepal2008],
[GermanBreastHeight], [MonumentalOaks], [Subedi2018], [SwissLWF].
"""

from __future__ import annotations

from dataclasses import dataclass

from mensura.estimates.place_said import Said


@dataclass(frozen=True)
class BreastHeight:
    """One height that somebody measures at.

    where: country and purpose; height_m: above the ground, m; as_told: in the source's own unit;
    said: who says so; note: what is uncertain, or empty.
    """

    where: str
    height_m: float
    as_told: str
    said: tuple[Said, ...]
    note: str = ""


BREAST_HEIGHTS: tuple[BreastHeight, ...] = (
    BreastHeight(
        "Japan and Korea",
        1.20,
        "1.20 m",
        (Said("DeYoung2016", "3.2"),),
        "disputed for Japan: an encyclopedia in German says 1.37 m",
    ),
    BreastHeight("Most countries", 1.30, "1.30 m", (Said("BCFT", "entry breast height"),)),
    BreastHeight("Australia, forestry", 1.30, "1.3 m", (Said("CFMP1999", "section 2.1.1"),)),
    BreastHeight("Switzerland", 1.30, "1.3 m", (Said("SwissLWF"),)),
    BreastHeight("Central Europe", 1.30, "130 cm", (Said("GermanBreastHeight"),)),
    BreastHeight("One long-term plot in the USA", 1.35, "1.35 m", (Said("EDI1559"),)),
    BreastHeight("USA, forestry", 1.3716, "4.5 feet", (Said("DeYoung2016", "3.2"),)),
    BreastHeight(
        "India, Burma, South Africa, Malaya, in the past",
        1.3716,
        "4 ft 6 in",
        (Said("BCFT", "entry breast height"),),
    ),
    BreastHeight("Nepal", 1.37, "1.37 m", (Said("ForestryNepal2008", "rule 1"),)),
    BreastHeight("New Zealand, forestry", 1.40, "1.4 m", (Said("CFMP1999", "section 2.1.1"),)),
    BreastHeight(
        "United Kingdom, trees on building land",
        1.50,
        "1.5 m",
        (Said("BS5837", "as quoted"),),
    ),
    BreastHeight("Some European countries, big trees", 1.50, "1.5 m", (Said("MonumentalOaks"),)),
)
