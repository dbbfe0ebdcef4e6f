"""The command `mensura proof`: a road told and verified, a line judged, or one sentence."""

import dataclasses
import json

import pytest
from click.testing import CliRunner

from mensura.cli import main
from mensura.teaching import proof
from mensura.teaching.proof import ROADS, Checked, Road


def run(*words):
    return CliRunner().invoke(main, ["proof", *words])


def refused(*words):
    """The one sentence with which the words are refused."""
    result = run(*words)
    assert result.exit_code == 2, result.output
    assert result.stdout == ""
    assert result.stderr.count("\n") == 1
    assert result.stderr.endswith((".\n", "?\n"))
    return result.stderr


def test_without_options_the_classroom_and_the_names_of_the_others():
    """Signs, lines, reasons, assumptions; nothing is said to be verified that was not."""
    result = run()
    assert result.exit_code == 0
    text = result.stdout
    for step in proof.road("classroom").steps:
        assert f"{step.sign or ' '}  {step.line}\n" in text
        assert " ".join(step.reason.split()[:6]) in text
    assert "Assumed: a ≠ b" in text
    assert "⇐ it is enough to show" in text
    assert "erified" not in text
    assert text.rstrip().endswith("Other roads, by --road: ellipse, outline, calipers.")
    assert max(map(len, text.splitlines())) <= 80


def taken_for_verified(road):
    """As if each certificate of a road had been checked."""
    return {
        step.key: tuple(Checked("identity", f"of {step.key}") for _ in step.certificates)
        for step in road.steps
    }


@pytest.mark.parametrize("name", ROADS)
def test_a_road_verified(name, monkeypatch):
    """What was verified stands under each step, and the last line counts them.

    The classroom's road is verified here, the others where the roads are tested.
    """
    if name != "classroom":
        monkeypatch.setattr(Road, "verify", taken_for_verified)
    result = run("--road", name, "--verify")
    assert result.exit_code == 0
    lines = result.stdout.splitlines()
    steps = proof.road(name).steps
    assert lines[-1] == f"all {len(steps)} steps verified"
    assert sum("Verified:" in line for line in lines) == sum(len(s.certificates) for s in steps)
    told = [str(one) for each in proof.road(name).verify().values() for one in each]
    text = " ".join(result.stdout.split())
    assert all(f"Verified: {one}" in text for one in told)
    assert "Other roads" not in result.stdout


def test_what_cannot_be_verified_is_said(monkeypatch):
    """Exit code 1 and the sentence, if a step does not follow."""
    whole = proof.road("classroom")
    wrong = dataclasses.replace(whole.steps[4], statement=lambda s: s.gt(s.a**2, s.b))
    broken = dataclasses.replace(whole, steps=(*whole.steps[:4], wrong))
    monkeypatch.setattr(proof, "road", lambda name: broken)
    result = run("--verify")
    assert result.exit_code == 1
    assert result.stdout.startswith("Not verified. classroom-5: ")
    assert result.stdout.count("\n") == 1
    assert "steps verified" not in result.stdout


def test_a_line_from_another_road_is_named():
    assert "line 4 of the road ellipse" in run("--road", "calipers").stdout


def judged(*words):
    result = run(*words, "--json")
    verdict = json.loads(result.stdout)["verdict"]
    stands = verdict in ("equivalent", "weaker", "stronger")
    assert result.exit_code == (0 if stands else 2 if verdict == "unreadable" else 1)
    assert result.stderr == ""
    answer = json.loads(result.stdout)
    assert list(answer) == ["verdict", "why", "counterexample", "mensura_version", "inputs"]
    return answer


def test_a_line_judged_as_json():
    """A right step has no counterexample; a wrong one has numbers for which it fails."""
    right = judged("--after", "a^2 + b^2 > 2ab", "--line", "(a - b)^2 > 0")
    assert right["verdict"] == "equivalent"
    assert right["counterexample"] is None
    wrong = judged("--after", "a^2 + b^2 > 2ab", "--line", "a^2 + b^2 > 3ab")
    assert wrong["verdict"] == "false"
    a, b = wrong["counterexample"]["a"], wrong["counterexample"]["b"]
    assert not a * a + b * b > 3 * a * b
    assert judged("--after", "a > 0", "--line", "((a > 0")["verdict"] == "unreadable"


def test_what_is_assumed_counts():
    """a² > b² is false for some stems, and true once a is said to be the longer half-axis."""
    words = ("--after", "(a - b)^2 > 0", "--line", "a^2 > b^2")
    assert judged(*words)["verdict"] == "false"
    assert judged(*words, "--assume", "a>b")["verdict"] != "false"


@pytest.mark.parametrize(
    ("line", "verdict", "code"),
    [
        ("(a - b)^2 > 0", "equivalent", 0),
        ("a^2 + b^2 > ab", "weaker", 0),
        ("a^2 + b^2 - ab/2 > 3ab/2 + 0ab", "equivalent", 0),
        ("√((a^2 + b^2)/2) > (a + b)/2", "leap", 1),
        ("a + b > 0", "unrelated", 1),
        ("a^2 + b^2 > 3ab", "false", 1),
        ("a^2 + b^2 > 2ac", "unreadable", 2),
    ],
)
def test_the_exit_code_says_whether_the_line_stands(line, verdict, code):
    """0 for a step, 1 for none, 2 for what cannot be read; in words and as JSON."""
    words = ("--after", "a^2 + b^2 > 2ab", "--line", line)
    result = run(*words)
    assert result.stdout.startswith(f"{verdict}: ")
    assert result.exit_code == run(*words, "--json").exit_code == code
    assert run("--after", "a^2 + b^2 > ab", "--line", "a^2 + b^2 > 2ab").exit_code == 0
    assert run("--after", "(((", "--line", line).exit_code == 2


def test_a_line_judged_in_words():
    result = run("--after", "a^2 + b^2 > 2ab", "--line", "a^2 + b^2 > 3ab")
    assert result.exit_code == 1
    assert result.stdout.startswith("false: ")
    assert "Counterexample: a = " in result.stdout


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--road", "circle"), "--road is 'circle'; expected one of: classroom"),
        (("--road", "elipse"), "--road is 'elipse'; did you mean ellipse?"),
        (("a > b",), "did you mean --line 'a > b'?"),
        (("--road", ""), "--road is empty; expected one of"),
        (("--road",), "--road is alone"),
        (("--after", "a > b"), "--line is missing"),
        (("--line", "a > b"), "--after is missing"),
        (("--line", "a > b", "--after", "a > b", "--road", "ellipse"), "--road is of no use"),
        (("--line", "a > b", "--after", "a > b", "--verify"), "--verify is of no use"),
        (("--assume", "a > b"), "--assume needs a line"),
        (("--json",), "--json needs a line"),
        (("ellipse",), "'ellipse' was not understood; did you mean --road ellipse?"),
        (("--raod", "ellipse"), "there is no option '--raod' here; did you mean --road?"),
    ],
)
def test_bad_options(words, told):
    """One sentence that names the option, exit code 2."""
    assert told in refused(*words)


def test_any_text_is_answered():
    """Control signs and look-alikes come back as a verdict, not as a crash."""
    for line in ("", "\u202ea > b", "a\x00b", "__import__('os')", "9^9^9^9 > a", "а > b"):
        assert judged("--after", "a > 0", "--line", line)["verdict"] == "unreadable"
