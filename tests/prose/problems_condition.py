"""What stands behind the figures of the problems on the condition of a tape."""

from prose.rows import quoted, row

ROWS = [
    row("From 20 °C down to 0 are 20", "REFERENCE_C", "REFERENCE_C - 0"),
    row("by 11.6 millionths", "material('steel').expansion_per_c * 1e6"),
    row("0.0000116·(20 − (", "material('steel').expansion_per_c"),
    row("0.0000116·{colder_c}", "material('steel').expansion_per_c"),
    row("The band is true at 20 °C", "REFERENCE_C"),
    row("add to the 20: the frost is further from 20 °C", "REFERENCE_C", "REFERENCE_C"),
    row("for the steel (11.6 millionths", "material('steel').expansion_per_c * 1e6"),
    row("[Phillips2016] for 20 °C", quoted("Phillips2016", "20 °C")),
    row("For each °C it is 11.6 millionths", "material('steel').expansion_per_c * 1e6"),
    row("make 0.05 cm", "0.1 / 2"),
    row("They count from 20 °C", "REFERENCE_C"),
    row("0.05/({girth_cm}·0.0000116)", "0.1 / 2", "material('steel').expansion_per_c"),
    row("{girth_cm}·0.0000116 = {per_c_cm}", "material('steel').expansion_per_c"),
    row("Half a millimetre, 0.05 cm, is", "0.1 / 2"),
    row("Count from 20 °C", "REFERENCE_C"),
    row("Half a millimetre is 0.05 cm. You took 0.5 cm", "0.1 / 2", "10 * 0.1 / 2"),
]
