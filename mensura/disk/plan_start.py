"""A plan to start from: a short one that says what each line is for, or one of the two that come
with the project.

It is written under a name that is free, and can be given as it is.
"""

from __future__ import annotations

from pathlib import Path

from mensura.checks import ChoiceError
from mensura.disk.plan_read import PlanError, Where
from mensura.disk.writing import reason, write_new
from mensura.places import plan_file, plan_names

#: The short one: every kind of step once, as one may be wanted.
START = """\
# A plan of a lesson. What stands behind a # is a remark, for you alone.
#
#   mensura plan                      lists every section that a step can show
#   mensura plan THIS-FILE.toml       checks this plan and says how long it takes
#   mensura present THIS-FILE.toml    gives the lesson
#
# Each step begins with [[step]]. Move it, copy it, take it out as you like.

title = "An oval stem"
minutes = 15

# A question from a workbook: ask it, and count hands before anything is shown.
[[step]]
workbook = "02"
section = "02-predict"
minutes = 3
note = "Hands up for each answer. Count them in, and give nothing away."

# A panel, at values of your own. Controls are named as mensura plan lists them; only those in
# controls are shown, or as many as fit if that line is missing.
[[step]]
workbook = "02"
section = "out-of-round-panel"
minutes = 5
start = { first_cm = 60, second_cm = 48, tilt_deg = 0, furrow_depth_cm = 0 }
controls = ["second_cm", "caliper_direction_deg"]
note = \"\"\"
Make the second diameter 60, then smaller again, slowly.
Ask: what does the tape say now, and who is nearer?\"\"\"

# Words of your own, in Markdown. Steps marked spare may be left out when time runs short.
[[step]]
title = "In pairs"
text = \"\"\"
Tell your neighbour, in one sentence:

**why can a taut tape never claim too little?**\"\"\"
minutes = 2
spare = true

# One line of a proof.
[[step]]
workbook = "03"
section = "classroom-road-7"
minutes = 2
note = "Why is a square never below nothing? Let them say it."

# A problem, with numbers that the class works out.
[[step]]
workbook = "02"
section = "tape-on-an-oval"
minutes = 3

# Pictures and notebooks of your own lie in this file's folder, or below it. To use one, take the #
# away and name yours.
#
# [[step]]
# picture = "pictures/disc.jpg"
# alt = "A cut disc, clearly oval, with bark on one side only"
# minutes = 2
#
# [[step]]
# notebook = "my-own.ipynb"
# cell = 3
# minutes = 2
"""


def start_plan(path: Where, start: str = "") -> Path:
    """Writes a plan to start from, and never over what is there. Returns its path.

    path: of the new file; start: which of the project's plans, by name, or "" for the short one.
    Raises PlanError, in one sentence; ChoiceError for a plan that there is not.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     start_plan(Path(place, "oval.toml")).name
    'oval.toml'
    """
    file = Path(path)
    if start and start not in plan_names():
        raise ChoiceError("start", start, plan_names())
    content = plan_file(start).read_bytes() if start else START.encode("utf-8")
    try:
        made = write_new(file, content)
    except OSError as error:
        wanted = "a file in a folder that can be written to"
        raise PlanError(file.name, 0, reason(error), wanted) from None
    if not made:
        wrong = "there is a file of that name already, which stays as it is"
        raise PlanError(file.name, 0, wrong, "a name that is free")
    return file
