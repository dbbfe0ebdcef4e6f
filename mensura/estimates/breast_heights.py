"""Breast height by country and purpose: how high people measure, and who says so.

A setting of a survey and no law of nature: what is compared must have been measured at one height.
Sources: [BCFT], [BS5837], [CFMP1999], [DeYoung2016], [EDI1559], [FIADB], [FinnishGlossary],
[ForestryNepal2008], [GermanBreastHeight], [GermanNFI], [Kleinn2007], [MonumentalOaks],
[OldTrees2007], [SwissLWF], [SwissNFI2], [SydneyGardens], [TreeTerms].
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
        (
            Said("DeYoung2016", "3.2"),
            Said("Kleinn2007", "wiki, breast height, in a reprint, for Korea"),
        ),
        "disputed for Japan: an encyclopedia in German says 1.37 m [GermanBreastHeight]",
    ),
    BreastHeight("Most countries", 1.30, "1.30 m", (Said("BCFT", "entry breast height"),)),
    BreastHeight("Australia, forestry", 1.30, "1.3 m", (Said("CFMP1999", "section 2.1.1"),)),
    BreastHeight("Switzerland", 1.30, "1.3 m", (Said("SwissNFI2"), Said("SwissLWF"))),
    BreastHeight("Germany, national inventory", 1.30, "1.3 metres", (Said("GermanNFI"),)),
    BreastHeight("Central Europe", 1.30, "130 cm", (Said("GermanBreastHeight"),)),
    BreastHeight("Finland", 1.30, "1.3 m", (Said("FinnishGlossary"),)),
    BreastHeight("One long-term plot in the USA", 1.35, "1.35 m", (Said("EDI1559"),)),
    BreastHeight(
        "USA, forestry", 1.3716, "4.5 feet", (Said("DeYoung2016", "3.2"), Said("FIADB", "3.1.18"))
    ),
    BreastHeight(
        "India, Burma, South Africa, Malaya, in the past",
        1.3716,
        "4 ft 6 in",
        (Said("BCFT", "entry breast height"),),
    ),
    BreastHeight("Nepal", 1.37, "1.37 m", (Said("ForestryNepal2008", "rule 1"),)),
    BreastHeight("Sydney, trees with hollows", 1.40, "1.4 metres", (Said("SydneyGardens"),)),
    BreastHeight("New Zealand, forestry", 1.40, "1.4 m", (Said("CFMP1999", "section 2.1.1"),)),
    BreastHeight(
        "United Kingdom, trees on building land",
        1.50,
        "1.5 m",
        (Said("BS5837", "as quoted"), Said("TreeTerms", "main-stem diameter")),
    ),
    BreastHeight(
        "United Kingdom and other European countries, old and big trees",
        1.50,
        "1.5 m",
        (Said("OldTrees2007"), Said("MonumentalOaks")),
    ),
)
