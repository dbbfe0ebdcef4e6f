"""What stands behind the figures of the problems on plots and angle counts to a hectare."""

from prose.rows import row

ROWS = [
    row("how often it goes into 10 000", "100 * 100"),
    row("Over √4 and over the mean area", "len(('first', 'second', 'third', 'fourth'))"),
    row("{factor_m2_per_ha}·40 000/(3.1416·d²)", "4 * 100 * 100"),
]
