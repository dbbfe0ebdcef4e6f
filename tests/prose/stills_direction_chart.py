"""What stands behind the figures of the chart of caliper practices by direction."""

from prose.rows import row

ROWS = [row("18 directions", "PRACTICES['many-arithmetic'][0]")]
