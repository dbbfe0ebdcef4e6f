"""The guide to a new family works as it stands on the contributors' page."""

import re
from pathlib import Path

import pytest

from mensura.checks import MeasureError
from mensura.teaching.answers.reply import reply
from mensura.teaching.problems.draw import draw

PAGE = Path(__file__).parents[3] / "DEVELOPERS.md"


def example():
    """The family that the page declares."""
    found = re.findall(
        r"<!-- a whole family;.*?-->\n```python\n(.+?)```", PAGE.read_text("utf-8"), re.S
    )
    assert len(found) == 1
    return found[0]


def test_the_guide_s_family_is_drawn_and_answered():
    """Its code runs, gives problems, takes the right answer and names each slip."""
    names = {}
    exec(compile(example(), str(PAGE), "exec"), names)
    family = names["FAMILY"]
    for student in ("Q01", "Q02", "Q03"):
        one = draw(family, student, "alder")
        girth = one.numbers["girth_cm"]
        assert one.answer == pytest.approx(girth / 3.141592653589793 / 2**0.5)
        assert reply(one, f"{one.answer:.2f} cm").right
        for slip in one.slips:
            assert reply(one, f"{slip.value:.4f} cm").slip == slip.name


@pytest.mark.parametrize(
    ("taken_out", "field"),
    [
        ('        "Work out {girth_cm}/3.1416, then divide by 1.4142.",\n', "hints"),
        ("{answer}", "solution"),
        ('topic="girth"', "topic"),
    ],
)
def test_the_guide_s_family_without_a_part_is_refused(taken_out, field):
    """A hint, the answer, or a known topic left out: refused, with the part named."""
    code = example()
    assert taken_out in code
    other = 'topic="trees"' if field == "topic" else ""
    with pytest.raises(MeasureError) as refused:
        exec(compile(code.replace(taken_out, other), str(PAGE), "exec"), {})
    assert refused.value.field == field
