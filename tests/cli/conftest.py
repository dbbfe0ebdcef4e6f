"""What the tests of all commands share: running one here, and what a refusal must look like."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from click.testing import CliRunner, Result

from mensura.cli import main

Run = Callable[..., Result]


@pytest.fixture
def run() -> Run:
    """Runs the command with these words, in this process."""
    return lambda *words: CliRunner().invoke(main, list(words), prog_name="mensura")


@pytest.fixture
def answered(run: Run) -> Callable[..., dict[str, Any]]:
    """What the command says to these words and --json, with nothing on stderr."""

    def ask(*words: str) -> dict[str, Any]:
        result = run(*words, "--json")
        assert result.exit_code == 0, result.stderr
        assert result.stderr == ""
        answer: dict[str, Any] = json.loads(result.stdout)
        return answer

    return ask


@pytest.fixture
def compared(answered: Callable[..., dict[str, Any]]) -> Callable[..., dict[str, Any]]:
    """What `mensura compare` says to these words."""
    return lambda *words: answered("compare", *words)


@pytest.fixture
def refused(run: Run) -> Callable[..., str]:
    """The one sentence with which the words are refused."""

    def refuse(*words: str) -> str:
        result = run(*words)
        assert result.exit_code == 2, result.output
        assert result.stdout == ""
        sentence: str = result.stderr
        assert sentence.count("\n") == 1
        assert sentence.endswith((".\n", "?\n"))
        assert "Traceback" not in sentence
        assert "Usage" not in sentence
        return sentence[:-1]

    return refuse
