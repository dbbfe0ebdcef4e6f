"""What stands behind the figures of the kinds of stems in where would you measure?"""

from prose.rows import chosen, quoted, row

_MANUAL_CM = "round(1.5 * 12 * 2.54)"

ROWS = [
    row("1.3 m along the stem from the soil", "BREAST_HEIGHT_M"),
    row("Most countries take 1.30 m", quoted("BCFT", "1.30 m")),
    row("At least 1.5 feet", quoted("DeYoung2016", "1.5 feet")),
    row("at your own chest, which is 1.48 m high", chosen("example")),
    row("where the arm is comfortable, at 1.15 m", chosen("example")),
    row("1.3 m from half-way between uphill and downhill", "BREAST_HEIGHT_M"),
    row("At breast height if the fork begins below 30 cm", quoted("FAONFI", "30 cm")),
    row("30 cm above the fork's base", quoted("SEOSAW", "30 cm")),
    row("30 cm above a deformity", quoted("SEOSAW", "30 cm")),
    row("30 cm above its end", quoted("FAONFI", "30 cm")),
    row("50 cm above them", quoted("RAINFOR2021", "50 cm")),
    row("30 cm above their end", quoted("FAONFI", "30 cm")),
    row("About 1 m above their end", quoted("FrenchPlots", "1 m")),
    row("at the USA's breast height, 1.37 m", "4.5 * 0.3048"),
    row("two stems, each 1 m above the fork", quoted("FAONFI", "1 m")),
    row("two stems, each 30 cm above the fork", quoted("SEOSAW", "30 cm")),
    row("30 cm above it", quoted("SEOSAW", "30 cm")),
    row("well below it, not more than 50 cm down", quoted("Kangueja2009", "50 cm")),
    row("30 cm above where the swell ends", quoted("FAONFI", "30 cm")),
    row("50 cm above where the buttresses end today", quoted("RAINFOR2021", "50 cm")),
    row("1 m above their end", quoted("FrenchPlots", "1 m")),
    row("1.3 m from the top of the", "BREAST_HEIGHT_M"),
    row("1.3 m from half-way between both sides", "BREAST_HEIGHT_M"),
    row("1.3 m plumb above the soil", "BREAST_HEIGHT_M"),
    row("1.3 m plumb above the soil on the side", "BREAST_HEIGHT_M"),
    row("swells it, at most 50 cm down", quoted("Kangueja2009", "50 cm")),
    row("as far above 1.3 m as below", "BREAST_HEIGHT_M"),
    row("at least 46 cm above where the swell ends", _MANUAL_CM),
    row("less than 46 cm above where the swell ends", _MANUAL_CM),
    row("1.3 m from where the roots end", "BREAST_HEIGHT_M"),
]
