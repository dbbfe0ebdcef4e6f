"""Where the lecturer's plan of this sitting lies; nowhere, unless a lecturer opened the workbooks.

`mensura open --lecturer` hands the plan's path to the server, and with it to every kernel, in one
variable. Whoever shows something to lecturers only asks here, and nobody else has to know of it.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

#: The variable: the plan's absolute path.
PLAN_VARIABLE = "MENSURA_LESSON_PLAN"

#: The plan's name, where the lecturer gives none.
PLAN_NAME = "lesson.toml"

#: Folder of the shipped workbooks that students' folders never get.
LECTURERS = "lecturer"

#: The page on which a lecturer sees the plan.
LESSON_PAGE = f"{LECTURERS}/lesson.ipynb"


def plan_of_this_sitting(environment: Mapping[str, str] = os.environ) -> Path | None:
    """The plan that *into the lesson* adds to, None where no lecturer is.

    environment: of the kernel.

    >>> plan_of_this_sitting({"LANG": "C"}) is None
    True
    """
    named = environment.get(PLAN_VARIABLE, "")
    return Path(named) if named else None


def with_plan(environment: Mapping[str, str], plan: Path | None) -> dict[str, str]:
    """An environment in which the plan is known, or in which none is: none is taken over.

    environment: the user's; plan: absolute, or None for a class.

    >>> with_plan({PLAN_VARIABLE: "of-another-sitting.toml"}, None)
    {}
    """
    rest = {name: value for name, value in environment.items() if name != PLAN_VARIABLE}
    return rest if plan is None else {**rest, PLAN_VARIABLE: str(plan)}


def is_lecturers(name: str) -> bool:
    """Whether a shipped file is for lecturers only.

    name: relative to the shipped workbooks, parted by "/".

    >>> is_lecturers("lecturer/lesson.ipynb"), is_lecturers("05-bark.ipynb")
    (True, False)
    """
    return name.partition("/")[0] == LECTURERS and "/" in name
