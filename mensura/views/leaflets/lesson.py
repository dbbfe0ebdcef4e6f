"""A whole lesson as one leaflet: its steps in the plan's order, with the lecturer's own pieces.

Words, pictures and cells of the lecturer's own are shown, never run and never taken for markup; a
photograph is made small enough for a page, and does not tell where it was taken. Notes and minutes
are the lecturer's; they are left out.
"""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from markupsafe import Markup

from mensura.disk.plan_things import cell_of, kind_of, picture_of
from mensura.disk.sections import plain_words, section, title_of
from mensura.sources import SOURCES, cite
from mensura.teaching.lessons.chapters import chapter
from mensura.teaching.lessons.plan import Plan, Step
from mensura.views.leaflets.page import SOURCES as SOURCES_HEADING
from mensura.views.leaflets.page import Page, sentence
from mensura.views.leaflets.sections import Told, put_section
from mensura.views.leaflets.words import cited
from mensura.views.leaflets.workbook import put_problems

#: A photograph is at most so wide and high, in dots, and kept with this quality.
MOST_DOTS, QUALITY = 1600, 82

#: The title of a text that is a caution.
CAUTION = re.compile(r"\b(care|cautions?|danger|dangers|safety)\b", re.IGNORECASE)

#: What is asked once on paper, however often in class, and needs no heading but its own words.
_ONCE = ("question", "problem", "game")


def lesson_leaflet(
    plan: Plan, file: str, name: str, problems: bool = False, told: Told | None = None
) -> Page:
    """A lesson's leaflet.

    plan: checked, as `checked_plan` gives it; file: the path of the plan, from which its pictures
    are found; name: of the leaflet's file, without ending; problems: whether all problems of the
    bank that belong to its workbooks come along; told: of what takes time.
    """
    numbers = sorted({one.workbook for one in plan.steps if one.workbook})
    chapters = [chapter(number) for number in numbers]
    from_where = f"From mensura's workbook{'s' * (len(numbers) > 1)} {', '.join(numbers)}"
    page = Page(plan.title, f"{sentence(plan.title)} {from_where}" if numbers else plan.title, name)
    seen: set[tuple[str, str]] = set()
    printed: set[str] = set()
    said = ""
    for step in plan.steps:
        here = (step.workbook, step.section)
        if step.workbook and here in seen and section(*here).kind in _ONCE:
            continue  # asked again in class, after the panel was moved
        page.end_field()
        title = title_of(step)
        # a question says itself what it asks
        alone = bool(step.workbook) and section(*here).kind in _ONCE and not step.title
        if title != said and not alone:
            page.heading(plain_words(title))
            said = title
        if step.workbook:
            one = section(*here)
            # the same panel from elsewhere has other settings to show
            as_set = repr((here, sorted(step.start.items()), step.controls))
            beside = as_set not in printed
            put_section(page, one, step.start, told, beside, step.controls)
            seen.add(here)
            printed.add(as_set)
        else:
            _put_own(page, step, file, title)
    if problems:
        put_problems(page, chapters)
    _put_sources(page)
    return page


def _put_own(page: Page, step: Step, file: str, title: str) -> None:
    """A piece of the lecturer's own."""
    if step.shows == "text":
        words = _without_title(step.text, title)
        # as a workbook's section of that name is boxed
        page.words(words, "Caution" if CAUTION.search(title) else title)
    elif step.shows == "picture":
        kind, content = picture_of(file, step)
        page.put(picture_html(kind, content, step.alt), wide=True)
    else:
        cell = cell_of(file, step)
        if cell["cell_type"] == "markdown":
            page.words(cell["source"])
        else:
            for shown in _outputs(cell):
                page.put(shown)


def _without_title(text: str, title: str) -> str:
    """A text whose heading is the page's already."""
    first, _, rest = text.strip().partition("\n")
    return rest if first.startswith("#") and plain_words(first.lstrip("# ")) == title else text


def _put_sources(page: Page) -> None:
    """The full references of what the lesson's words cite."""
    keys = cited(page.texts, list(SOURCES))
    if not keys:
        return
    page.heading(SOURCES_HEADING)
    items = Markup().join(Markup("<li>[{}] {}</li>").format(key, cite(key)) for key in keys)
    page.put(Markup('<div class="references"><ul>{}</ul></div>').format(items))


# ---- pictures ------------------------------------------------------------------------------------


def picture_html(kind: str, content: bytes, alt: str) -> Markup:
    """A picture of the lecturer's own, embedded.

    kind: its media type; content: its bytes; alt: the same in words.
    """
    kind, content = made_small(kind, content)
    data = base64.b64encode(content).decode("ascii")
    return Markup(
        '<figure><img class="photograph" alt="{}" src="data:{};base64,{}"></figure>'
    ).format(alt, kind, data)


def made_small(kind: str, content: bytes) -> tuple[str, bytes]:
    """A photograph small enough for a page, upright, and without what else its file tells.

    kind: media type; content: its bytes. Shapes stay as they are, and what cannot be opened.
    """
    from PIL import Image, ImageOps

    if kind == "image/svg+xml":
        return kind, content
    try:
        with Image.open(io.BytesIO(content)) as opened:
            upright = ImageOps.exif_transpose(opened).convert("RGBA")
    except (OSError, ValueError, Image.DecompressionBombError):
        return kind, content
    upright.thumbnail((MOST_DOTS, MOST_DOTS))
    ground = Image.new("RGB", upright.size, "white")
    ground.paste(upright, mask=upright.getchannel("A"))
    out = io.BytesIO()
    if kind == "image/jpeg":
        ground.save(out, "JPEG", quality=QUALITY, optimize=True)
        return kind, out.getvalue()
    ground.save(out, "PNG", optimize=True)
    return "image/png", out.getvalue()


# ---- cells ---------------------------------------------------------------------------------------


def _outputs(cell: Mapping[str, Any]) -> Iterable[Markup]:
    """What a cell of the lecturer's own notebook shows: pictures and text; no HTML, no code."""
    outputs = cell.get("outputs")
    for output in outputs if isinstance(outputs, list) else ():
        data = output.get("data", {}) if isinstance(output, dict) else {}
        data = data if isinstance(data, dict) else {}
        text = _joined(data.get("text/plain")) or _joined(output.get("text"))
        picture = _picture(data)
        if picture:
            yield picture_html(*picture, text or "A picture from the lecturer's notebook.")
        elif text:
            yield Markup('<pre tabindex="0">{}</pre>').format(re.sub(r"\x1b\[[0-9;]*m", "", text))


def _picture(data: Mapping[str, Any]) -> tuple[str, bytes] | None:
    """Media type and bytes of the picture among an output's data, if there is one."""
    for kind in ("image/svg+xml", "image/png", "image/jpeg"):
        text = _joined(data.get(kind))
        if not text:
            continue
        try:
            content = text.encode() if kind == "image/svg+xml" else base64.b64decode(text)
        except ValueError:
            continue
        if kind_of(content) == kind:
            return kind, content
    return None


def _joined(text: object) -> str:
    """Text of a notebook, which may come in lines."""
    if isinstance(text, Sequence) and not isinstance(text, str):
        return "".join(one for one in text if isinstance(one, str))
    return text if isinstance(text, str) else ""
