"""Any desk: nothing that only Unix has, text files in a stated encoding, names for every disk.

A lecturer's machine runs Windows or macOS. These rules read the package's code, that of the
workbooks, and the names of the files that are laid out; mypy in `.ci/run` reads it once more as
Windows and macOS would (`--platform`).
"""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path, PureWindowsPath

import pytest

import mensura
from mensura.disk import lab, layout
from mensura.places import shipped

PACKAGE = Path(mensura.__file__).parent

#: Modules of the standard library that Windows lacks.
UNIX_MODULES = {
    *("crypt", "curses", "fcntl", "grp", "nis", "ossaudiodev", "posix", "pty", "pwd", "readline"),
    *("resource", "spwd", "syslog", "termios", "tty"),
}

#: What Windows lacks of the modules that it has, or has in name alone.
UNIX_NAMES = {
    "os": {
        *("O_DIRECTORY", "O_DSYNC", "O_NOCTTY", "O_NOFOLLOW", "O_NONBLOCK", "O_SYNC", "WNOHANG"),
        *("chflags", "chown", "chroot", "confstr", "ctermid", "eventfd", "fchdir", "fchmod"),
        *("fchown", "fdatasync", "fork", "forkpty", "fpathconf", "getegid", "geteuid", "getgid"),
        *("getgroups", "getloadavg", "getpgid", "getpgrp", "getpriority", "getsid", "getuid"),
        *("initgroups", "killpg", "lchown", "lockf", "major", "minor", "mkfifo", "mknod", "nice"),
        *("openpty", "pathconf", "pidfd_open", "posix_fadvise", "posix_spawn", "pread", "preadv"),
        *("pwrite", "pwritev", "readv", "sched_getaffinity", "sendfile", "setegid", "seteuid"),
        *("setgid", "setgroups", "setpgid", "setpriority", "setsid", "setuid", "statvfs", "sync"),
        *("sysconf", "tcgetpgrp", "tcsetpgrp", "ttyname", "uname", "wait", "wait3", "wait4"),
        *("waitid", "writev"),
        # there, but the caller's prompt comes back at once and the two then share a console
        *("execl", "execle", "execlp", "execv", "execve", "execvp", "execvpe"),
    },
    "signal": {
        *("SIGALRM", "SIGCHLD", "SIGCONT", "SIGHUP", "SIGKILL", "SIGPIPE", "SIGQUIT", "SIGSTOP"),
        *("SIGTSTP", "SIGUSR1", "SIGUSR2", "alarm", "getitimer", "pause", "pthread_kill"),
        *("pthread_sigmask", "setitimer", "siginterrupt", "sigpending", "sigwait"),
    },
    "time": {"tzset", "pthread_getcpuclockid"},
    "socket": {"AF_UNIX", "socketpair"},
    "select": {"epoll", "kqueue", "poll"},
}

#: Where one of them stands behind a question that is answered before it is reached.
GUARDED = {
    ("disk/lab.py", "os.execve"): "only where os.name is posix",
    ("cli/open.py", "os.geteuid"): "only where the system has it",
}


def code() -> Iterator[tuple[str, ast.AST]]:
    """Each file of the package and each cell of the workbooks, as (where, its tree)."""
    for path in sorted(PACKAGE.rglob("*.py")):
        where = path.relative_to(PACKAGE).as_posix()
        if not where.startswith("_shipped/"):
            yield where, ast.parse(path.read_text(encoding="utf-8"))
    for path in sorted(shipped("workbooks").rglob("*.ipynb")):
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        for number, cell in enumerate(cells):
            if cell["cell_type"] == "code":
                yield f"{path.name}, cell {number}", ast.parse("".join(cell["source"]))


