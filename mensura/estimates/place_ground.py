"""Where to measure, the height's own part: breast height, the ground, the slope, the lean.

Sources: [BCFT], [BigTreesGermany], [CFMP1999], [DeYoung2016], [FAONFI], [FIADB], [FIAGuide],
[ForestryNepal2008], [Herries2010], [HolzUndWald], [Kangueja2009], [Kleinn2007], [KlimafitterWald],
[Luoma2017], [Marthews2012], [Metcalf2009], [MinnesotaBigTrees], [MonumentalOaks], [OldTrees2007],
[Portland], [SEOSAW], [Subedi2018], [SwissNFI2], [TexasGuidelines], [VanHooser1984],
[WoodlandStewardship].
"""

from __future__ import annotations

from mensura.estimates.place_said import Disagreement, Rule, Said, Situation

_TEXTBOOK = "DeYoung2016"
_NEPAL = "ForestryNepal2008"

GROUND_SITUATIONS: tuple[Situation, ...] = (
    Situation(
        key="breast-height",
        title="An upright stem on level ground",
        where="At breast height, 1.30 m above the ground unless your survey says another height.",
        rules=(
            Rule(
                "Most countries take 1.30 m; the USA takes 4 ft 6 in, 1.37 m, and others did.",
                (Said("BCFT", "entry breast height"), Said("CFMP1999", "section 2.1.1")),
            ),
            Rule(
                "Find the height with a stick of that length, not by your own chest: one hand is "
                "taller than another.",
                (
                    Said("Subedi2018"),
                    Said("Marthews2012", "section 1.3, a pole with a notch"),
                    Said("HolzUndWald", "p. 51, tall and small people; there a mark on the chest"),
                ),
            ),
            Rule("Write the breast height on the sheet, once for the whole survey."),
        ),
        disagreements=(
            Disagreement(
                "How much is it from 1.30 m to 1.37 m?",
                (
                    Rule(
                        "About 1 per cent of the diameter, on average.",
                        (Said("VanHooser1984", "summary"),),
                    ),
                    Rule(
                        "Stems above buttresses in the tropics lose up to 10 per cent a metre, "
                        "which is 0.7 per cent over 7 cm.",
                        (Said("Metcalf2009", "abstract; the 0.7 is worked out by us"),),
                    ),
                ),
                "We work it out from the stem's own taper and tell the range.",
                follows=(),
            ),
        ),
        caution="A steel band cuts and springs back: gloves on, faces away. Beside a road or a "
        "track one of you watches the traffic. Local rules and people licensed for the "
        "work come first.",
        costs=("wrong-height", "other-breast-height"),
    ),
    Situation(
        key="ground",
        title="Leaves, needles and litter at the foot",
        where="From the highest soil that touches the stem, loose litter pushed aside: stand the "
        "stick there.",
        rules=(
            Rule(
                "Clear needles and leaves; begin at the highest mineral soil that touches the "
                "stem.",
                (Said("Herries2010", "figure 20, as quoted"),),
            ),
            Rule(
                "Begin at the highest place where soil touches the stem (a list of big trees).",
                (Said("BigTreesGermany"),),
            ),
            Rule(
                "Begin on the ground, not on top of a heap of woody debris.",
                (Said("Kleinn2007", "wiki, breast height, in a reprint"),),
            ),
        ),
        disagreements=(
            Disagreement(
                "Is the forest floor part of the ground?",
                (
                    Rule(
                        "No: needles and leaves are removed.",
                        (Said("Herries2010", "as quoted"),),
                    ),
                    Rule(
                        "Yes: the duff belongs to the ground, loose wood that rises above it does "
                        "not (USA).",
                        (Said("FIAGuide", "as quoted"),),
                    ),
                ),
                "We clear loose litter and stand on the soil; say on the sheet which you did.",
            ),
        ),
        caution="Look before you reach into litter: wire, glass, snakes, wasps. Look for ticks "
        "after the day.",
        costs=("litter",),
    ),
    Situation(
        key="raised-roots",
        title="Roots washed free or raised above the soil",
        where="As lists of big trees have it (no survey's manual that we read): from where the "
        "roots end and the stem begins.",
        rules=(
            Rule(
                "Begin where the mass of roots ends and the trunk begins (a list of big trees).",
                (Said("MinnesotaBigTrees", "rule 3"),),
            ),
            Rule(
                "Where soil is washed away, begin at the stem's base that no longer touches it "
                "(a list of big trees).",
                (Said("BigTreesGermany"),),
            ),
        ),
        caution="Washed-out trees can fall without warning: look up and at the roots first, and "
        "stay away if the root plate moves.",
        costs=("raised-roots",),
    ),
    Situation(
        key="slope",
        title="A stem on a slope",
        where="Take the height on the uphill side.",
        rules=(
            Rule(
                "Breast height is taken on the uphill side of the tree.",
                (
                    Said(_TEXTBOOK, "3.2, figure 3.3, after a manual of the US Forest Service"),
                    Said(_NEPAL, "rule 2"),
                    Said("Subedi2018"),
                    Said("KlimafitterWald"),
                    Said("WoodlandStewardship", "chapter 2"),
                    Said("SwissNFI2", "after chapter 8.13, p. 87"),
                    Said("Kleinn2007", "wiki, breast height, in a reprint"),
                    Said("FAONFI", "as copied"),
                    Said("FIADB", "3.1.18, “usually”"),
                ),
            ),
        ),
        disagreements=(
            Disagreement(
                "On a slope, from which ground?",
                (
                    Rule(
                        "Uphill.",
                        (Said(_TEXTBOOK, "figure 3.3"), Said(_NEPAL, "rule 2")),
                    ),
                    Rule(
                        "Half-way between the upper and the lower side (a study of readings, "
                        "rules for trees in a city, lists of big trees).",
                        (
                            Said("Luoma2017", "section 1"),
                            Said("Portland", "figure 80-5"),
                            Said("MinnesotaBigTrees", "rule 4"),
                            Said("TexasGuidelines", "example C"),
                        ),
                    ),
                    Rule(
                        "From the point where the seed is thought to have been, half-way up the "
                        "slope at the stem (lists of big trees).",
                        (
                            Said("BigTreesGermany", "newer text"),
                            Said("MonumentalOaks", "which tells of experts' advice of 2011"),
                        ),
                    ),
                    Rule(
                        "Uphill, too, in the older text of one of these lists, and in the other "
                        "until that advice.",
                        (Said("BigTreesGermany", "older text"), Said("MonumentalOaks")),
                    ),
                ),
                "Uphill, as the forestry manuals that we read have it; the others are told "
                "beside it, with what they cost.",
                follows=(0, 3),
            ),
        ),
        caution="On steep ground nobody works below another person; boots with a grip, both hands "
        "free. Your site's rules come first.",
        costs=("downhill", "half-way"),
    ),
    Situation(
        key="lean-along",
        title="A leaning stem: how high",
        where="Measure the height along the stem, not plumb from the ground.",
        rules=(
            Rule(
                "Breast height is measured along the stem and not vertically.",
                (
                    Said(_NEPAL, "rule 3"),
                    Said("Subedi2018"),
                    Said("Kleinn2007", "wiki, breast height, in a reprint: parallel to the lean"),
                    Said("Portland", "figure 80-5"),
                    Said("SEOSAW", "section 5.2, as summarised: in a straight line from the soil"),
                    Said("BigTreesGermany", "older text"),
                ),
            ),
        ),
        caution="A stem that leans may be hung up or half uprooted. Look for a lifted root plate "
        "and for tops above you; if you doubt it, leave it and note it.",
        costs=("plumb",),
    ),
    Situation(
        key="lean-side",
        title="A leaning stem: on which side",
        where="On level ground take the height on the upper side, the one that looks up; on a "
        "slope, uphill.",
        rules=(
            Rule(
                "On sloping ground the uphill side.",
                (
                    Said(_TEXTBOOK, "figure 3.7"),
                    Said("WoodlandStewardship", "chapter 2, figure 2-1"),
                ),
            ),
            Rule(
                "Where a stem leans, the upper side of it.",
                (Said("Kleinn2007", "wiki, breast height, in a reprint"),),
            ),
        ),
        disagreements=(
            Disagreement(
                "On level ground, which side of a leaning stem?",
                (
                    Rule(
                        "The upper side.",
                        (Said("Kleinn2007", "wiki, breast height, in a reprint"),),
                    ),
                    Rule(
                        "The side of the lean, on flat ground; no drawing shows which side is "
                        "meant.",
                        (Said(_NEPAL, "rule 3"), Said("Subedi2018")),
                    ),
                    Rule(
                        "Midway between both sides: along the middle of the stem (rules for trees "
                        "in a city, a guide to big trees).",
                        (Said("Portland", "figure 80-5"), Said("TexasGuidelines", "example D")),
                    ),
                ),
                "The upper side, and we tell what the other costs: it is more than measuring "
                "plumb costs. Whatever you take, take it on all stems.",
            ),
        ),
        caution="Do not stand under a leaning stem to read the tape; read it from its side.",
        costs=("wrong-side",),
    ),
    Situation(
        key="lean-square",
        title="A leaning stem: how to hold the band",
        where="Hold band or calipers square to the stem, not level.",
        rules=(
            Rule(
                "The tape is held perpendicular to the tree's bole.",
                (
                    Said(_TEXTBOOK, "figure 3.7"),
                    Said("WoodlandStewardship", "chapter 2, “to the lean of the tree”"),
                    Said("Kangueja2009", "section 2.1.1.5, square to the axis of the trunk"),
                    Said("SwissNFI2", "after chapter 8.13, p. 87, of calipers"),
                    Said("Herries2010", "figure 20 A, as quoted"),
                    Said("Portland", "figure 80-5"),
                    Said("BigTreesGermany"),
                ),
            ),
        ),
        disagreements=(
            Disagreement(
                "Square to the stem or level?",
                (
                    Rule(
                        "Square to the stem.",
                        (Said(_TEXTBOOK, "figure 3.7"), Said("SwissNFI2", "of calipers")),
                    ),
                    Rule(
                        "Always level (a leaflet on old trees, which does not speak of leaning "
                        "ones on the page that we read).",
                        (Said("OldTrees2007"),),
                    ),
                ),
                "Square: on an upright stem both are the same, on a leaning one the level band "
                "runs round an ellipse and reads too much.",
            ),
        ),
        caution="Pass the band round from the sides. Where you would have to step under a lean "
        "that you doubt, leave the stem and note it.",
        costs=("level-band", "level-calipers", "level-calipers-in-lean"),
    ),
)
