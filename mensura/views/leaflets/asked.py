"""What a leaflet asks, and what it answers on its last page: questions, problems, rounds of a game.

All of it is the workbooks' own; here it only gets a number, letters for its choices, and a line to
write on. A number joins a question to its answer.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from string import ascii_lowercase

from markupsafe import Markup

from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Prediction
from mensura.teaching.lessons.questions import question
from mensura.teaching.problems.draw import Problem
from mensura.views.chapters.asking import Ask
from mensura.views.kit.game import Game
from mensura.views.kit.live import draw_view
from mensura.views.leaflets.pictures import Sheet
from mensura.views.problems.pictures import problem_view
from mensura.views.proof.words import markup


@dataclass(frozen=True)
class Asked:
    """A question as it stands on the page, and its answer.

    html: the question; answer: what stands on the last page; wide: whether it needs the whole page.
    """

    html: Markup
    answer: Markup
    wide: bool = False


def asked_question(key: str, number: int) -> Asked:
    """A workbook's prediction or exercise.

    key: as in "02-predict"; number: by which the leaflet counts it.

    >>> asked_question("02-1", 3).answer
    Markup('<li value="3">G²/4π = 151.1²/12.566 = 1817 cm².</li>')
    """
    tail = key.rpartition("-")[2]
    one = Ask(question(key), int(tail) if tail.isdigit() else 0)
    return (
        _exercise(one, number) if isinstance(one.question, Exercise) else _prediction(one, number)
    )


def _prediction(one: Ask, number: int) -> Asked:
    told = one.question
    assert isinstance(told, Prediction)
    head = _head(number, one.heading, told.question)
    replies = [
        (choice.right, Markup("<b>{}.</b> {}").format(_letter(k), choice.reply))
        for k, choice in enumerate(told.choices)
    ]
    right = Markup(" ").join(text for holds, text in replies if holds)
    others = Markup(" ").join(text for holds, text in replies if not holds)
    answer = Markup('<li value="{}">{} <span class="others">Not so: {}</span></li>').format(
        number, right, others
    )
    choices = _choices([choice.text for choice in told.choices])
    return Asked(_boxed(head + choices), answer)


def _exercise(one: Ask, number: int) -> Asked:
    told = one.question
    assert isinstance(told, Exercise)
    html = _head(number, one.heading, told.text) + _line(told.unit)
    return Asked(_boxed(html), _answered(number, told.because))


def asked_problem(
    problem: Problem, heading: str, sheet: Sheet, number: int, picture: bool = True
) -> Asked:
    """A problem of the bank with its numbers, its worked solution for the last page.

    problem: with its numbers; heading: what stands before it; sheet: of the page; number: by which
    the leaflet counts it; picture: whether it is drawn.
    """
    drawn = sheet.still(problem_view(problem)) if picture else Markup()
    html = _head(number, heading, problem.text) + drawn + _line(problem.family.unit)
    return Asked(_boxed(html), _answered(number, problem.solution))


def asked_game(game: Game, number: int, sheet: Sheet) -> Asked:
    """The first round of a game.

    game: with the seed of that round; number: by which the leaflet counts it; sheet: of the page.
    """
    picture, choices = game.picture(game.seed), game.choices(game.seed)
    drawn = sheet.still(draw_view(picture, None)) if picture else Markup()
    facts = Markup().join(Markup("<p>{}</p>").format(one) for one in game.facts(game.seed))
    head = _head(number, game.title, game.question(game.seed))
    html = head + drawn + facts + _choices([words for words, _ in choices])
    told = [
        f"{_letter(k)}. {game.reply(game.seed, key).message}"
        for k, (_, key) in enumerate(choices)
        if game.reply(game.seed, key).right
    ]
    broad = picture is not None and picture.width_px > NARROW_PX
    return Asked(_boxed(html, broad), _answered(number, " ".join(told)), broad)


def asked_proof(task: str, number: int) -> Asked:
    """A proof to be written by hand.

    task: in lines; number: by which the leaflet counts it.
    """
    first, *rest = task.splitlines()
    html = Markup('<p><span class="number">{}</span> <b>{}</b> {}</p>').format(
        number, Markup(markup(first)), Markup(markup(" ".join(rest)))
    )
    lines = Markup('<div class="ruled" role="presentation">{}</div>').format(
        Markup("<div></div>") * RULED
    )
    return Asked(_boxed(html + lines), Markup())


#: A picture that is wider, in shown pixels, does not stand in a column.
NARROW_PX = 600

#: Lines to write a proof on.
RULED = 6


# ---- pieces --------------------------------------------------------------------------------------


_COUNTED = re.compile(r"^(Check yourself|Problem) \d+")


def _head(number: int, heading: str, text: str) -> Markup:
    # the leaflet counts all that it asks: no second number
    heading = _COUNTED.sub(r"\1", heading)
    stop = "" if heading.endswith((".", "?", "!")) else "."
    return Markup('<p><span class="number">{}</span> <b>{}{}</b> {}</p>').format(
        number, heading, stop, text
    )


def _choices(texts: Sequence[str]) -> Markup:
    items = Markup().join(Markup("<li>{}</li>").format(one) for one in texts)
    return Markup('<ol class="choices" type="a">{}</ol>').format(items)


def _line(unit: str) -> Markup:
    return Markup('<p class="answer-line">Answer: <span class="blank"></span> {}</p>').format(unit)


def _boxed(html: Markup, broad: bool = False) -> Markup:
    return Markup('<div class="asked{}">{}</div>').format(" broad" if broad else "", html)


def _answered(number: int, text: str) -> Markup:
    return Markup('<li value="{}">{}</li>').format(number, Markup(markup(text)))


def _letter(place: int) -> str:
    return ascii_lowercase[place]
