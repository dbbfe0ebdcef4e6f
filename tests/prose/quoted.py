"""What is quoted from the sources, each figure once, with the place in the source."""

from __future__ import annotations

QUOTED: dict[str, dict[str, str]] = {
    "Butt2013": {
        "9.9 mm": "abstract: mean difference of two tape diameters of one stem, volunteers",
        "1.8 mm": "abstract: the same, experts",
        "2.3 mm": "abstract: volunteers, differences above 1 cm left out",
        "1.4 mm": "abstract: experts, differences above 1 cm left out",
        "1 cm": "abstract: larger differences are taken for errors of another kind",
        "14 %": "abstract: share of the volunteers' data above 1 cm",
        "3 %": "abstract: share of the experts' data above 1 cm",
    },
    "BCFT": {
        "1.30 m": "entry on breast height: most countries",
        "4 ft 6 in": "entry on breast height: USA and others",
    },
    "CFMP1999": {
        "1.30 m": "section 2.1.1: Australia",
        "1.40 m": "section 2.1.1: New Zealand",
    },
    "VanHooser1984": {"1 %": "abstract: the difference averages around 1 per cent"},
}
