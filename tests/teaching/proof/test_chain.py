"""A student's proof: by two routes, in both directions, with undo and hints."""

from itertools import pairwise

import pytest

from mensura.checks import MeasureError
from mensura.teaching.proof import ENOUGH, THEREFORE
from mensura.teaching.proof.chain import Chain
from mensura.teaching.proof.judge import judge

FORWARDS = ["(a-b)^2 > 0", "a² - 2ab + b² > 0", "a^2 + b^2 > 2ab", "π/2 (a²+b²) > πab"]
BACKWARDS = ["A_tape - A_cal > 0", "a² + b² - 2ab > 0", "(a-b)^2 > 0"]


def filled(texts, direction, **said):
    """A chain with lines written one after another; each must be accepted."""
    chain = Chain(**said)
    for text in texts:
        reply = chain.write(text, direction)
        assert reply.accepted, (text, reply.sentence)
    return chain


def test_forwards_from_what_is_given():
    """From a ≠ b to the theorem; proved when the last line has the theorem's sides."""
    chain = filled(FORWARDS[:-1], THEREFORE)
    assert not chain.proved
    chain.write(FORWARDS[-1], THEREFORE)
    assert chain.proved
    assert [sign for sign, *_ in chain.lines()] == ["", "⇒", "⇒", "⇒", "⇒", "⇒"]
    assert chain.lines()[-1][1] == "A_tape > A_cal"


def test_backwards_from_the_theorem():
    """From the theorem down to a square that is seen to be above zero."""
    chain = filled(BACKWARDS[:-1], ENOUGH)
    assert not chain.proved
    chain.write(BACKWARDS[-1], ENOUGH)
    assert chain.proved
    told = [line for _, line, _ in chain.lines()]
    assert told[0] == "a ≠ b"
    assert told[-1] == "A_tape > A_cal"


def test_both_ends_meet_in_the_middle():
    """A part from below and a part from above that end in the same line."""
    chain = filled(["√A_tape > √A_cal", "2ab < a^2 + b^2"], ENOUGH)
    chain.write("(a-b)^2 > 0", THEREFORE)
    assert not chain.proved
    chain.write("a² + b² > 2ab", THEREFORE)
    assert chain.proved
    assert "gap" not in str(chain.lines())


def test_every_row_of_a_finished_proof_follows_from_the_one_above():
    """What the page shows is judged anew, row by row."""
    for chain in (filled(FORWARDS, THEREFORE), filled(BACKWARDS, ENOUGH)):
        rows = chain.lines()
        for (_, before, _), (sign, line, _) in pairwise(rows):
            assert sign == "⇒"
            assert judge(line, before, ["a ≠ b"]).forwards, (before, line)


def test_the_theorem_is_not_proved_by_saying_it():
    """Neither the theorem from a ≠ b at once, nor a ≠ b as enough for it, is accepted."""
    chain = Chain()
    assert not chain.write("A_tape > A_cal", THEREFORE).accepted
    assert not chain.write("a ≠ b", ENOUGH).accepted
    assert not chain.proved
    assert chain.forwards == chain.backwards == []


def test_a_line_must_go_the_way_it_is_written():
    """A weaker line is no line from above, a stronger one none from below."""
    chain = Chain()
    assert not chain.write("a² + b² > ab", ENOUGH).accepted
    chain.write("(a-b)^2 > 0", THEREFORE)
    weak = chain.write("a² + b² > ab", THEREFORE)
    assert weak.accepted
    strong = chain.write("a² + b² > 2ab", THEREFORE)
    assert not strong.accepted
    assert "⇒, which it cannot carry" in strong.sentence


def test_a_weak_line_does_not_reach_the_theorem():
    """≥ from below never closes the gap to >."""
    chain = filled(["(a-b)^2 >= 0", "a²+b² ≥ 2ab", "A_tape >= A_cal"], THEREFORE)
    assert not chain.proved
    assert not chain.write("A_tape > A_cal", THEREFORE).accepted
    cited = chain.write("A_tape > A_cal", THEREFORE, cites_unequal=True)
    assert cited.accepted
    assert chain.proved


