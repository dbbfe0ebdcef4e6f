"""The student's own line: two growing parts and a gap, a reply to each line, nothing typed lost."""

from __future__ import annotations

import asyncio
import html
import re
import threading
from pathlib import Path

import ipywidgets as w
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mensura.teaching.proof import ENOUGH, THEREFORE
from mensura.teaching.proof.chain import Chain
from mensura.teaching.proof.verdict import MARKS, VERDICTS
from mensura.views.kit.style import SHEET
from mensura.views.proof.own_line import NOTATION, StudentLine, own_line, proof_html
from mensura.views.proof.words import markup

ROUTE = ("(a-b)^2 > 0", "a^2 - 2ab + b^2 > 0", "a^2 + b^2 > 2ab", "pi(a^2+b^2)/2 > pi a b")


@pytest.fixture(autouse=True)
def no_loop(monkeypatch: pytest.MonkeyPatch) -> None:
    """A browser test before this one may have left its event loop running in this thread."""
    monkeypatch.setattr(asyncio, "get_running_loop", _none_runs)


def _none_runs() -> None:
    raise RuntimeError("no loop runs")


@pytest.fixture
def mine(tmp_path: Path) -> StudentLine:
    """A fresh proof with its widgets."""
    line = own_line(tmp_path)
    line.build()
    return line


def put(mine: StudentLine, text: str, direction: str = THEREFORE) -> str:
    """Write a line as a student does; returns what is said."""
    mine.way.value = direction
    mine.box.value = text
    mine.buttons["Write"].click()
    return said(mine)


def said(mine: StudentLine) -> str:
    """The reply, as it is read out."""
    match = re.search(r'<p role="status" aria-live="polite">(.*?)</p>', mine.said.value)
    assert match
    return html.unescape(match[1])


def rows(mine: StudentLine) -> list[str]:
    """The lines as they stand on the page, from the top; the gap is one of them."""
    found = re.findall(r"<li[^>]*>(.*?)</li>", mine.proof.value)
    plain = [re.sub(r"</?su[bp]>|</?small[^>]*>", "", one) for one in found]  # a name is one word
    return [html.unescape(re.sub(r"<[^>]+>", " ", one)).strip() for one in plain]


# ---- writing -------------------------------------------------------------------------------------


def test_it_opens_with_a_gap(mine: StudentLine) -> None:
    """The theorem on top, what is given at the bottom, nothing but a gap between."""
    top, gap, bottom = rows(mine)
    assert top.startswith("A_tape > A_cal")
    assert "to be shown" in top
    assert gap.startswith("gap")
    assert bottom.startswith("a ≠ b")
    assert "given" in bottom
    assert said(mine) == ""


def test_two_parts_grow_towards_each_other(mine: StudentLine) -> None:
    """Lines with ⇐ come under the theorem, lines with ⇒ over what is given; the gap is between."""
    put(mine, ROUTE[0])
    put(mine, ROUTE[3], ENOUGH)
    put(mine, ROUTE[2], ENOUGH)
    lines = [" ".join(row.split()) for row in rows(mine)]
    assert [row.split(" equivalent")[0].split(" the theorem")[0] for row in lines[:3]] == [
        "A_tape > A_cal",
        "⇐ π(a² + b²)/2 > πab",
        "⇐ a² + b² > 2ab",
    ]
    assert lines[3] == "gap still to be shown: that a² + b² > 2ab follows from (a − b)² > 0"
    assert lines[4].startswith("⇒ (a − b)² > 0 equivalent.")
    # what a next line would be joined to stands in the choice itself
    assert [name for name, _ in mine.way.options] == [
        "⇒ it follows from (a − b)² > 0",
        "⇐ it is enough to show a² + b² > 2ab",
    ]
    assert "Proved" in put(mine, "a^2 + b^2 > 2ab")
    assert "Proved." in mine.proof.value
    assert mine.chain.proved


@pytest.mark.parametrize("direction", [THEREFORE, ENOUGH])
def test_a_proof_in_one_direction(mine: StudentLine, direction: str) -> None:
    """The same lines prove it from below and, in the other order, from above."""
    route = ROUTE if direction == THEREFORE else ROUTE[::-1]
    for text in route:
        assert said(mine) == "" or "Proved" not in said(mine)
        reply = put(mine, text, direction)
        assert mine.box.value == ""
    assert reply.endswith("Proved: the lines run from what is given to the theorem without a gap.")
    for _, line, why in mine.chain.lines():
        assert markup(line) in mine.proof.value
        assert markup(why) in mine.proof.value
    # a proof that is done takes no more lines, and what was typed stays
    count = len(mine.chain.lines())
    assert put(mine, "a > 0") == "The proof is done; there is nothing left to write."
    assert mine.box.value == "a > 0"
    assert len(mine.chain.lines()) == count


def test_a_false_line_stays_in_its_box(mine: StudentLine) -> None:
    """It is answered with numbers, and neither the box nor the proof changes."""
    before = mine.proof.value
    reply = put(mine, "a^2 + b^2 > 3ab")
    assert reply.startswith("False. With a = ")
    assert mine.box.value == "a^2 + b^2 > 3ab"
    assert mine.proof.value == before


