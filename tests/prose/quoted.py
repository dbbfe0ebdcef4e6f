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
    "DeYoung2016": {"1.5 feet": "figure 3.5: how far above a swell"},
    "FAONFI": {
        "30 cm": "as copied: above a buttress or swell; below that a fork is low",
        "1 m": "as copied: above a fork's origin",
    },
    "FrenchPlots": {"1 m": "above the buttresses' end, about"},
    "RAINFOR2021": {"50 cm": "as summarised: above the buttresses"},
    "SEOSAW": {"30 cm": "section 5.2, as summarised: above a deformity, and above a fork's base"},
    "Kangueja2009": {"50 cm": "section 2.1.1.5, case 2: how far down from a fork, at most"},
    "Metcalf2009": {"10 %": "abstract: what diameters above buttresses lose in a metre, at most"},
    "VanHooser1984": {"1 %": "summary: the difference averages around 1 per cent"},
    "Luoma2017": {
        "319": "abstract: trees, each measured by four trained people",
        "0.3 cm": "abstract: standard deviation of their diameters",
        "1.5 %": "abstract: the same, as a share",
    },
    "Rodriguez2015": {
        "5408": "abstract: sections",
        "48": "abstract: trees of one clone in one plantation",
        "0.47 %": "abstract: least overestimate of three practices together",
        "2.37 %": "abstract: greatest overestimate of three practices together",
    },
    "Pulkkinen2012": {"709": "abstract: discs", "81": "abstract: stems"},
    "Burgan1971": {
        "1 %": "abstract: diameters of six trees changed by less than that",
        "15 %": "opening: a plug of bark, from oven-dry to soaked",
        "40": "abstract: trees that seven foresters measured",
    },
    "DevineHarrington2011": {  # [DevineHarrington2011]
        "0.21 %": "abstract: mean shrinkage of the diameter within a day of the growing season",
        "0.03 %": "abstract: the same, in the dormant season",
    },
    "Sheil2003": {"1 mm": "abstract: girth within a day"},  # [Sheil2003]
    "UKSI2016": {
        "0.3 mm": "schedule 1I: a of class II; and c of class III",
        "0.2 mm": "schedule 1I: b of class II, for each metre; and c of class II",
        "0.6 mm": "schedule 1I: a of class III",
        "0.4 mm": "schedule 1I: b of class III, for each metre",
        "50 N": "schedule 1I: pull unless marked otherwise, tapes of 5 m and more",
        "5 m": "schedule 1I: tapes from this length on are proved under a pull",
        "20 °C": "schedule 1I: reference temperature",
    },
    "Phillips2016": {"20 °C": "abstract: the standard reference temperature"},
    "GUM1995": {"11.5": "example H.1: expansion of steel, millionths", "2": "example H.1: limits"},
    "Eichordnung1911": {
        "1911": "the year of the code",
        "0.25 mm": "section 23: metal, up to half a metre",
        "1 mm": "section 23: metal, up to 2 m",
        "2 m": "section 23: the longest scale named",
    },
    "TaylorKuyatt1994": {"k = 2": "section 6.2: about 95 per cent"},
    "Draper1998": {"31 December 1968": "as the dataset's help text has it: days are counted from"},
    "NBS1959": {"0.9144 m": "from memory: the yard"},
    "Rowlett": {"1.273": "entry: cubic feet of a hoppus foot", "0.036054": "entry: in m³"},
}