def test_the_longer_half_axis_must_be_said_first():
    """a > b lines are refused without the sentence and accepted with it."""
    assert not Chain().write("a - b > 0", THEREFORE).accepted
    chain = filled(["a - b > 0", "(a-b)^2 > 0", *FORWARDS[1:]], THEREFORE, longer_axis=True)
    assert chain.proved
    assert ("", "a > b") in [row[:2] for row in chain.lines()]


def test_the_sentence_cannot_be_taken_back_while_a_line_needs_it():
    """Taking the sentence back is refused while a line stands on it; after undo it is not."""
    chain = filled(["a - b > 0"], THEREFORE, longer_axis=True)
    with pytest.raises(MeasureError, match="needs it"):
        chain.longer_axis = False
    assert chain.longer_axis
    chain.undo()
    chain.longer_axis = False
    assert not chain.longer_axis


def test_undo_takes_lines_back_in_the_order_written():
    """The last line written goes first, from whichever part; then there is none."""
    chain = Chain()
    chain.write("(a-b)^2 > 0", THEREFORE)
    chain.write("A_tape - A_cal > 0", ENOUGH)
    assert chain.undo().direction == ENOUGH
    assert chain.undo().text == "(a-b)^2 > 0"
    assert chain.undo() is None
    assert chain.gap == ("a ≠ b", "A_tape > A_cal")


def test_hints_grow_stronger_and_start_anew_after_a_line():
    """Kind of move, where to look, the line with a gap; a new place, a gentle hint again."""
    chain = Chain()
    hints = [chain.hint() for _ in range(4)]
    assert len(set(hints[:3])) == 3
    assert hints[2] == hints[3]
    assert "(a − b)² > …" in hints[2]
    assert not any("(a − b)² > 0" in hint for hint in hints)
    chain.write("(a-b)^2 > 0", THEREFORE)
    assert "multiply the square out" in chain.hint()


@pytest.mark.parametrize("direction", [THEREFORE, ENOUGH])
def test_the_expected_lines_alone_prove_the_theorem(direction):
    """A student who asks for every line gets a proof, either way."""
    chain = Chain()
    for _ in range(8):
        if chain.proved:
            break
        assert chain.write(chain.expected(direction), direction).accepted
    assert chain.proved
    assert "done" in chain.hint()


@pytest.mark.parametrize(
    "text", ["√A_tape > √A_cal", "A_tape - A_cal > 0", "a/b + b/a > 2", "2A_tape > 2A_cal"]
)
def test_the_expected_line_fits_after_a_line_of_ones_own(text):
    """Also after a line that no list holds, the shown line is accepted, down to a proof."""
    chain = filled([text], ENOUGH)
    for _ in range(8):
        if chain.proved:
            break
        assert chain.write(chain.expected(), ENOUGH).accepted
    assert chain.proved


def test_a_finished_proof_takes_no_more_lines():
    """After the last line nothing is added; after undo it goes on."""
    chain = filled(FORWARDS, THEREFORE)
    assert not chain.write("2A_tape > 2A_cal", THEREFORE).accepted
    assert chain.proved
    chain.undo()
    assert chain.write("2a² + 2b² > 4ab", THEREFORE).accepted


def test_a_refused_line_changes_nothing():
    """Nothing is put down for a line that is false or not read."""
    chain = filled(["(a-b)^2 > 0"], THEREFORE)
    before = chain.to_dict()
    for text in ("a² + b² > 3ab", "a² + b² > 2ab)", "a + b > 0", ""):
        assert not chain.write(text, THEREFORE).accepted
        assert chain.to_dict() == before
    with pytest.raises(MeasureError, match="direction"):
        chain.write("a > b", "sideways")
