"""What JupyterLab's server is told of our pages: which may start by themselves.

A page starts by itself if `mensura open` laid it out and nothing but JupyterLab has changed it.
The first is known from the shipped names; the second Jupyter itself keeps account of, by signing
what it saves. So what lies here byte for byte as shipped is signed when the server starts, with
the server's own key, and the names are handed to the page, which is told by no file.
"""

from __future__ import annotations

import hashlib
import json
import os
from pathlib import Path
from typing import Any

from mensura.disk.layout import fresh_of, is_source, shipped_names
from mensura.disk.lesson_book import LESSON
from mensura.places import shipped

#: The variable by which `mensura present` hands the digest of a lesson's notebook to its server.
ASKED = "MENSURA_LESSON"


def pages_of(folder: Path, source: Path) -> dict[str, bool]:
    """The shipped notebooks in a folder: relative name → whether it lies there as shipped.

    folder: the server's, absolute; source: folder of the shipped workbooks. Fresh copies that were
    laid beside a changed one are among them; links are passed over.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     source, folder = Path(place, "shipped"), Path(place, "mine")
    ...     for one, words in ((source, "{}"), (folder, "{ }")):
    ...         one.mkdir()
    ...         _ = (one / "01-girth.ipynb").write_text(words)
    ...     _ = (folder / "01-girth-fresh.ipynb").write_text("{}")
    ...     pages_of(folder, source)
    {'01-girth.ipynb': False, '01-girth-fresh.ipynb': True}
    """
    inside = folder.relative_to(source) if folder.is_relative_to(source) else None
    laid = not is_source(folder, source)
    found = {}
    for name in shipped_names(source):
        if not name.endswith(".ipynb"):
            continue
        fresh = (source / name).read_bytes()
        if inside is not None and not Path(name).is_relative_to(inside):
            continue
        here = name if inside is None else Path(name).relative_to(inside).as_posix()
        for each in (here, *(fresh_of(here, folder) if laid else ())):
            path = folder / each
            if path.is_file() and not path.is_symlink():
                found[each] = path.read_bytes() == fresh
    return found


def sign(names: list[str], folder: Path, notary: Any) -> int:
    """Signs notebooks as Jupyter signs what it has saved itself; how many were not signed yet.

    names: relative to the folder; folder: absolute; notary: the server's own, an nbformat one.
    """
    import nbformat

    read: Any = nbformat.reads
    count = 0
    for name in names:
        book = read((folder / name).read_text("utf-8"), as_version=4)
        if not notary.check_signature(book):
            notary.sign(book)
            count += 1
    return count


def lesson_of(folder: Path, asked: str | None) -> str:
    """Name of the lesson's notebook that `mensura present` has just laid in a folder, or "".

    folder: the server's, absolute; asked: the notebook's digest, as the command handed it over. One
    that was changed since is none: it starts by its button, and not by itself.

    >>> lesson_of(Path("/stems"), None)
    ''
    """
    path = folder / LESSON
    if not asked or not path.is_file() or path.is_symlink():
        return ""
    return LESSON if hashlib.sha256(path.read_bytes()).hexdigest() == asked else ""


def _jupyter_server_extension_points() -> list[dict[str, str]]:
    return [{"module": "mensura.disk.lab_server"}]


def _load_jupyter_server_extension(app: Any) -> None:
    """Called by the server as it starts; what fails here leaves every page with its button."""
    from mensura import __version__

    pages: dict[str, bool] = {}
    lesson = ""
    try:
        folder = Path(app.contents_manager.root_dir).resolve()
        pages = pages_of(folder, shipped("workbooks").resolve())
        lesson = lesson_of(folder, os.environ.get(ASKED))
        if lesson:
            pages[lesson] = True
        sign([name for name, same in pages.items() if same], folder, app.contents_manager.notary)
    except Exception as error:
        app.log.warning("mensura: pages will not start by themselves: %s", error)
    told = {"pages": list(pages), "version": __version__, "lesson": lesson}
    settings = app.web_app.settings
    settings.setdefault("page_config_data", {})["mensura"] = json.dumps(told)
