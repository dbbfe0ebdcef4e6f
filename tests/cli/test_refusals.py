"""Refusals: one sentence whatever click, the console or the system has to complain of."""

from __future__ import annotations

import io
import os
import subprocess
import sys

import click
import pytest

from mensura.cli import COMMANDS, compare, main
from mensura.cli.refusals import PLAIN


def test_ctrl_c_is_clean(run, monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(compare, "_check_finite", stop)
    result = run("compare", "--axes", "60x48")
    assert (result.exit_code, result.stdout, result.stderr.strip()) == (130, "", "stopped.")


def test_an_unexpected_system_error_is_one_sentence(
    refused, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise OSError(5, "Input/output error", "tape")

    monkeypatch.setattr(compare, "_check_finite", fail)
    assert refused("compare", "--axes", "60x48") == (
        "'tape' cannot be used: input/output error; expected one that can be read and written."
    )


def test_errors_pass_through_to_a_caller_who_asks_for_them() -> None:
    with pytest.raises(click.UsageError, match="neither given"):
        main.main(["compare"], standalone_mode=False)


def test_a_terminal_without_our_letters_gets_no_traceback() -> None:
    plain = {**os.environ, "PYTHONIOENCODING": "latin-1", "PYTHONUTF8": "0", "LC_ALL": "C"}
    done = subprocess.run(
        [sys.executable, "-m", "mensura", "compare", "--axes", "60x48"],
        capture_output=True,
        env=plain,
        timeout=60,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"would claim an error of +2.5000 %" in done.stdout


@pytest.fixture
def another_language(monkeypatch: pytest.MonkeyPatch) -> None:
    """click speaks something else than English."""
    for module in (click.core, click.exceptions, click.parser):
        for name, told in (("_", lambda text: "…"), ("ngettext", lambda one, more, count: "…")):
            if hasattr(module, name):
                monkeypatch.setattr(module, name, told)


@pytest.mark.usefixtures("another_language")
@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["compare", "more", "words"], "'more words' was not understood; expected options only"),
        (["compare", "--axes"], "--axes is alone; expected a value after it."),
        (["compare", "--json=3"], "--json takes no value; expected it alone."),
        (["compare", "--slack", "3"], "there is no option '--slack' here; did you"),
        (["problem"], "FAMILY, --student and --key are missing; expected them, as in"),
        (["weigh"], "there is no command 'weigh'; expected"),
        (["help"], "there is no command 'help'; did you mean --help?"),
        (["--port", "9"], "--port stands before its command; expected it after open or present."),
    ],
)
def test_the_language_of_click_does_not_matter(refused, words: list[str], sentence: str) -> None:
    """What it complains of is told by its kind and its parts, not by its words."""
    assert refused(*words).startswith(sentence)


@pytest.mark.parametrize("command", COMMANDS, ids=lambda one: one.name)
def test_every_command_refuses_in_our_words(refused, command: click.Command) -> None:
    """A word too many and an unknown option, in each of them."""
    one_word = ("cut-end", "field-sheet", "logs", "open", "plan", "practical", "present")
    words = ["x"] if command.name in (*one_word, "tape-card") else []
    one_word += ("tape-card",)
    words = ["x"] if command.name in one_word else []
    if command.name == "stand":
        words = ["x", "--plots", "y"]
    if command.name == "field-sheet":
        words += ["--stems", "6", "--instruments", "T1", "--key", "alder"]
    if command.name in ("problem", "answer"):  # the words may be a family's, or an answer
        words = ["girth-to-area", "--student", "Q07", "--key", "alder"]
    if command.name not in ("answer", "leaflet"):  # of as many words as one likes
        said = refused(command.name, *words, "too", "many")
        assert said.startswith("'too many' was not understood")
    assert refused(command.name, *words, "--quux").startswith("there is no option '--quux'")


@pytest.mark.parametrize("encoding", ["cp1252", "cp850", "latin-1"])
@pytest.mark.parametrize(
    "words",
    [
        ["compare", "--axes", "60x48", "--tilt-deg", "-3"],
        ["correct", "--reading-cm", "126", "--stretch-percent", "1"],
        ["proof"],
        ["proof", "--after", "a^2 > b^2", "--line", "a² ≥ √b"],
        ["problem", "girth-to-area", "--student", "Q07", "--key", "alder", "--solution"],
        ["compare", "--axes", "π−√x48"],
    ],
    ids=lambda words: " ".join(words[:1] + words[-1:]),
)
def test_a_console_of_few_letters(
    run, monkeypatch: pytest.MonkeyPatch, words: list[str], encoding: str
) -> None:
    """Our signs come out in plain letters, and nothing crashes."""
    out, err = (io.TextIOWrapper(io.BytesIO(), encoding=encoding) for _ in range(2))
    with monkeypatch.context() as patch:
        patch.setattr(sys, "stdout", out)
        patch.setattr(sys, "stderr", err)
        with pytest.raises(SystemExit) as left:
            main.main(words)
    having = run(*words)
    assert left.value.code == having.exit_code
    for lacking, whole in ((out, having.stdout), (err, having.stderr)):
        lacking.flush()
        told = "".join(one if one.encode(encoding, "ignore") else PLAIN[one] for one in whole)
        assert lacking.buffer.getvalue().decode(encoding) == told


def test_a_console_that_says_it_is_ascii() -> None:
    """There click writes UTF-8, since such a console has mostly been set up by nobody."""
    done = subprocess.run(
        [sys.executable, "-m", "mensura", "compare", "--axes", "60x48"],
        capture_output=True,
        env={**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0"},
        timeout=60,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert "2π√((a²+b²)/2) would claim" in done.stdout.decode("utf-8")
