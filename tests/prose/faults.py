"""What stands behind the figures of the texts of the list of faults."""

from prose.rows import given, row

ROWS = [
    row("band 0.3 mm thick", given),
    row("20 if not given", "REFERENCE_C"),
    row(
        "steel band 20 °C warmer",
        "fault('temperature').typical[0].settings['temperature_c'] - REFERENCE_C",
    ),
    row(
        "fibreglass 20 °C warmer",
        "fault('temperature').typical[1].settings['temperature_c'] - REFERENCE_C",
    ),
    row("50 if not given", "REFERENCE_N"),
    row(
        "steel pulled with 40 N too much",
        "fault('pull').typical[0].settings['pull_n'] - REFERENCE_N",
    ),
    row("band stretched by 1 %", given),
    row("cloth shrunk by 2 %", given),
    row("start worn by 0.5 cm", given),
    row("jaws pressed in by 1 mm each", given),
    row("jaw that leans out by 1°", given),
    row("beam that slopes by 8°", given),
    row("closed they read 0.3 cm", given),
]
