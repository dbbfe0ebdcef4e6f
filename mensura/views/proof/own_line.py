"""The student's own line: a proof that is written line by line, and answered line by line.

The theorem stands at the top and grows downwards by what is enough to show; what is given stands at
the bottom and grows upwards by what follows. Between them the gap is drawn, until both parts meet.
A line that is refused stays in its box, with the reason beside it.
"""

from __future__ import annotations

import html
from collections.abc import Mapping
from typing import Any

from mensura.checks import MeasureError
from mensura.disk.pages import Folder, save_page
from mensura.teaching.proof.chain import AcceptedLine, Chain
from mensura.teaching.proof.steps import ENOUGH, SIGNS, THEREFORE
from mensura.teaching.proof.verdict import (
    EQUIVALENT,
    FALSE,
    LEAP,
    MARKS,
    STRONGER,
    UNREADABLE,
    UNRELATED,
    VERDICTS,
    WEAKER,
)
from mensura.views.kit.frame import framed
from mensura.views.kit.heard import on_enter, soon
from mensura.views.proof.page import PAGE_NAME, lines_html, proof_page
from mensura.views.proof.words import markup

TITLE = "Your own proof"

TASK = (
    "The tape takes an oval stem with the half-axes a and b for A_tape = π(a² + b²)/2; calipers on "
    "its axes give A_cal = πab. Show that the tape's area is larger wherever a ≠ b."
)

#: A proof of more lines was never written.
MOST_LINES = 100

#: How a line may be written, and what it is read as.
NOTATION = (
    ("a^2 + b^2 >= 2ab", "a² + b² ≥ 2ab: powers by ^ or ², no × needed"),
    ("(a-b)^2 > 0", "(a − b)² > 0"),
    ("√(ab) < (a+b)/2", "or sqrt(ab): roots"),
    ("|a-b| > 0", "the distance of a and b"),
    ("pi(a^2+b^2)/2 > πab", "pi or π"),
    ("A_tape > A_cal", "the two areas by their names"),
)


#: What each verdict means, in a few words.
MEANINGS = {
    EQUIVALENT: "one move that can be undone; either way",
    WEAKER: "follows, says less",
    STRONGER: "is enough, says more",
    LEAP: "true, and it follows, but write the steps between",
    UNRELATED: "true, but no step from that line",
    FALSE: "fails with the numbers given",
    UNREADABLE: "not read, or too involved",
}
_VERDICTS_TOLD = "; ".join(f"{MARKS[one]} {one}: {MEANINGS[one]}" for one in VERDICTS)


