"""`mensura problems`, `problem` and `answer`: what they print, their JSON and their exit codes."""

import json
from dataclasses import replace

import pytest
from click.testing import CliRunner

from mensura.cli import main
from mensura.disk.own_code import OWN_CODE_NAME, OwnCodeFile
from mensura.disk.progress_file import PROGRESS_NAME, ProgressFile
from mensura.teaching.problems.standing import Attempt

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
        *("family", "topic", "edition", "text", "given", "unit", "tolerance_percent"),
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


GIVEN_OUT = Attempt(
    "Q07", "alder", "1", "girth-to-area", 1, "9 cm2", False, None, 0, False, "then",
    numbers=(("girth_cm", 120.5),),
)  # fmt: skip


def test_what_the_folder_s_progress_holds_was_given_out(tmp_path, monkeypatch):
    """Problem and answer take the numbers that the log holds; an edition that is named, its own."""
    monkeypatch.chdir(tmp_path)
    drawn = run("problem", "girth-to-area", *WHO)
    assert list(tmp_path.iterdir()) == []
    ProgressFile(tmp_path).append(GIVEN_OUT)
    told = json.loads(run("problem", "girth-to-area", *WHO, "--solution", "--json")[1])
    assert told["given"]["girth_cm"]["value"] == 120.5
    right = f"{told['answer']['value']:.1f} cm²"
    assert run("answer", "girth-to-area", *WHO, right)[0] == 0
    assert run("answer", "girth-to-area", *WHO, right, "--edition", "1")[0] == 1
    assert run("problem", "girth-to-area", *WHO, "--edition", "1") == drawn
    assert run("problem", "girth-to-area", *WHO, "--try", "2")[0] == 0


def test_a_progress_that_cannot_be_read_is_told_and_passed_over(tmp_path, monkeypatch):
    """One sentence beside the problem, which is drawn."""
    drawn = run("problem", "girth-to-area", *WHO)
    monkeypatch.chdir(tmp_path)
    (tmp_path / PROGRESS_NAME).mkdir()
    result = CliRunner().invoke(main, ["problem", "girth-to-area", *WHO], prog_name="mensura")
    assert (result.exit_code, result.stdout) == drawn
    assert "no plain file" in result.stderr
    assert result.stderr.endswith("Numbers are drawn anew.\n")


def test_a_code_in_other_letters_is_asked_back(tmp_path, monkeypatch):
    """Where the folder's progress, or the bank, knows one that differs in nothing else."""
    monkeypatch.chdir(tmp_path)
    lower = ["--student", "q07", "--key", "alder"]
    assert run("problem", "girth-to-area", *lower)[0] == 0
    ProgressFile(tmp_path).append(GIVEN_OUT)
    for words, asked in (
        (["problem", "girth-to-area", *lower], "--student is 'q07'; did you mean Q07?"),
        (["answer", "girth-to-area", *lower, "9"], "--student is 'q07'; did you mean Q07?"),
        (
            ["problem", "girth-to-area", "--student", "Q07", "--key", "Alder"],
            "--key is 'Alder'; did you mean alder?",
        ),
        (["problem", "Girth-to-area", *WHO], "FAMILY is 'Girth-to-area'; did you mean"),
        (["problems", "--topic", "Logs"], "--topic is 'Logs'; did you mean logs?"),
    ):
        code, text = run(*words)
        assert code == 2
        assert asked in text
        assert text.count("\n") == 1
        assert not text.endswith("?.\n")


FAMILY_NAMES = (["girth_to_area"], ["girth to area"], ["girth", "to", "area"])


@pytest.mark.parametrize("name", FAMILY_NAMES, ids="_".join)
def test_a_family_as_people_type_it(name):
    """Underscores or blanks for its dashes, in quotation marks or without them."""
    assert run("problem", *name, *WHO) == run("problem", "girth-to-area", *WHO)
    assert run("answer", *name, "9 cm2", *WHO) == run("answer", "girth-to-area", *WHO, "9 cm2")


