"""`mensura problems`, `problem` and `answer`: what they print, their JSON and their exit codes."""

import json

import pytest
from click.testing import CliRunner

from mensura.cli import main

WHO = ["--student", "Q07", "--key", "alder"]


def run(*words):
    """(exit code, what was printed) of a command; refusals go out as they would."""
    result = CliRunner().invoke(main, list(words), prog_name="mensura")
    return result.exit_code, result.output


def test_the_list_of_families():
    """By topic in words; in JSON a list of family, topic and title."""
    code, text = run("problems")
    assert code == 0
    assert "girth-to-area" in text
    assert "plots:" in text
    code, text = run("problems", "--json")
    rows = json.loads(text)["families"]
    assert len(rows) >= 24
    assert all(set(row) == {"family", "topic", "title"} for row in rows)
    some = json.loads(run("problems", "--topic", "logs", "--json")[1])["families"]
    assert some == [row for row in rows if row["topic"] == "logs"]


def test_a_problem_in_words_and_as_json():
    """Numbers with their units; answer, slips and solution only if asked."""
    code, text = run("problem", "girth-to-area", *WHO)
    assert code == 0
    assert "counts" in text
    told = json.loads(run("problem", "girth-to-area", *WHO, "--json")[1])
    assert list(told) == [
        *("family", "topic", "text", "given", "unit", "tolerance_percent"),
        *("mensura_version", "inputs"),
    ]
    assert told["given"]["girth_cm"]["unit"] == "cm"
    assert told["text"] == text.strip()
    whole = json.loads(run("problem", "girth-to-area", *WHO, "--solution", "--json")[1])
    assert list(whole)[-5:-2] == ["answer", "slips", "solution"]
    assert whole["answer"]["unit"] == told["unit"] == "cm²"
    girth = told["given"]["girth_cm"]["value"]
    assert whole["answer"]["value"] == pytest.approx(girth**2 / (4 * 3.141592653589793))
    assert {"name", "value", "unit"} == set(whole["slips"][0])
    assert "Slips:" in run("problem", "girth-to-area", *WHO, "--solution")[1]


def test_other_tries_sets_keys_and_students_have_other_numbers():
    """Each of them changes the problem; the same again does not."""
    base = run("problem", "girth-to-area", *WHO)
    assert base == run("problem", "girth-to-area", *WHO)
    for change in (["--try", "2"], ["--set", "2"], ["--key", "elm"], ["--student", "Q08"]):
        assert run("problem", "girth-to-area", *WHO, *change)[1] != base[1], change


def test_answers_and_their_exit_codes():
    """0 right, 1 wrong, 2 unreadable; a slip by its name."""
    whole = json.loads(run("problem", "girth-to-area", *WHO, "--solution", "--json")[1])
    right = f"{whole['answer']['value']:.1f} cm²"
    code, text = run("answer", "girth-to-area", *WHO, right, "--json")
    assert (code, json.loads(text)["right"]) == (0, True)
    assert list(json.loads(text)) == ["right", "slip", "message", "mensura_version", "inputs"]
    slip = whole["slips"][0]
    code, text = run("answer", "girth-to-area", *WHO, f"{slip['value']:.3f} cm²", "--json")
    assert (code, json.loads(text)["slip"]) == (1, slip["name"])
    code, text = run("answer", "girth-to-area", *WHO, "-5 cm²", "--json")
    assert (code, json.loads(text)["slip"]) == (1, None)
    code, text = run("answer", "girth-to-area", *WHO, "__import__('os')")
    assert code == 2
    assert text.count("\n") == 1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["problem", "girth-to-aera", *WHO], "girth-to-area"),
        (["problem", "girth-to-area", "--key", "alder"], "--student is missing"),
        (["problem", "girth-to-area", "--student", "Q07"], "--key is missing"),
        (["problem", "girth-to-area", *WHO, "--try", "none"], "--try is 'none'"),
        (["problem", "girth-to-area", *WHO, "--try", "0"], "--try is 0"),
        (["problem", "girth-to-area", "--student", "a b", "--key", "k"], "--student is 'a b'"),
        (["problems", "--topic", "trees"], "--topic is 'trees'"),
    ],
)
def test_bad_words_are_refused_in_one_sentence(words, said):
    """Exit code 2, one sentence that names the option."""
    code, text = run(*words)
    assert code == 2
    assert said in text
    assert text.count("\n") == 1
