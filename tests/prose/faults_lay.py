"""What stands behind the figures of the texts of the faults of the lay."""

from prose.rows import given, row

ROWS = [
    row("0.3 m too low, taper 1 cm a metre", given, given),
    row("bark pressed in by 1 mm", given),
    row("as thick as a thumb, 2 cm", given),
    row("as thick as a thumb (2 cm)", given),
    row("knot 1 cm high", given),
    row("for 1 cm high", given),
    row("for one 10 cm wide", given),
    row("stand-off of 0.5 cm", given),
    row("stands off 0.5 cm", given),
    row("In how many waves, 1 to 50; 2 if not given", given, given, "Lay().wander_waves"),
    row("wander of 5 cm", given),
    row("for 5 cm from crest to trough", given),
    row("miss each other by 7 cm", given),
    row("ends that miss by 7 cm", given),
    row("slack of 2 cm", given),
]