def only_unix(tree: ast.AST) -> set[str]:
    """Names in the tree that only Unix has; a getattr with a text is the way to ask for one."""
    found: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            found |= {one.name for one in node.names if one.name in UNIX_MODULES}
        elif isinstance(node, ast.ImportFrom) and node.module in UNIX_MODULES:
            found.add(str(node.module))
        elif isinstance(node, ast.ImportFrom) and node.module in UNIX_NAMES:
            lacking = UNIX_NAMES[str(node.module)]
            found |= {f"{node.module}.{one.name}" for one in node.names if one.name in lacking}
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            lacking = {*UNIX_NAMES.get(node.value.id, ()), "add_signal_handler"}
            found |= {f"{node.value.id}.{node.attr}"} if node.attr in lacking else set()
    return found


def without_encoding(tree: ast.AST) -> list[str]:
    """Calls that read or write text and leave the encoding, or the ends of lines, to the desk."""
    found = []
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        named = {one.arg: one.value for one in node.keywords}
        function = node.func
        owner = function.value.id if _is_of_a_name(function) else ""
        name = function.id if isinstance(function, ast.Name) else getattr(function, "attr", "")
        if name in {"read_text", "write_text"}:
            writes = name == "write_text"
        elif name in {"open", "fdopen"} and owner not in {"Image", "webbrowser", "zipped"}:
            if owner == "os" and name == "open":
                continue  # gives a number, of no encoding
            place = 0 if name == "open" and isinstance(function, ast.Attribute) else 1
            mode = named.get("mode") or (node.args[place] if len(node.args) > place else None)
            kind = mode.value if isinstance(mode, ast.Constant) else "r" if mode is None else "?"
            if "b" in str(kind):
                continue
            writes = any(sign in str(kind) for sign in "wax+?")
        elif owner == "subprocess" and {"text", "universal_newlines"} & set(named):
            writes = False
        else:
            continue
        if "encoding" not in named and not (name == "read_text" and node.args):
            found.append(f"{name} in line {node.lineno}: no encoding")
        elif writes and "newline" not in named:
            found.append(f"{name} in line {node.lineno}: no newline")
    return found


def _is_of_a_name(function: ast.expr) -> bool:
    return isinstance(function, ast.Attribute) and isinstance(function.value, ast.Name)


def test_nothing_that_only_unix_has() -> None:
    """Not in the package and not in a workbook, but for what is guarded; and that is there."""
    found = {(where, name) for where, tree in code() for name in only_unix(tree)}
    assert found == set(GUARDED)


def test_text_has_a_stated_encoding() -> None:
    """Whatever reads or writes text names the encoding, and what writes it the ends of lines."""
    assert [f"{where}: {one}" for where, tree in code() for one in without_encoding(tree)] == []


@pytest.mark.parametrize(
    "line",
    [
        *(
            "import fcntl",
            "from pwd import getpwuid",
            "from os import fork",
            "import os; os.fork()",
        ),
        *("signal.signal(signal.SIGKILL, f)", "os.open(p, os.O_NOFOLLOW)", "os.execv(a, b)"),
    ],
)
def test_unix_would_be_found(line: str) -> None:
    """The rule itself."""
    assert len(only_unix(ast.parse(line))) == 1


def test_asking_for_a_name_is_not_using_it() -> None:
    """What may be missing is asked for by getattr."""
    tree = ast.parse("getattr(os, 'O_NOFOLLOW', 0); os.open(p, os.O_RDWR); os.replace(a, b)")
    assert only_unix(tree) == set()


@pytest.mark.parametrize(
    "line",
    [
        *("open(p)", "open(p, 'w', encoding='utf-8')", "p.open()", "p.read_text()"),
        *("p.write_text(t)", "p.write_text(t, encoding='utf-8')", "os.fdopen(n, 'w')"),
        *("subprocess.run(c, text=True)", "p.open('a', encoding='utf-8')", "open(p, mode)"),
    ],
)
def test_a_missing_encoding_would_be_found(line: str) -> None:
    """The rule itself."""
    assert len(without_encoding(ast.parse(line))) == 1


