"""What stands behind the figures of the calipers' road."""

from prose.rows import chosen, row

ROWS = [
    row(
        "within about 22.5° for their arithmetic mean, about 30°",
        "degrees(asin(sqrt(1 / 2))) / 2",
        "degrees(asin(sqrt(3 / 4))) / 2",
    ),
    row("45°", "90 / 2"),
    row("θ + 90°", "360 / 4"),
    row("add up to 1", chosen("coefficient")),
    row("line 4, divided", chosen("name")),
    row(
        "= 3/8 at θ = 22.5°",
        "(1 + sin(2 * radians(22.5)) ** 2) / 4",
        "degrees(asin(sqrt(4 * 3 / 8 - 1))) / 2",
    ),
    row("The tape's number is 3/8", "leading(tape_over_percent)"),
    row("reaches it at 22.5°", "degrees(asin(sqrt(4 * 3 / 8 - 1))) / 2"),
    row("= 3/8 at θ = 30°", "sin(2 * radians(30)) ** 2 / 2", "degrees(asin(sqrt(2 * 3 / 8))) / 2"),
    row("the tape's number at 30°", "degrees(asin(sqrt(2 * 3 / 8))) / 2"),
    row("→ 3/8 as b → a", "leading(tape_over_percent)"),
    row("3/8 is the tape's number", "leading(tape_over_percent)"),
    row("→ 1/4 as b → a", "np.mean(np.sin(2 * np.radians(np.arange(360))) ** 2) / 2"),
]
