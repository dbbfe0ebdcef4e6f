"""What stands behind the figures of the problems from readings to timber."""

from prose.rows import chosen, row

PARABOLOID = "1 / solid_form_factor('paraboloid') - 1"
CONE = "1 / solid_form_factor('cone') - 1"

ROWS = [
    row("A paraboloid has p = 1, a cone p = 2", PARABOLOID, CONE),
    row("p is 2·ln({lower_diameter_cm}/{upper_diameter_cm})", chosen("coefficient")),
    row("That is p = 1, a paraboloid", PARABOLOID),
    row("That is p = 2, a cone", CONE),
    row("The 2 is squared as well", chosen("coefficient")),
    row("add up to more than 100: take the squares", "100 * 1"),
]