@pytest.mark.parametrize(
    "line",
    [
        *("open(p, 'rb')", "p.open(encoding='utf-8')", "os.open(p, f)", "os.fdopen(n, 'wb')"),
        *("p.read_text('utf-8')", "p.write_text(t, encoding='utf-8', newline='\\n')"),
        *("Image.open(p)", "self._open(p)", "subprocess.run(c, text=True, encoding='utf-8')"),
    ],
)
def test_a_stated_encoding_passes(line: str) -> None:
    """The rule itself."""
    assert without_encoding(ast.parse(line)) == []


# ---- files ---------------------------------------------------------------------------------------

RESERVED = {"con", "prn", "aux", "nul"} | {
    f"{port}{number}" for port in ("com", "lpt") for number in range(1, 10)
}


def wrong_on_some_disk(names: list[str]) -> list[str]:
    """Names that Windows cannot hold, or that a disk blind to case takes for another."""
    bad = []
    for name in names:
        for part in name.split("/"):
            stem = part.partition(".")[0].rstrip().lower()
            signs = set(part) & set('<>:"|?*\\') or min(part) < " " or part[-1] in ". "
            if signs or stem in RESERVED or len(part) > 100:
                bad.append(name)
    lower = [name.lower() for name in names]
    return bad + [name for name in names if lower.count(name.lower()) > 1]


def test_what_is_laid_out_has_names_for_every_disk() -> None:
    """Workbooks, the record and what a student's own file is called."""
    names = [*layout.shipped_names(shipped("workbooks")), layout.RECORD_NAME]
    names += ["my-progress.jsonl", ".my-progress.lock"]
    assert wrong_on_some_disk(names) == []
    assert max(map(len, names)) < 120  # a home of Windows has some 260 for the whole path


@pytest.mark.parametrize(
    "names",
    [["NUL.ipynb"], ["a/con"], ["a:b"], ["a\\b"], ["dot."], ["tab\t"], ["Girth.csv", "girth.CSV"]],
)
def test_a_name_for_some_disks_only_would_be_found(names: list[str]) -> None:
    """The rule itself."""
    assert wrong_on_some_disk(names)


def test_a_folder_of_windows_goes_into_the_command_as_it_is() -> None:
    """Blanks and backslashes; the workbook's address has the web's slashes."""
    folder = PureWindowsPath(r"C:\Users\Ada L\stems & logs")
    command = lab.lab_command(folder, "01-how round.ipynb", root=False)  # type: ignore[arg-type]
    assert r"--ServerApp.root_dir=C:\Users\Ada L\stems & logs" in command
    assert "--LabApp.default_url=/doc/tree/01-how%20round.ipynb" in command


BARE = """
import os, sys
for name in ("fcntl", "pwd", "grp", "resource", "termios"):
    sys.modules[name] = None
for name in ("O_NOFOLLOW", "O_NONBLOCK", "geteuid", "getuid", "fork", "mkfifo"):
    delattr(os, name)
import warnings
warnings.simplefilter("ignore")  # a lock of another kind is taken, and its library says so
from pathlib import Path
from mensura.cli import main
from mensura.disk import lab, layout
from mensura.disk.progress_file import Progress, ProgressFile
from mensura.teaching.problems.standing import Attempt
one = Attempt("Q07", "k", "1", "girth-to-area", 1, "78 cm2", False, None, 0, False, "then")
progress = Progress(ProgressFile())
assert progress.add(one) == progress.add(one) == progress.note == ""
assert ProgressFile().read().attempts == (one, one)
started = []
lab.start = lambda command, environment: started.append(command) or 0
for words in (["open", "desk", "--no-browser"], ["compare", "--axes", "60x48"]):
    assert main.main(words, standalone_mode=False) in (0, None)
assert "--allow-root" not in started[0]
assert (Path("desk") / layout.RECORD_NAME).is_file()
print("all of it")
"""


def test_a_system_that_lacks_what_only_unix_has(tmp_path: Path) -> None:
    """Progress, laying out and the commands with those modules and names taken away."""
    done = subprocess.run(
        [sys.executable, "-c", BARE],
        cwd=tmp_path,
        capture_output=True,
        encoding="utf-8",
        timeout=60,
    )
    assert done.stderr == ""
    assert done.stdout.endswith("all of it\n")
