"""A workbook as a leaflet: all that it says and shows, in its own order."""

from __future__ import annotations

from functools import partial

from mensura.teaching.lessons.chapters import CHAPTERS, Chapter, chapter
from mensura.teaching.problems.bank import families, problem
from mensura.teaching.problems.family import TOPICS
from mensura.views.leaflets.asked import asked_problem
from mensura.views.leaflets.page import Page
from mensura.views.leaflets.sections import Told, in_order, put_section

#: Whose numbers the bank's problems have on a leaflet: an invented trainee's, under a known key.
STUDENT, KEY = "Q01", "quillmere"


def workbook_leaflet(number: str, problems: bool = False, told: Told | None = None) -> Page:
    """A workbook's leaflet.

    number: of its chapter, as in "02"; problems: whether all problems of the bank that belong to it
    come along; told: of what takes time. Raises MeasureError for a chapter that there is not.
    """
    one = chapter(number)
    page = Page(one.heading, f"From mensura's workbook {one.heading}", f"{_stem(one)}-leaflet")
    open_name = ""
    for text, there in in_order(number):
        if text.name != open_name:
            open_name = text.name
            if text.level > 1:
                page.heading(text.title, text.level)
        if not isinstance(there, int):
            put_section(page, there, told=told)
        elif there >= 0:
            page.block(text.blocks[there], text.heading)
    if problems:
        put_problems(page, [one])
    return page


def put_problems(page: Page, chapters: list[Chapter]) -> None:
    """The bank's problems of some chapters, with an invented trainee's numbers.

    page: where; chapters: whose. What no chapter treats yet belongs to the chapter of problems.
    """
    treated = {topic for one in CHAPTERS for topic in one.topics}
    topics = [
        topic
        for one in chapters
        for topic in (one.topics or [left for left in TOPICS if left not in treated])
    ]
    for topic in dict.fromkeys(topics):
        page.heading(f"Problems of the bank: {TOPICS[topic]}")
        page.words(
            f"Numbers of {STUDENT} (invented), class key *{KEY}*, set 1; a computer with mensura "
            "gives every student others, and hints."
        )
        for count, family in enumerate(families(topic), 1):
            made = problem(family.key, STUDENT, KEY)
            heading = f"Problem {count}. {family.title}"
            page.ask(partial(asked_problem, made, heading, page.sheet))


def _stem(one: Chapter) -> str:
    return one.file.removesuffix(".ipynb")
