"""What stands behind the figures of the questions of workbook 04."""

from prose.rows import chosen, row, used

ROWS = [
    row("5° look bad and add 0.24 cm", used, "Lay(tilt_deg=5).shares_cm(circle(40))['tilt']"),
    row("That adds 0.10 cm", "Lay(overlap_offset_cm=5).shares_cm(circle(40))['overlap']"),
    row("A climber, 2 cm thick", chosen("example")),
    row("It adds 1.17 cm", "Lay(climber_cm=2).shares_cm(circle(40))['climber']"),
    row(
        "The climber adds 1.17 cm, the tilt 0.24 cm, the missing ends 0.10 cm",
        "Lay(climber_cm=2).shares_cm(circle(40))['climber']",
        "Lay(tilt_deg=5).shares_cm(circle(40))['tilt']",
        "Lay(overlap_offset_cm=5).shares_cm(circle(40))['overlap']",
    ),
    row("Divide tan² θ by 4", chosen("coefficient")),
    row("did not get 2 cm thicker", "2"),
]
