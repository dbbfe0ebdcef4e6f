"""Where to measure, what lies on, in or round the stem; lying stems; the mark for next time.

Sources: [ArneyOpalach2017], [Brassel2001], [CFMP1999], [EDI1559], [EEC1968], [FIAGuide],
[ForestryNepal2008], [FrenchPlots], [IdahoScaling], [Kangueja2009], [Marthews2012],
[MinnesotaBigTrees], [Nature40Survey], [RAINFOR2021], [SEOSAW], [Sheil2003], [Subedi2018],
[SwissLWF], [SwissNFI2].
"""

from __future__ import annotations

from mensura.estimates.place_said import Disagreement, Rule, Said, Situation

_NEPAL = "ForestryNepal2008"

SURFACE_SITUATIONS: tuple[Situation, ...] = (
    Situation(
        key="wound",
        title="A wound, missing bark or a dead stem",
        where="At the nearest sound place, or on both sides of the wound; if bark is missing all "
        "round, measure what is there and write that it is without bark.",
        rules=(
            Rule(
                "A wound is a deformation: the mark goes up to a clear round place, but rather "
                "down by at most 50 cm than up by more than 50 cm (plots in the Congo basin).",
                (Said("Kangueja2009", "section 2.1.1.5, case 3"),),
            ),
            Rule(
                "A dead tree that misses bark is measured without it, and that diameter is "
                "recorded (USA).",
                (Said("FIAGuide", "as quoted"),),
            ),
            Rule(
                "At an overgrown wound above and below, and the mean (Switzerland).",
                (Said("SwissNFI2", "after chapter 8.13, p. 87"),),
            ),
            Rule(
                "Trees that are not safe to measure are estimated; work near dead trees needs "
                "extreme caution (USA).",
                (Said("FIAGuide", "chapter 5.0"),),
            ),
            Rule("Do not pull the band into a hole, and do not guess what bark is gone."),
        ),
        caution="Dead stems drop branches and tops: look up first, do not knock or push, go in "
        "with a helmet where your site asks for it, and leave it in wind.",
        no_cost="It depends on how much bark or wood is gone, which nobody can measure; the cost "
        "of a whole layer stands under moss.",
    ),
    Situation(
        key="moss",
        title="Moss, lichen and loose bark",
        where="On firm bark: clear away by hand what comes off by itself, where the band lies.",
        rules=(
            Rule(
                "Loose bark, moss and lichen are removed before measuring over bark.",
                (Said("Subedi2018"), Said("Nature40Survey", "2. DBH: big mosses, dirt")),
            ),
            Rule(
                "Diameters by tape tend to be high from moss, branches and loose debris.",
                (Said("ArneyOpalach2017", "opening"),),
            ),
            Rule("Firm bark stays: do not scrape or cut it."),
        ),
        caution="Some mosses and lichens are protected: ask first, and clear no more than the "
        "band's width.",
        costs=("moss",),
    ),
    Situation(
        key="climber",
        title="A climber on the stem",
        where="On the bark under the climber: lift or loosen it and pass the band below; if that "
        "cannot be done, use calipers between its stems and write it down.",
        rules=(
            Rule("The band goes under a climber, never over it."),
            Rule(
                "Where a band cannot go round, half the stem is measured and doubled, and that is "
                "noted (plots in southern Africa).",
                (Said("SEOSAW", "section 5.2, as summarised"),),
            ),
            Rule("Do not cut a climber unless the owner asked for it."),
        ),
        caution="Climbers can irritate the skin and hide wasps' nests; pulling one brings dead "
        "wood down.",
        costs=("climber",),
    ),
    Situation(
        key="furrows",
        title="Deep furrows and flutes",
        where="As a list of big trees has it: lay the band over the furrows, taut, and do not "
        "press it in.",
        rules=(
            Rule(
                "Measure without pressing into the indentations (a list of big trees).",
                (Said("MinnesotaBigTrees", "rule 1"),),
            ),
        ),
        caution="Furrows hold thorns, old wire and wasps: look before you run a hand along the "
        "band.",
        costs=("furrows",),
    ),
    Situation(
        key="water-or-snow",
        title="A stem in water or snow",
        where="From the soil under it: feel for it with the stick, or come back.",
        rules=(
            Rule("Breast height counts from the soil, not from the top of snow or water."),
            Rule("If the soil cannot be reached, use the mark of last time, or leave the stem."),
        ),
        caution="Never step into moving water, on ice or into snow above holes to read a girth.",
        costs=("snow",),
    ),
    Situation(
        key="fallen-living",
        title="A fallen tree that lives on",
        where="Breast height along the stem from where the roots begin, square to the stem.",
        rules=(
            Rule("Measure along the stem from the root collar, as if it stood."),
            Rule(
                "It counts while it is rooted and whole from its base to the place of the band "
                "(plots in southern Africa).",
                (Said("SEOSAW", "sections 5.1 and 5.4, as summarised"),),
            ),
            Rule("Shoots that stand on it are stems for themselves if your survey counts them."),
        ),
        caution="A root plate can fall back when weight goes off the stem: stay away from the hole "
        "and from under the plate, and keep off stems under tension.",
        costs=("wrong-height",),
    ),
    Situation(
        key="lying-stem",
        title="A lying stem or log, along its length",
        where="Where its rule of volume says (middle, ends), square to its axis; at a swelling on "
        "both sides at equal distances.",
        rules=(
            Rule(
                "If the place is not representative, choose one that is.",
                (Said("CFMP1999", "section 2.2.1"),),
            ),
            Rule(
                "At a swelling take the mean of two places at equal distances on either side.",
                (Said("EEC1968"),),
            ),
            Rule(
                "Wind a steel tape firmly round, square to the long axis and not twisted.",
                (Said("CFMP1999", "section 2.2.1"),),
            ),
        ),
        caution="Logs roll: never stand below one, never reach under one in a stack, and wedge "
        "before you measure.",
        costs=("swelling",),
    ),
    Situation(
        key="log-ends",
        title="The ends of a log",
        where="Across the cut, through the middle, on two ways at right angles; say whether with "
        "bark or without.",
        rules=(
            Rule(
                "Inside bark, through the true centre, the narrowest way first and the other at "
                "right angles; bumps and broken parts left out (Idaho).",
                (Said("IdahoScaling"),),
            ),
            Rule(
                "Two axes square to each other, and their mean.",
                (Said("CFMP1999", "section 2.2.1"),),
            ),
        ),
        caution="Keep off stacks; measure at ends only while no machine works.",
        no_cost="What a cut end's shape does to both widths is measured in workbook 13.",
    ),
    Situation(
        key="mark",
        title="The mark, and finding it again",
        where="Paint a thin line where the band lay: its top edge counts. Write down its height "
        "and side. Never cut the bark.",
        rules=(
            Rule(
                "A line of paint exactly where the tape lies; a tag alone is risky, since with "
                "it the height is lost (plots in the Congo basin).",
                (Said("Kangueja2009", "section 2.1.1.5"),),
            ),
            Rule(
                "Where a stem carries a point mark, the place is at the top of the mark.",
                (Said(_NEPAL, "rule 1"),),
            ),
            Rule(
                "Measure on the mark of last time, always.",
                (Said("SwissNFI2", "after chapter 8.13, p. 87"), Said("SwissLWF")),
            ),
            Rule(
                "Come back in the same season (one long-term plot: from the middle of July on, "
                "for the end of the year's growth).",
                (Said("EDI1559"), Said("SEOSAW", "as summarised: the same season each time")),
            ),
            Rule(
                "Write down the hour: a girth moves by about 1 mm within a day (eight trees in "
                "the tropics).",
                (Said("Sheil2003", "abstract"),),
            ),
            Rule(
                "Do not paint in heavy rain or after it: the paint does not hold.",
                (Said("Marthews2012", "section 1.3"),),
            ),
            Rule(
                "Paint, and never cut: marks cut into the bark were answered with wounds' wood, "
                "by beech most of all (Switzerland).",
                (Said("Brassel2001", "section 2.3.3.6, on chapter 8.12"),),
            ),
            Rule(
                "If the mark has to move, read at the old place and at the new one (plots in "
                "southern Africa).",
                (Said("SEOSAW", "section 9, as summarised"),),
            ),
        ),
        disagreements=(
            Disagreement(
                "How is the place marked?",
                (
                    Rule(
                        "A line of paint along the band.",
                        (Said("Kangueja2009", "section 2.1.1.5"),),
                    ),
                    Rule(
                        "Two crossed lines of 12 cm in white.",
                        (Said("Subedi2018"), Said(_NEPAL, "rule 1, length not told")),
                    ),
                    Rule(
                        "A nail 30 cm above the place, which can hold the tag: a painted line may "
                        "be too easy to see.",
                        (Said("FrenchPlots"),),
                    ),
                    Rule(
                        "A painted place, and the tag clear of it: 20 cm above (plots in southern "
                        "Africa), 30 cm above (plots in Amazonia).",
                        (Said("SEOSAW", "as summarised"), Said("RAINFOR2021", "as summarised")),
                    ),
                    Rule(
                        "Above or below a tag, by agreement: told as a habit of some, and as "
                        "risky.",
                        (Said("Kangueja2009", "section 2.1.1.5"),),
                    ),
                ),
                "A thin line, of which the top edge counts; say so on the sheet.",
            ),
        ),
        caution="Nails and paint need the owner's leave; nails spoil saws and hurt sawyers.",
        costs=("off-the-mark",),
    ),
)