class StudentLine:
    """A proof to be written in a workbook; without a kernel it shows what is to be proved.

    chain: the proof; folder: where its page is saved.
    """

    def __init__(self, chain: Chain | None = None, folder: Folder = ".") -> None:
        self.chain = chain or Chain()
        self.folder = folder
        self._widget: Any = None

    def __repr__(self) -> str:
        return (
            f"{TITLE}: {self.chain.theorem}\n{TASK}\n"
            f"Given: {self.chain.given}. Write what follows (⇒), or what is enough to show (⇐)."
        )

    def _repr_mimebundle_(self, include: Any = None, exclude: Any = None) -> dict[str, Any]:
        data = dict(self.build()._repr_mimebundle_())
        return data | {"text/plain": repr(self)}

    # ---- what is done ------------------------------------------------------------------------

    def write(self) -> None:
        """Put the line in the box to the proof; only a line that is accepted leaves the box."""
        text, direction = self.box.value, self.way.value
        if self.chain.proved:
            self._say("The proof is done; there is nothing left to write.")
            return
        if not text.strip():
            self._say("Type a line first.")
            return
        reply = self.chain.write(text, direction, self.cites.value)
        pointed = None if reply.accepted else (text, reply.verdict.place)
        self._say(reply.sentence, pointed, reply.verdict.verdict)
        if reply.accepted:
            self.box.value, self.cites.value = "", False
            self.show()

    def undo(self) -> None:
        """Take the last line back; it returns to the box if the box is empty."""
        line = self.chain.undo()
        if line is None:
            self._say("There is no line to take back.")
            return
        if not self.box.value.strip():
            self.box.value, self.way.value = line.text, line.direction
        self._say(f"Taken back: {line.read_as}")
        self.show()

    def hint(self) -> None:
        """A hint; asked again, a stronger one."""
        self._say(self.chain.hint())

    def show_a_line(self) -> None:
        """A line that would do, for the direction that is chosen."""
        if self.chain.proved:
            self._say("The proof is done; there is nothing left to write.")
            return
        line = self.chain.expected(self.way.value)
        self._say(f"{SIGNS[self.way.value]} A line that would do: {line}")

    def save(self) -> None:
        """Save the proof, finished or not, as a page."""
        try:
            path = save_page(PAGE_NAME, proof_page(self.chain).encode("utf-8"), self.folder)
        except MeasureError as error:
            self._say(str(error))
            return
        self._say(f"Saved as {path.name}, in the folder of this notebook.")

    def _let_longer(self, said: bool) -> None:
        if said == self.chain.longer_axis:
            return
        try:
            self.chain.longer_axis = said
        except MeasureError as error:
            self.longer.value = self.chain.longer_axis
            self._say(str(error))
            return
        self._say("Said: let a be the longer half-axis, a > b." if said else "No longer said.")
        self.show()

    # ---- what is seen ------------------------------------------------------------------------

    def show(self) -> None:
        """Draw both parts and the gap, and say in the choice what a line would be joined to."""
        below, above = self.chain.gap
        chosen = self.way.value
        options = (
            (f"⇒ it follows from {below}", THEREFORE),
            (f"⇐ it is enough to show {above}", ENOUGH),
        )
        if tuple(self.way.options) != options:
            self.way.options = options
            self.way.value = chosen or THEREFORE
        self.proof.value = proof_html(self.chain)

    def _say(
        self, sentence: str, pointed: tuple[str, int | None] | None = None, verdict: str = ""
    ) -> None:
        mark = ""
        if pointed and pointed[1]:
            text, place = pointed[0], pointed[1]
            mark = f"<pre aria-hidden='true'>{html.escape(text)}\n{' ' * (place - 1)}▲</pre>"
        # the sign of the verdict is drawn by the style, beside the word that says it
        for one in VERDICTS:
            self.said.remove_class(f"mensura-{one}")
        if verdict:
            self.said.add_class(f"mensura-{verdict}")
        self.said.value = f'<p role="status" aria-live="polite">{html.escape(sentence)}</p>{mark}'

    def build(self) -> Any:
        """The widgets; made at the first call, the same ones ever after."""
        if self._widget is not None:
            return self._widget
        import ipywidgets as w

        self.proof, self.said = w.HTML(), w.HTML()
        self.box = w.Text(
            description="Your line",
            # whole lines only: letters sent one by one may be overtaken by the Enter key
            continuous_update=False,
            placeholder="for example  a^2 + b^2 > 2ab",
        )
        on_enter(self.box, self.write)
        self.way = w.RadioButtons(options=[("", THEREFORE)])
        self.way.options = ()
        self.longer = w.Checkbox(
            value=self.chain.longer_axis,
            description="Let a be the longer half-axis (a > b)",
            indent=False,
        )
        self.longer.observe(lambda change: self._let_longer(change["new"]), "value")
        self.cites = w.Checkbox(value=False, description="I use a ≠ b here", indent=False)
        self.buttons = {
            name: w.Button(description=name)
            for name in ("Write", "Undo", "Hint", "Show a line", "Save as a page")
        }
        write = self.buttons["Write"]
        deeds = (lambda: soon(self.write, write), self.undo, self.hint, self.show_a_line, self.save)
        for button, deed in zip(self.buttons.values(), deeds, strict=True):
            button.on_click(lambda _, do=deed: do())
        row = w.HBox(list(self.buttons.values()))
        row.add_class("mensura-buttons")
        ticks = w.HBox([self.cites, self.longer])
        ticks.add_class("mensura-ticks")
        head = w.HTML(f"<p><b>{markup(TITLE)}.</b> {markup(TASK)}</p>")
        parts = [head, self.proof, self.way, self.box, ticks, row, self.said]
        box = w.VBox([*parts, w.HTML(_help())])
        self.show()
        self._say("")
        self._widget = framed(
            box, "mensura-own", letters_to_box=True, name="own proof", keeper=self
        )
        return self._widget

    # ---- what is kept ------------------------------------------------------------------------

    def kept(self) -> dict[str, Any]:
        """The lines in the order in which they were written, and what is being written."""
        lines = [[one.text, one.direction, one.cites_unequal] for one in self.chain.written]
        told = {"longer_axis": self.chain.longer_axis, "lines": lines, "box": self.box.value}
        return told | {"way": self.way.value, "cites": self.cites.value}

    def restore(self, kept: Mapping[str, Any]) -> None:
        """Write the lines again; each is judged again, and what does not stand is left out.

        kept: as :meth:`kept` gives it.
        """
        chain = Chain(self.chain.theorem, self.chain.given, kept["longer_axis"] is True)
        for text, direction, cites in kept["lines"][:MOST_LINES]:
            chain.write(text, direction, cites is True)
        self.chain = chain
        self.longer.value = chain.longer_axis
        self._say("")
        self.show()
        self.box.value, self.cites.value = kept["box"], kept["cites"] is True
        if kept["way"] in SIGNS:
            self.way.value = kept["way"]


