"""A chapter is declared once, here; whoever needs to know which there are asks this list.

From it follow where a question is looked up, which pages the tests walk and the browser opens, the
links from chapter to chapter, and the table of chapters on the front page.
"""

from __future__ import annotations

from dataclasses import dataclass

from mensura.checks import MeasureError


@dataclass(frozen=True)
class Chapter:
    """One chapter: a notebook, its questions, and what is set and shown in it.

    number: two digits, as in "05"; name: the file's name behind the number, in small letters with
    hyphens; title: as the page's heading and the front page say it; questions: the module of
    mensura.teaching.lessons.questions that asks them; topics: of the problem bank that belong to
    this chapter; panels: the modules of the views' chapters whose panels it shows, in their order;
    roads: of the proof, if it shows any.
    Raises MeasureError for a number or a name that could be no file's.

    >>> Chapter("05", "bark", "Bark", "bark").file
    '05-bark.ipynb'
    """

    number: str
    name: str
    title: str
    questions: str
    topics: tuple[str, ...] = ()
    panels: tuple[str, ...] = ()
    roads: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not (len(self.number) == 2 and self.number.isdecimal() and self.number.isascii()):
            raise MeasureError("number", self.number, "", "two digits, as in 05")
        words = self.name.split("-")
        if not all(word.isascii() and word.isalnum() and word.islower() for word in words):
            raise MeasureError(
                "name", self.name, "", "small letters and hyphens, as in out-of-round"
            )

    @property
    def file(self) -> str:
        """The notebook's name."""
        return f"{self.number}-{self.name}.ipynb"

    @property
    def questions_home(self) -> str:
        """The whole name of the module that asks this chapter's questions."""
        return f"mensura.teaching.lessons.questions.{self.questions}"

    @property
    def heading(self) -> str:
        """Number and title, as the page begins and a link to it reads.

        >>> CHAPTERS[0].heading
        '01 Girth, diameter, area'
        """
        return f"{self.number} {self.title}"


#: Every chapter, in the order in which they are read.
CHAPTERS: tuple[Chapter, ...] = (
    Chapter(
        "01",
        "girth-diameter-area",
        "Girth, diameter, area",
        questions="girth",
        topics=("girth",),
        panels=("girth",),
    ),
    Chapter(
        "02",
        "out-of-round",
        "Out of round",
        questions="out_of_round",
        topics=("out-of-round",),
        panels=("out_of_round",),
    ),
    Chapter(
        "03",
        "the-proof",
        "The proof, line by line",
        questions="proof",
        topics=("proof",),
        roads=("classroom", "ellipse", "outline", "calipers"),
    ),
    Chapter(
        "04",
        "laying-the-tape",
        "Laying the tape",
        questions="laying",
        topics=("laying",),
        panels=("laying",),
    ),
    Chapter(
        "05",
        "bark",
        "Bark",
        questions="bark",
        topics=("bark",),
        panels=("bark",),
    ),
    Chapter(
        "06",
        "condition-of-the-tape",
        "The condition of a tape",
        questions="condition",
        topics=("condition",),
        panels=("condition",),
    ),
    Chapter(
        "07",
        "calipers",
        "Calipers",
        questions="calipers",
        topics=("calipers",),
        panels=("calipers", "all_faults"),
    ),
    Chapter("08", "problems", "Problems", questions="problems"),
    Chapter(
        "09",
        "where-to-measure",
        "Where to measure",
        questions="where",
        topics=("place", "growth"),
        panels=("place",),
    ),
    Chapter(
        "10",
        "how-sure",
        "How sure",
        questions="how_sure",
        topics=("how-sure",),
        panels=("tape_card", "budget", "which_instrument"),
    ),
    Chapter(
        "11",
        "field-practical",
        "The field practical",
        questions="field_practical",
        topics=("field-practical",),
        panels=("hands_and_instruments", "differences", "detectable"),
    ),
    Chapter(
        "12",
        "readings-to-timber",
        "From readings to timber",
        questions="timber",
        topics=("timber", "logs", "plots"),
        panels=("log", "plots", "timber_budget"),
    ),
    Chapter(
        "13",
        "a-cut-end",
        "A cut end",
        questions="cut_end",
        topics=("cut-end",),
        panels=("cut_end",),
    ),
)


def chapter(number: str) -> Chapter:
    """The chapter with a number.

    number: two digits, as in "05". Raises MeasureError for one that there is not, naming those
    there are.

    >>> chapter("02").title
    'Out of round'
    """
    for one in CHAPTERS:
        if one.number == number:
            return one
    raise MeasureError("number", number, "", "one of: " + ", ".join(one.number for one in CHAPTERS))


def numbers_there_are() -> str:
    """The chapters' numbers in words: the first and last of each row without a gap.

    >>> numbers_there_are()
    '01 to 13'
    """
    rows: list[list[str]] = []
    for one in CHAPTERS:
        if rows and int(rows[-1][-1]) + 1 == int(one.number):
            rows[-1].append(one.number)
        else:
            rows.append([one.number])
    return " or ".join(f"{row[0]} to {row[-1]}" if len(row) > 1 else row[0] for row in rows)


def chapter_of_topic(topic: str) -> Chapter | None:
    """The chapter that a topic of the problem bank belongs to, or None if none treats it yet.

    topic: as the bank lists it.

    >>> chapter_of_topic("bark").file
    '05-bark.ipynb'
    >>> chapter_of_topic("choosing") is None
    True
    """
    return next((one for one in CHAPTERS if topic in one.topics), None)


def neighbours(number: str) -> tuple[Chapter | None, Chapter | None]:
    """The chapters before and after one; None where there is none.

    number: of a chapter, as in "05". Raises MeasureError for one that there is not.

    >>> [one and one.number for one in neighbours("01")]
    [None, '02']
    """
    place = CHAPTERS.index(chapter(number))
    before = CHAPTERS[place - 1] if place else None
    return before, next(iter(CHAPTERS[place + 1 :]), None)
