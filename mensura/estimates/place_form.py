"""Where to measure, the stem's own form: forks, several stems, swellings, butts, buttresses, roots.

Sources: [BigTreesGermany], [BS5837], [CFMP1999], [DeYoung2016], [EEC1968], [FIADB],
[ForestGEO], [ForestryNepal2008], [Kangueja2009], [KramerAkca1995], [MinnesotaBigTrees],
[Noelke2015], [SchaefferNovelli1986], [Subedi2018], [TexasBigTrees2017], [WoodlandStewardship].
"""

from __future__ import annotations

from mensura.estimates.place_said import Disagreement, Rule, Said, Situation

_TEXTBOOK = "DeYoung2016"
_NEPAL = "ForestryNepal2008"

FORM_SITUATIONS: tuple[Situation, ...] = (
    Situation(
        key="fork-below",
        title="A fork below breast height",
        where="Two stems: measure each leg at breast height, square to that leg.",
        rules=(
            Rule(
                "A fork below breast height makes two trees, each measured for itself.",
                (
                    Said(_TEXTBOOK, "figure 3.4"),
                    Said(_NEPAL, "rule 5"),
                    Said("Subedi2018"),
                    Said("WoodlandStewardship", "chapter 2"),
                    Said("Kangueja2009", "section 2.1.1.5, case 1: two numbers in a row"),
                ),
            ),
            Rule(
                "Each leg is measured square to its own bole.",
                (Said(_TEXTBOOK, "3.5, answer C"),),
            ),
        ),
        disagreements=(
            Disagreement(
                "A fork below breast height: what is measured?",
                (
                    Rule("Two trees.", (Said(_TEXTBOOK, "figure 3.4"), Said(_NEPAL, "rule 5"))),
                    Rule(
                        "One tree: the narrowest girth below the fork (a list of big trees).",
                        (Said("MinnesotaBigTrees", "rule 2"),),
                    ),
                    Rule(
                        "The strongest stem alone, at breast height (lists of big trees: in one "
                        "for every low fork, in the other for a fork at the ground).",
                        (Said("BigTreesGermany"), Said("MinnesotaBigTrees", "rule 2")),
                    ),
                ),
                "Two stems, since timber and basal area add up only so.",
            ),
        ),
        caution="A fork with bark grown in can split; do not pull yourself up on a leg.",
        costs=("two-as-one", "one-leg-of-two"),
    ),
    Situation(
        key="fork-at",
        title="A fork at breast height",
        where="One stem: measure below the fork, where the stem is not yet swollen by it, and note "
        "the height.",
        rules=(
            Rule(
                "A fork at or above breast height leaves one tree.",
                (Said(_TEXTBOOK, "figure 3.4, at or above 4.5 feet"),),
            ),
            Rule(
                "If the fork is close to breast height the mark goes down on the main stem, by "
                "at most 50 cm if possible (plots in the Congo basin).",
                (Said("Kangueja2009", "section 2.1.1.5, case 2"),),
            ),
            Rule(
                "If forking makes the place abnormal, the mark is shifted as little as possible, "
                "and it is one tree or two by the place that is measured.",
                (Said(_NEPAL, "rule 5"),),
            ),
        ),
        costs=("swelling", "wrong-height"),
    ),
    Situation(
        key="fork-above",
        title="A fork above breast height",
        where="One stem, at breast height; if the fork swells the stem there, lower, where it does "
        "not, and note the height.",
        rules=(
            Rule(
                "A fork above breast height leaves one tree.",
                (Said(_TEXTBOOK, "figure 3.4"), Said(_NEPAL, "rule 5"), Said("Subedi2018")),
            ),
            Rule(
                "Close above breast height the mark goes down on the main stem, by at most 50 cm "
                "if possible (plots in the Congo basin).",
                (Said("Kangueja2009", "section 2.1.1.5, case 2"),),
            ),
        ),
        costs=("swelling", "wrong-height"),
    ),
    Situation(
        key="several-stems",
        title="Coppice: several stems from one stool",
        where="Each shoot for itself, at breast height above the ground, if it is thick enough to "
        "count.",
        rules=(
            Rule("Each shoot is a stem, measured at breast height above the ground."),
            Rule(
                "If one figure is wanted for the tree, it is the root of the sum of the squares "
                "of the diameters.",
                (
                    Said("BS5837", "for 2 to 5 stems, as quoted"),
                    Said("FIADB", "3.1.18, for woodland species, measured at the root collar"),
                ),
            ),
        ),
        disagreements=(
            Disagreement(
                "Several stems as one: which figure?",
                (
                    Rule(
                        "The root of the sum of the squares: it keeps the area.",
                        (Said("BS5837", "as quoted"), Said("FIADB", "3.1.18")),
                    ),
                    Rule(
                        "The girth of a circle with the trunks' areas together, as one of several "
                        "ways (a list of big trees).",
                        (Said("TexasBigTrees2017", "“combined area”"),),
                    ),
                    Rule(
                        "The largest, and half of each other one (a note on the web; it is not "
                        "the area).",
                    ),
                ),
                "The root of the sum of the squares; the first two views are the same figure.",
            ),
        ),
        caution="Stools hide stubs and wire: look before you kneel or reach round.",
        costs=("one-leg-of-two", "two-as-one"),
    ),
    Situation(
        key="swelling",
        title="A swelling, whorl of branches, burl or canker at breast height",
        where="At equal distances above and below it, where the stem is sound; take the mean.",
        rules=(
            Rule(
                "For a large burl or canker measure as far above as below, and take the mean.",
                (Said(_TEXTBOOK, "figure 3.6"), Said("KramerAkca1995", "as quoted")),
            ),
            Rule(
                "On a log, too, the mean of two places at equal distances on either side.",
                (Said("EEC1968"),),
            ),
            Rule(
                "Write down both heights.",
            ),
        ),
        disagreements=(
            Disagreement(
                "Something in the way at breast height: where instead?",
                (
                    Rule(
                        "Both sides, and the mean.",
                        (Said(_TEXTBOOK, "figure 3.6"), Said("KramerAkca1995", "as quoted")),
                    ),
                    Rule(
                        "Directly above a bulge or whorl.",
                        (Said(_TEXTBOOK, "figure 3.5"),),
                    ),
                    Rule(
                        "Above it (plots in the tropics; branches and the like, in the other).",
                        (Said("ForestGEO"), Said("WoodlandStewardship", "chapter 2")),
                    ),
                    Rule(
                        "Up or down as little as possible.",
                        (Said(_NEPAL, "rule 4"),),
                    ),
                    Rule(
                        "Up to a clear round place, but rather down by at most 50 cm than up by "
                        "more than 50 cm (plots in the Congo basin).",
                        (Said("Kangueja2009", "section 2.1.1.5, case 3"),),
                    ),
                    Rule(
                        "The narrowest place below breast height (a list of big trees).",
                        (Said("BigTreesGermany"),),
                    ),
                ),
                "Both sides and the mean: with straight taper it is exact; above only loses the "
                "taper times the distance.",
            ),
        ),
        costs=("swelling",),
    ),
    Situation(
        key="butt-swell",
        title="A foot that is swollen beyond breast height",
        where="Above the swell, at least 45 cm above where it ends, and note the height.",
        rules=(
            Rule(
                "At least 1.5 feet (46 cm) above an extensive butt swell.",
                (Said(_TEXTBOOK, "figure 3.5 and 3.5, answer E"),),
            ),
            Rule(
                "Keep butt logs apart from others: the flare biases their volume.",
                (Said("CFMP1999", "section 2.2.1"),),
            ),
        ),
        caution="Above your reach do not climb and do not stand on roots: sight it from the "
        "ground, or leave it to people trained and equipped for height.",
        costs=("butt-swell",),
    ),
    Situation(
        key="buttress",
        title="Buttresses that reach breast height",
        where="Above the buttresses, where the stem is round; note the height. How far above, your "
        "survey says.",
        rules=(
            Rule(
                "The lowest point above which the buttress is not likely to extend.",
                (Said(_NEPAL, "rule 6"), Said("Subedi2018")),
            ),
            Rule(
                "The diameter above the buttress, where the cylindrical bole begins.",
                (Said("Noelke2015", "abstract"),),
            ),
        ),
        disagreements=(
            Disagreement(
                "How far above the buttresses?",
                (
                    Rule(
                        "Where they are not likely to grow to.",
                        (Said(_NEPAL, "rule 6"), Said("Subedi2018")),
                    ),
                    Rule(
                        "Where the round bole begins.",
                        (Said("Noelke2015", "abstract"),),
                    ),
                    Rule("30 cm above them, or 50 cm above them: from memory, no page read."),
                ),
                "Above them, with the height written down: buttresses grow up, and the same "
                "place must be found again.",
            ),
        ),
        caution="Wet buttresses are slippery and hide holes and snakes: do not stand on them. A "
        "ladder needs training, a second person and your site's permission.",
        costs=("buttress",),
    ),
    Situation(
        key="stilt-roots",
        title="Stilt roots",
        where="Above the highest root, if roots leave the stem above breast height; note the "
        "height.",
        rules=(
            Rule(
                "Where roots leave the stem above 1.30 m, the girth is taken above the highest "
                "of them (one mangrove).",
                (Said("SchaefferNovelli1986", "as followed in a later paper"),),
            ),
            Rule(
                "A tree with aerial roots: the lowest point above which they are not likely to "
                "extend.",
                (Said(_NEPAL, "rule 6"),),
            ),
        ),
        caution="Mud, tide and roots: know the tide, go in pairs, and do not climb the roots.",
        costs=("stilt-root",),
    ),
)
