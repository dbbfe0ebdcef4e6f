"""What stands behind the figures of the rounds of where would you measure?"""

from prose.rows import row

ROWS = [
    row("to be measured at breast height, 1.3 m, by", "BREAST_HEIGHT_M"),
    row("the middle of the two bands lies {…} 1.3 m", "BREAST_HEIGHT_M"),
    row("the sectional area is right to 0.0 %", "abs(area_cost_percent('level-band', amount=0))"),
]
