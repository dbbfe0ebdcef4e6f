"""What stands behind the figures of the problems on a photographed cut end."""

from prose.rows import chosen, given, row

ROWS = [
    row("The frame is 40 cm wide but only 30 cm high", given, given),
    row("square it, take 1 away, and make it", "cos(0)"),
    row("the sine of 360°/{click_count}", "degrees(2 * pi)"),
    row("Two marks make √2 of one", chosen("coefficient")),
    row("({u_edge_px}/{radius_px})², times 200", "2 * 100"),
    row("and both are unsure: √2 of one", chosen("coefficient")),
]