def proof_html(chain: Chain) -> str:
    """Both parts of a proof with the gap between them; once it is done, the proof in order.

    chain: the student's proof.
    """
    if chain.proved:
        return (
            "<p class='mensura-proved'><b>Proved.</b> Read from what is given:</p>"
            f"{lines_html(chain)}"
        )
    items = [
        _item("", chain.theorem, "the theorem, to be shown: below it stands what is enough (⇐)")
    ]
    items += [_written(line) for line in chain.backwards]
    below, above = chain.gap
    items.append(
        "<li class='mensura-gap'><b>gap</b> still to be shown: that "
        f"<b>{markup(above)}</b> follows from <b>{markup(below)}</b></li>"
    )
    items += [_written(line) for line in reversed(chain.forwards)]
    if chain.longer_axis:
        items.append(_item("", "a > b", "said: let a be the longer half-axis"))
    items.append(_item("", chain.given, "given: above it stands what follows (⇒)"))
    return f"<ol class='mensura-chain'>{''.join(items)}</ol>"


def _written(line: AcceptedLine) -> str:
    cited = "; a ≠ b is cited" if line.cites_unequal else ""
    return _item(
        SIGNS[line.direction], line.read_as, line.verdict.why + cited, line.verdict.verdict
    )


def _item(sign: str, line: str, why: str, verdict: str = "") -> str:
    kind = f"mensura-verdict mensura-{html.escape(verdict)}"
    word = f"<b class='{kind}'>{html.escape(verdict)}.</b> " if verdict else ""
    return (
        f"<li><span class='mensura-sign'>{html.escape(sign)}</span>"
        f"<span class='mensura-line'>{markup(line)}</span>"
        f"<span class='mensura-why'>{word}{markup(why)}</span></li>"
    )


def _help() -> str:
    rows = "".join(
        f"<tr><td><code>{html.escape(typed)}</code></td><td>{markup(read)}</td></tr>"
        for typed, read in NOTATION
    )
    return (
        "<details><summary>How a line may be written</summary>"
        f"<table><thead><tr><th scope='col'>typed</th><th scope='col'>read</th></tr></thead>"
        f"<tbody>{rows}</tbody></table>"
        "<p>One of &lt; &gt; ≤ ≥ ≠ stands between two sides; &lt;=, &gt;= and != will do. The side "
        "that is written first does not matter. A ⇒ or ∴ before the line and a full stop behind it "
        "are passed over; since a ≠ b may be added. LaTeX's \\frac{}{}, \\sqrt{} and ^{} are read. "
        "The Enter key writes the line.</p>"
        f"<p>What is said to a line: {_VERDICTS_TOLD}.</p></details>"
    )


def own_line(folder: Folder = ".") -> StudentLine:
    """A proof of the theorem for a student to write, line by line.

    folder: where the finished page is saved.

    >>> print(own_line())
    Your own proof: A_tape > A_cal
    The tape takes an oval stem with the half-axes a and b for A_tape = π(a² + b²)/2; calipers on
    its axes give A_cal = πab. Show that the tape's area is larger wherever a ≠ b.
    Given: a ≠ b. Write what follows (⇒), or what is enough to show (⇐).
    """
    return StudentLine(folder=folder)
