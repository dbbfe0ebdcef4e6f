"""Starting JupyterLab on a folder of workbooks: one workbook on show, nothing from the network.

The settings that go with it lie beside this file and are handed to JupyterLab by their path, so
that the user's own configuration is read as ever and never written.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from urllib.parse import quote

from mensura.disk.plan_place import with_plan

#: Where JupyterLab and its kernels keep what is theirs: all below the home, unless these say else.
_HOMES = (
    "JUPYTER_CONFIG_DIR",
    "JUPYTER_DATA_DIR",
    "JUPYTER_RUNTIME_DIR",
    "JUPYTERLAB_SETTINGS_DIR",
    "JUPYTERLAB_WORKSPACES_DIR",
    "IPYTHONDIR",
    "MPLCONFIGDIR",
)

#: Folder with overrides.json: all cells are in the page, widget state is not saved, no news.
LAB_SETTINGS = Path(__file__).resolve().parent / "lab_settings"

#: Folder of the extension that starts pages and watches over them: see its remoteEntry.js.
LAB_PAGE = Path(__file__).resolve().parent / "lab_page"

#: Folder of the extension that puts *into the lesson* on the pages; a class never loads it.
LAB_LECTURER = Path(__file__).resolve().parent / "lab_lecturer"


def first_workbook(names: Iterable[str]) -> str | None:
    """The workbook to open first: the first notebook by name that starts with a digit.

    names: relative names of the workbooks, parted by "/"; those in subfolders are passed over.
    Returns None if there is none.

    >>> first_workbook(["lecturer/00-notes.ipynb", "02-bark.ipynb", "01-girth.ipynb", "1.csv"])
    '01-girth.ipynb'
    """
    numbered = [
        name
        for name in names
        if name[:1] in set("0123456789") and name.endswith(".ipynb") and "/" not in name
    ]
    return min(numbered, default=None)


def lab_command(
    folder: Path,
    first: str | None = None,
    *,
    browser: bool = True,
    port: int | None = None,
    root: bool = False,
    lecturer: bool = False,
) -> list[str]:
    """The command that starts JupyterLab on a folder.

    folder: absolute; first: name of the workbook to show, or None for the file list; browser:
    whether to open one; port: 0 to 65535, 0 for any free one, None for JupyterLab's own choice;
    root: whether the administrator's account runs it, which JupyterLab wants to be told; lecturer:
    whether a lecturer opens it, and has *into the lesson* on every page.

    >>> lab_command(Path("/stems"), "01-how round.ipynb", port=0)[3:6]
    ['jupyterlab', '--ServerApp.root_dir=/stems',
     '--LabApp.default_url=/doc/tree/01-how%20round.ipynb']
    """
    # -P: a file of the user's that is called like a module must not be taken for it
    command = [sys.executable, "-P", "-m", "jupyterlab"]
    command += [
        f"--ServerApp.root_dir={folder}",
        f"--LabApp.default_url={'/doc/tree/' + quote(first) if first else '/lab'}",
        f"--LabApp.app_settings_dir={LAB_SETTINGS}",
        f"--LabApp.extra_labextensions_path={LAB_PAGE}",
        "--ServerApp.jpserver_extensions=jupyter_lsp=False",
        "--ServerApp.jpserver_extensions=mensura.disk.lab_server=True",
    ]
    if lecturer:
        command.append(f"--LabApp.extra_labextensions_path={LAB_LECTURER}")
    if not browser:
        command.append("--ServerApp.open_browser=False")
    if port is not None:
        command.append(f"--ServerApp.port={port}")
    if root:
        command.append("--allow-root")
    return command


def lab_environment(environment: Mapping[str, str], plan: Path | None = None) -> dict[str, str]:
    """The environment JupyterLab runs in: the user's own, and kernels of this installation first.

    environment: the user's; plan: the lecturer's, absolute, None for a class. A kernel of another
    installation could not import mensura; a choice the user has made in JUPYTER_PREFER_ENV_PATH
    stands.

    >>> lab_environment({"LANG": "C"})
    {'JUPYTER_PREFER_ENV_PATH': '1', 'LANG': 'C'}
    """
    return {"JUPYTER_PREFER_ENV_PATH": "1", **with_plan(environment, plan)}


def finds_browser() -> bool:
    """Whether a browser can be opened on this machine."""
    import webbrowser

    try:
        webbrowser.get()
    except webbrowser.Error:
        return False
    return True


def homes_for_this_sitting(environment: Mapping[str, str]) -> dict[str, str]:
    """Folders for JupyterLab's own files, if the user's home cannot be written; else none.

    environment: the user's; what it sets stands. The folders are made in the system's temporary
    one. Raises OSError if that cannot be written either.
    """
    try:
        with tempfile.TemporaryFile(dir=Path.home()):
            return {}
    except (OSError, RuntimeError):  # RuntimeError: nobody knows where the home is
        place = Path(tempfile.mkdtemp(prefix="mensura-"))
    found = {}
    for name in _HOMES:
        if name not in environment:
            folder = place / name.lower()
            folder.mkdir()
            found[name] = str(folder)
    return found


def start(command: Sequence[str], environment: Mapping[str, str]) -> int:
    """Runs a command in the foreground and returns its exit code.

    command: program and arguments; environment: its variables. Where the system can do it, this
    process becomes the command, and the function does not return. Elsewhere it waits.
    Raises OSError if the command cannot be started.
    """
    sys.stdout.flush()
    sys.stderr.flush()
    if os.name == "posix":
        os.execve(command[0], list(command), dict(environment))
    return wait_for(command, environment)


def wait_for(command: Sequence[str], environment: Mapping[str, str]) -> int:
    """Runs a command, passes a request to stop on to it, and returns its exit code.

    command: program and arguments; environment: its variables. Ctrl-C reaches the command by
    itself, so this side only waits; SIGTERM is handed on. Ended by signal n, it counts as 128 + n.
    Raises OSError if the command cannot be started.

    >>> wait_for([sys.executable, "-c", "raise SystemExit(3)"], os.environ)
    3
    """
    process = subprocess.Popen(list(command), env=dict(environment))
    before = signal.signal(signal.SIGTERM, lambda *_: process.terminate())
    try:
        while True:
            try:
                code = process.wait()
                return 128 - code if code < 0 else code
            except KeyboardInterrupt:
                continue
    finally:
        signal.signal(signal.SIGTERM, before)