def test_an_unreadable_line_is_pointed_at(mine: StudentLine) -> None:
    """A mark stands under the character that the reader stumbled at."""
    assert put(mine, "a^2 + $ > 2ab").startswith("Not read. Place 7:")
    drawn = re.search(r"<pre aria-hidden='true'>(.*?)\n( *)▲</pre>", mine.said.value, re.S)
    assert drawn
    line = html.unescape(drawn[1])
    assert line[len(drawn[2])] == "$"
    assert mine.box.value == "a^2 + $ > 2ab"


def test_an_empty_box(mine: StudentLine) -> None:
    """Nothing typed is nothing judged."""
    assert put(mine, "   ") == "Type a line first."
    assert mine.chain.forwards == []


def test_the_enter_key_writes(mine: StudentLine) -> None:
    """The box's own message for the Enter key puts the line to the proof; no other message does."""
    mine.box.value = ROUTE[0]
    mine.box._handle_custom_msg({"event": "other"}, [])
    assert mine.chain.forwards == []
    mine.box._handle_custom_msg({"event": "submit"}, [])
    assert [line.text for line in mine.chain.forwards] == [ROUTE[0]]


def test_the_enter_key_waits_for_the_last_letters(
    mine: StudentLine, monkeypatch: pytest.MonkeyPatch
) -> None:
    """In a running kernel a key that overtakes the last letters still writes the whole line."""
    monkeypatch.undo()  # here a loop does run, in a thread of its own
    frame, asked = mine.build().children[0], []
    frame.send = lambda content, buffers=None: asked.append(content)

    async def typed() -> None:
        mine.box.value = "(a-b)^2 >"
        mine.box._handle_custom_msg({"event": "submit"}, [])
        assert mine.chain.forwards == []
        mine.box.value = "(a-b)^2 > 0"
        # the page's answer comes behind the letters
        frame._handle_custom_msg({"kind": "settled", "turn": asked[0]["turn"]}, [])

    alone = threading.Thread(target=lambda: asyncio.run(typed()))
    alone.start()
    alone.join()
    assert [line.text for line in mine.chain.forwards] == ["(a-b)^2 > 0"]


def test_what_is_typed_is_never_markup(mine: StudentLine) -> None:
    """Neither in a reply nor under it."""
    put(mine, "<img src=x onerror=alert(1)> $")
    assert "<img" not in mine.said.value
    put(mine, "<b>a</b> > $")
    assert "<b>" not in mine.said.value


@given(st.text(max_size=60))
def test_whatever_is_typed_is_answered(text: str) -> None:
    """Any text gets a sentence; refused text stays, and no tag of the student's gets through."""
    mine = StudentLine(Chain())
    mine.build()
    reply = put(mine, text)
    assert reply
    assert mine.box.value in ("", text)
    assert (mine.box.value == "") == (bool(mine.chain.forwards) or text == "")
    tags = set(re.findall(r"<(/?[a-zA-Z]\w*)", mine.said.value))
    assert tags <= {"p", "/p", "pre", "/pre"}


# ---- undo, hint, a line, conditions --------------------------------------------------------------


def test_undo_gives_the_line_back(mine: StudentLine) -> None:
    """The last line returns to an empty box; one that is being typed is left alone."""
    mine.buttons["Undo"].click()
    assert said(mine) == "There is no line to take back."
    put(mine, ROUTE[0])
    put(mine, ROUTE[3], ENOUGH)
    mine.way.value = THEREFORE
    mine.buttons["Undo"].click()
    assert said(mine).startswith("Taken back:")
    assert mine.box.value == ROUTE[3]
    assert mine.way.value == ENOUGH
    assert mine.chain.backwards == []
    mine.box.value = "half a li"
    mine.buttons["Undo"].click()
    assert mine.box.value == "half a li"
    assert mine.chain.forwards == []


def test_hints_grow_stronger(mine: StudentLine) -> None:
    """Three askings, three sentences; nothing is written by them."""
    hints = []
    for _ in range(3):
        mine.buttons["Hint"].click()
        hints.append(said(mine))
    assert len(set(hints)) == 3
    assert mine.chain.forwards == []


@pytest.mark.parametrize("direction", [THEREFORE, ENOUGH])
def test_a_shown_line_would_do(mine: StudentLine, direction: str) -> None:
    """The line that is shown is accepted as it stands, all the way to the end."""
    for _ in range(8):
        if mine.chain.proved:
            break
        mine.way.value = direction
        mine.buttons["Show a line"].click()
        line = said(mine).partition("A line that would do: ")[2]
        assert "Type" not in put(mine, line, direction)
        assert mine.box.value == "", said(mine)
    assert mine.chain.proved
    mine.buttons["Show a line"].click()
    assert said(mine).startswith("The proof is done")


