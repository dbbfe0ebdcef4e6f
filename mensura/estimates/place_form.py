"""Where to measure, the stem's own form: forks, several stems, swellings, butts, buttresses, roots.

Sources: [BigTreesGermany], [BS5837], [CFMP1999], [DeYoung2016], [EEC1968], [FAONFI], [FIADB],
[ForestGEO], [ForestryNepal2008], [FrenchPlots], [Kangueja2009], [KramerAkca1995], [MenloPark],
[MinnesotaBigTrees], [Nature40Survey], [Noelke2015], [Portland], [RAINFOR2021],
[SchaefferNovelli1986], [SEOSAW], [Subedi2018], [SwissNFI2], [TexasBigTrees2017], [TexasGuidelines],
[WoodlandStewardship].
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
                    Said("SwissNFI2", "after chapter 8.13, p. 87"),
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
                    Rule(
                        "Two trees.",
                        (
                            Said(_TEXTBOOK, "figure 3.4"),
                            Said(_NEPAL, "rule 5"),
                            Said("FAONFI", "as copied"),
                        ),
                    ),
                    Rule(
                        "One tree: the narrowest girth below the fork (lists of big trees, rules "
                        "for trees in a city).",
                        (
                            Said("MinnesotaBigTrees", "rule 2"),
                            Said("TexasGuidelines", "example B"),
                            Said("Portland", "figure 80-6"),
                        ),
                    ),
                    Rule(
                        "The strongest stem alone, at breast height (lists of big trees: in one "
                        "for every low fork, in the other for a fork at the ground).",
                        (Said("BigTreesGermany"), Said("MinnesotaBigTrees", "rule 2")),
                    ),
                ),
                "Two stems, since timber and basal area add up only so.",
            ),
            Disagreement(
                "How high on the legs?",
                (
                    Rule(
                        "At breast height above the ground.",
                        (Said("Kangueja2009", "section 2.1.1.5, case 1"),),
                    ),
                    Rule(
                        "At breast height if the fork begins below 30 cm; 1 m above the fork's "
                        "origin if it begins higher.",
                        (Said("FAONFI", "as copied"),),
                    ),
                    Rule(
                        "30 cm above the fork's base, where the fork makes breast height abnormal "
                        "(plots in southern Africa).",
                        (Said("SEOSAW", "section 5.2, as summarised"),),
                    ),
                ),
                "Breast height, as long as the legs are clear of the fork's swelling there; if "
                "not, higher, with the height written down.",
            ),
        ),
        caution="A fork with bark grown in can split; do not pull yourself up on a leg.",
        costs=("two-as-one", "one-leg-of-two"),
    ),
    Situation(
        key="fork-at",
        title="A fork at breast height",
        where="One stem: measure below the fork, where the stem is not yet swollen by it, and "
        "note the height.",
        rules=(
            Rule(
                "A fork at or above breast height leaves one tree.",
                (
                    Said(_TEXTBOOK, "figure 3.4, at or above 4.5 feet"),
                    Said("FAONFI", "as copied"),
                ),
            ),
            Rule(
                "It is measured below the fork: just below the swelling, or simply lower, and "
                "there its girth only (Switzerland).",
                (Said("FAONFI", "as copied"), Said("SwissNFI2", "after chapter 8.13, p. 87")),
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
        caution="Dead tops and branches hang in forks: look up before you step close.",
        costs=("swelling", "wrong-height"),
    ),
    Situation(
        key="fork-above",
        title="A fork above breast height",
        where="One stem, at breast height; if the fork swells the stem there, lower, where it "
        "does not, and note the height.",
        rules=(
            Rule(
                "A fork above breast height leaves one tree.",
                (
                    Said(_TEXTBOOK, "figure 3.4"),
                    Said(_NEPAL, "rule 5"),
                    Said("Subedi2018"),
                    Said("SwissNFI2", "after chapter 8.13, p. 87"),
                ),
            ),
            Rule(
                "If it begins a little above breast height: just below the bulge that could make "
                "the diameter larger.",
                (Said("FAONFI", "as copied"),),
            ),
            Rule(
                "Close above breast height the mark goes down on the main stem, by at most 50 cm "
                "if possible (plots in the Congo basin).",
                (Said("Kangueja2009", "section 2.1.1.5, case 2"),),
            ),
        ),
        caution="Dead tops and branches hang in forks: look up before you step close.",
        costs=("swelling", "wrong-height"),
    ),
    Situation(
        key="several-stems",
        title="Coppice: several stems from one stool",
        where="Each shoot for itself, at breast height above the ground, if it is thick enough to "
        "count.",
        rules=(
            Rule(
                "Each shoot is a stem like a fork's leg: measured at breast height above the "
                "ground, or 1 m above where it begins if that is higher than 30 cm.",
                (Said("FAONFI", "as copied"),),
            ),
            Rule(
                "Each stem has its own number, and the number of its base (plots in southern "
                "Africa).",
                (Said("SEOSAW", "section 5.2, as summarised"),),
            ),
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
                        "The largest, and half of each other one (rules for trees in a city).",
                        (Said("Portland", "figure 80-7"),),
                    ),
                    Rule(
                        "The sum of the diameters (rules for trees in another city).",
                        (Said("MenloPark"),),
                    ),
                ),
                "The root of the sum of the squares; the first two views are the same figure, and "
                "the others do not keep the area.",
                follows=(0, 1),
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
                "At branches, burls and overgrown wounds above and below, and the mean "
                "(Switzerland).",
                (Said("SwissNFI2", "after chapter 8.13, p. 87"),),
            ),
            Rule(
                "On a log, too, the mean of two places at equal distances on either side.",
                (Said("EEC1968"),),
            ),
            Rule(
                "Write down the height of each reading that is not at breast height.",
                (Said("Nature40Survey", "2. DBH"),),
            ),
        ),
        disagreements=(
            Disagreement(
                "Something in the way at breast height: where instead?",
                (
                    Rule(
                        "Both sides, and the mean.",
                        (
                            Said(_TEXTBOOK, "figure 3.6, right"),
                            Said("SwissNFI2", "after chapter 8.13, p. 87"),
                            Said("KramerAkca1995", "as quoted"),
                        ),
                    ),
                    Rule(
                        "Above a burl or canker, and the diameter made slightly smaller.",
                        (Said(_TEXTBOOK, "figure 3.6, left"),),
                    ),
                    Rule(
                        "Directly above a bulge or whorl.",
                        (Said(_TEXTBOOK, "figure 3.5"),),
                    ),
                    Rule(
                        "Above it (one network of permanent plots; one handbook for owners, of "
                        "branches and the like).",
                        (Said("ForestGEO"), Said("WoodlandStewardship", "chapter 2")),
                    ),
                    Rule(
                        "Up or down as little as possible; slightly below or above.",
                        (Said(_NEPAL, "rule 4"), Said("Portland", "trees in a city")),
                    ),
                    Rule(
                        "Up to a clear round place, but rather down by at most 50 cm than up by "
                        "more than 50 cm (plots in the Congo basin).",
                        (Said("Kangueja2009", "section 2.1.1.5, case 3"),),
                    ),
                    Rule(
                        "30 cm above a deformity (plots in southern Africa).",
                        (Said("SEOSAW", "section 5.2, as summarised"),),
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
        caution="Behind a canker or a burl the stem may be rotten: look up before you lean on it.",
        costs=("swelling", "above-only"),
    ),
    Situation(
        key="butt-swell",
        title="A foot that is swollen beyond breast height",
        where="At least 46 cm above where the swell ends, unless your survey says how far; note "
        "the height.",
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
        disagreements=(
            Disagreement(
                "How far above the swell?",
                (
                    Rule(
                        "At least 1.5 feet, 46 cm.",
                        (Said(_TEXTBOOK, "figure 3.5"),),
                    ),
                    Rule(
                        "30 cm above its end, if it is higher than 1 m.",
                        (Said("FAONFI", "as copied in an encyclopedia"),),
                    ),
                ),
                "46 cm, unless your survey says how far; and always the same.",
            ),
        ),
        caution="Above your reach do not climb and do not stand on roots: sight it from the "
        "ground, or leave it to people trained and equipped for height.",
        costs=("butt-swell",),
    ),
    Situation(
        key="buttress",
        title="Buttresses that reach breast height",
        where="50 cm above where the buttresses end today, unless your survey says how far; they "
        "grow up: look for where they will not reach. Note the height.",
        rules=(
            Rule(
                "50 cm above them, and the place moved when they grow into it (plots in Amazonia).",
                (Said("RAINFOR2021", "as summarised"),),
            ),
            Rule(
                "The lowest point above which the buttress is not likely to extend.",
                (Said(_NEPAL, "rule 6"), Said("Subedi2018")),
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
                    Rule(
                        "30 cm above their end, if they are higher than 1 m.",
                        (Said("FAONFI", "as copied in an encyclopedia"),),
                    ),
                    Rule(
                        "50 cm above them, and the place moved when they grow into it (plots in "
                        "Amazonia).",
                        (Said("RAINFOR2021", "as summarised"),),
                    ),
                    Rule(
                        "About 1 m above their end, and for growth at a second place 1.50 m "
                        "higher, since buttresses grow up into the first.",
                        (Said("FrenchPlots"),),
                    ),
                    Rule(
                        "Over them (an older text of a list of big trees, of flutes like those of "
                        "Lombardy poplar).",
                        (Said("BigTreesGermany", "older text"),),
                    ),
                ),
                "50 cm above where they end today, higher where they are likely to reach it, with "
                "the height written down: the same place must be found again.",
                follows=(0, 3),
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