def test_an_answer_without_quotation_marks():
    """Its words are put together again, wherever the options stand; a minus is no option."""
    for words, whole in (
        (["0,194", "m2"], "0,194 m2"),
        (["31", "1/2", "sq", "in"], "31 1/2 sq in"),
        (["-5", "cm2"], "-5 cm2"),
        (["-5"], "-5"),
    ):
        told = run("answer", "girth-to-area", *WHO, *words, "--json")
        assert told == run("answer", "girth-to-area", *words, *WHO, "--json")
        assert json.loads(told[1])["inputs"]["text"] == whole
    assert run("answer", "girth-to-area", *WHO, "", "--json")[0] == 2


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ["problem", "girth-to-area"],
            "--student and --key are missing; expected them, as in --student Q07 --key alder.",
        ),
        (
            ["answer"],
            "FAMILY, TEXT, --student and --key are missing; expected them, as in "
            'girth-to-area "0,194 m2" --student Q07 --key alder.',
        ),
        (
            ["answer", "girth-to-area", *WHO],
            'TEXT is missing; expected it, as in "0,194 m2".',
        ),
        (
            ["problem", "girth-to-aera", "--student", "Q07"],
            "--key is missing; expected it, as in --key alder; "
            "and FAMILY is 'girth-to-aera'; did you mean girth-to-area?",
        ),
        (
            ["answer", "oak", *WHO],
            'TEXT is missing; expected it, as in "0,194 m2"; '
            "and FAMILY is 'oak'; expected a family that `mensura problems` lists.",
        ),
    ],
)
def test_all_that_is_missing_or_wrong_is_told_at_once(tmp_path, monkeypatch, words, said):
    """With how it may be typed."""
    monkeypatch.chdir(tmp_path)
    code, text = run(*words)
    assert (code, text) == (2, f"{said}\n")


def test_an_option_that_is_misspelt_is_no_answer():
    """Words with two dashes are options; those with one may be numbers."""
    for words in (["--studnet", "Q07"], ["--studnet=Q07"]):
        code, text = run("answer", "girth-to-area", *words, "--key", "alder", "9")
        assert (code, text) == (
            2,
            "there is no option '--studnet' here; did you mean --student?\n",
        )


def test_the_folder_s_own_code_is_taken_and_told(tmp_path, monkeypatch):
    """Where no student is named; what is printed is the same, and stderr says whose it is."""
    monkeypatch.chdir(tmp_path)
    named = run("problem", "girth-to-area", *WHO)
    OwnCodeFile().keep("Q07")
    words = ["problem", "girth-to-area", "--key", "alder"]
    result = CliRunner().invoke(main, words, prog_name="mensura")
    assert (result.exit_code, result.stdout) == named
    assert result.stderr == "Student Q07, as my-code.txt in this folder has it.\n"
    other = run("problem", "girth-to-area", "--student", "Q08", "--key", "alder")
    assert "Q07" not in other[1]
    (tmp_path / OWN_CODE_NAME).write_text("Q 0 7")
    code, text = run(*words)
    assert (code, text) == (2, "--student is missing; expected it, as in --student Q07.\n")


def test_where_nothing_is_known_capitals_are_told_to_count(tmp_path, monkeypatch):
    """A code in small letters and a key in large ones have numbers of their own: it is said."""
    monkeypatch.chdir(tmp_path)
    for words, told in (
        (["--student", "q07", "--key", "alder"], "Capital letters count: Q07 has other numbers.\n"),
        (
            ["--student", "Q07", "--key", "Alder"],
            "Capital letters count: the key alder has other numbers.\n",
        ),
        (WHO, ""),
    ):
        result = CliRunner().invoke(main, ["problem", "girth-to-area", *words])
        assert (result.exit_code, result.stderr) == (0, told)
    ProgressFile(tmp_path).append(replace(GIVEN_OUT, student="q07"))
    words = ["problem", "girth-to-area", "--student", "q07", "--key", "alder"]
    assert CliRunner().invoke(main, words).stderr == ""  # it has answered here: it is a code


def test_a_word_that_stands_alone_may_be_a_topic():
    assert run("problems", "log") == (
        2,
        "'log' was not understood; did you mean --topic logs?\n",
    )
    assert run("problems", "--topic", "log")[1] == "--topic is 'log'; did you mean logs?\n"
    code, text = run("problem", "girth-to-area", "again", *WHO)
    assert (code, text) == (2, "'again' was not understood; expected options only, like --json.\n")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["problem", "girth-to-aera", *WHO], "girth-to-area"),
        (["problem", "girth-to-area", "--key", "alder"], "--student is missing"),
        (["problem", "girth-to-area", "--student", "Q07"], "--key is missing"),
        (["problem", "girth-to-area", *WHO, "--try", "none"], "--try is 'none'"),
        (["problem", "girth-to-area", *WHO, "--try", "0"], "--try is 0"),
        (["problem", "girth-to-area", *WHO, "--edition", "2"], "--edition is 2"),
        (["problem", "girth-to-area", *WHO, "--edition", "new"], "--edition is 'new'"),
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