def test_the_longer_half_axis(mine: StudentLine) -> None:
    """a > b is false until it was said; once a line needs it, it cannot be unsaid."""
    assert put(mine, "a - b > 0").startswith("False.")
    mine.longer.value = True
    assert any("longer half-axis" in row for row in rows(mine))
    assert "False" not in put(mine, "a - b > 0")
    assert mine.chain.forwards
    mine.longer.value = False
    assert mine.longer.value is True
    assert mine.chain.longer_axis is True
    assert "needs it" in said(mine)
    mine.buttons["Undo"].click()
    mine.longer.value = False
    assert mine.chain.longer_axis is False


def test_citing_that_the_axes_differ(mine: StudentLine) -> None:
    """≥ becomes > only with the tick; after an accepted line the tick is gone again."""
    put(mine, "(a-b)^2 >= 0")
    assert mine.chain.forwards
    assert "a ≠ b" in put(mine, "(a-b)^2 > 0")
    assert mine.box.value == "(a-b)^2 > 0"
    mine.cites.value = True
    mine.buttons["Write"].click()
    assert mine.box.value == ""
    assert mine.cites.value is False
    assert "a ≠ b is cited" in mine.proof.value


# ---- saving, and without a kernel ----------------------------------------------------------------


def test_saving(mine: StudentLine, tmp_path: Path) -> None:
    """The page goes into the folder, under a name that is told; a refusal is told too."""
    put(mine, ROUTE[0])
    mine.buttons["Save as a page"].click()
    assert said(mine) == "Saved as my-proof.html, in the folder of this notebook."
    assert "(a − b)² &gt; 0" in (tmp_path / "my-proof.html").read_text("utf-8")
    mine.folder = tmp_path / "none"
    mine.buttons["Save as a page"].click()
    assert "expected a folder that can be written to" in said(mine)


def test_what_a_notebook_is_given() -> None:
    """A live view, and in words what the exercise is; two showings are one proof."""
    mine = own_line()
    data = mine._repr_mimebundle_()
    assert set(data) == {"application/vnd.jupyter.widget-view+json", "text/plain"}
    assert data["text/plain"] == repr(mine)
    assert "A_tape > A_cal" in repr(mine)
    view = "application/vnd.jupyter.widget-view+json"
    assert mine._repr_mimebundle_()[view]["model_id"] == data[view]["model_id"]


def test_every_control_has_a_name(mine: StudentLine) -> None:
    """Box, ticks and buttons are found by their words."""
    assert mine.box.description == "Your line"
    assert list(mine.buttons) == ["Write", "Undo", "Hint", "Show a line", "Save as a page"]
    for name, button in mine.buttons.items():
        assert isinstance(button, w.Button)
        assert button.description == name
    assert mine.longer.description == "Let a be the longer half-axis (a > b)"
    assert mine.cites.description == "I use a ≠ b here"


def test_the_help_is_true() -> None:
    """Each example of how a line may be written is read."""
    from mensura.teaching.proof.notation import read_line

    for typed, _ in NOTATION:
        assert read_line(typed).read_as


def test_the_proof_as_markup_is_balanced() -> None:
    """Items and list are closed, for an empty, a half and a finished proof."""
    for count in range(5):
        chain = Chain()
        for text in ROUTE[:count]:
            chain.write(text, THEREFORE)
        markup = proof_html(chain)
        for tag in ("ol", "li", "table", "tr", "td", "span", "b", "p"):
            assert len(re.findall(rf"<{tag}[ >]", markup)) == markup.count(f"</{tag}>"), tag


def test_a_leap_is_told_by_word_and_sign(mine: StudentLine) -> None:
    """A word, and a sign that the style draws beside it; the line stays in its box."""
    reply = put(mine, "A_tape > A_cal")
    assert reply.startswith("Leap. True, and it follows, but")
    assert "mensura-leap" in mine.said._dom_classes
    assert mine.box.value == "A_tape > A_cal"
    assert mine.chain.forwards == []
    put(mine, ROUTE[0])
    assert "mensura-leap" not in mine.said._dom_classes
    assert "mensura-equivalent" in mine.said._dom_classes
    assert "class='mensura-verdict mensura-equivalent'" in mine.proof.value


def test_every_verdict_has_its_own_sign() -> None:
    """In the style sheet the one that the judge has for it; no two are alike."""
    assert set(MARKS) == set(VERDICTS)
    assert len(set(MARKS.values())) == len(VERDICTS)
    for verdict, mark in MARKS.items():
        assert f'.mensura-own .mensura-{verdict} {{ --mark: "{mark} "; }}' in SHEET


def test_names_stand_with_subscripts_and_are_copied_as_one_types_them(mine: StudentLine) -> None:
    """No typed code in title, task and lines; what a copy of the page holds can be pasted back."""
    top = mine.proof.value
    assert "A<small style='font-size:0'>_</small><sub>tape</sub>" in top
    assert "A_tape" not in top
    plain = re.sub(r"<[^>]+>", "", markup("A_tape > A_cal and p_n² + q_n²"))
    assert html.unescape(plain) == "A_tape > A_cal and p_n² + q_n²"
    assert markup("<b>my_tape A_tapes") == "&lt;b&gt;my_tape A_tapes"
