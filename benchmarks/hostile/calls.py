"""One call of the command line in this process, as a shell makes it, and what is wrong with it."""

import io
import json
import os
import resource
import signal
import sys
import tempfile
import time
import unicodedata
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import NoReturn

from sinkside.cli import main

HERE = "{folder}"
"""What stands in the arguments of a call for the folder that its files are in."""
NOBODY = 65534
# Where there is a file system in memory, a tree costs no disk.
IN_MEMORY = "/dev/shm" if Path("/dev/shm").is_dir() else None
HANGS_S = 30.0
# The largest that this process may grow.
MOST_BYTES = 4 * 1024**3

Tree = dict[str, bytes | str | int | None]
"""Files of a call: bytes of a file, `>target` of a link, `|` for a pipe, `@` for a socket, a
number for the size of a file with nothing in it, None for a folder."""


@dataclass(frozen=True, kw_only=True)
class Call:
    """What stands on the line, what comes by standard input, and which files there are.

    Parameters
    ----------
    closed
        Names of files and folders that nobody may read.
    """

    arguments: tuple[str, ...]
    stdin: bytes = b""
    files: Tree = field(default_factory=dict)
    closed: tuple[str, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Ended:
    """How a call ended.

    Parameters
    ----------
    status
        The exit status; None if there is none.
    cpu_s, wall_s
        Seconds of the processor and by the clock.
    crash
        The exception that came out, if one did.
    """

    status: int | None
    out: bytes
    err: bytes
    cpu_s: float
    wall_s: float
    crash: str = ""


# Controls, hidden signs, halves of characters, and the ends of lines and paragraphs of Unicode.
_DOES_SOMETHING = {"Cc", "Cf", "Cs", "Zl", "Zp"}


class Hangs(BaseException):
    """A call took longer than anything may; nothing on the way is to catch it."""


def bounded() -> None:
    """Make calls that eat all memory fail, not the machine."""
    resource.setrlimit(resource.RLIMIT_AS, (MOST_BYTES, MOST_BYTES))


def _hangs(*_: object) -> NoReturn:
    raise Hangs(f"longer than {HANGS_S:g} s")


def ended(call: Call, *, json_too: bool) -> Ended:
    """Make a call.

    Parameters
    ----------
    json_too
        Whether one document is asked for.
    """
    with _folder(call) as folder:
        arguments = [a.replace(HERE, folder) for a in call.arguments]
        if json_too:
            arguments.insert(1, "--json")
        with _as_nobody(call):
            return _main(["sinkside", *arguments], call.stdin)


def _main(words: list[str], stdin: bytes) -> Ended:
    out, err = io.BytesIO(), io.BytesIO()
    kept = sys.argv, sys.stdin, sys.stdout, sys.stderr
    sys.argv = words
    sys.stdin = io.TextIOWrapper(io.BytesIO(stdin), encoding="utf-8", errors="surrogateescape")
    sys.stdout = io.TextIOWrapper(out, encoding="utf-8", errors="strict")
    sys.stderr = io.TextIOWrapper(err, encoding="utf-8", errors="backslashreplace")
    status: int | None = None
    crash = ""
    handler = signal.signal(signal.SIGALRM, _hangs)
    signal.setitimer(signal.ITIMER_REAL, HANGS_S)
    wall, cpu = time.perf_counter(), time.process_time()
    try:
        main()
    except SystemExit as left:
        status = left.code if isinstance(left.code, int) else None
        crash = "" if status is not None else f"left with {left.code!r}"
    except (Exception, Hangs) as error:  # whatever it is, a user would see a traceback
        crash = f"{type(error).__name__}: {error}"
    finally:
        cpu_s, wall_s = time.process_time() - cpu, time.perf_counter() - wall
        signal.setitimer(signal.ITIMER_REAL, 0.0)
        signal.signal(signal.SIGALRM, handler)
        for stream in (sys.stdout, sys.stderr):
            stream.detach()
        sys.argv, sys.stdin, sys.stdout, sys.stderr = kept
    return Ended(
        status=status,
        out=out.getvalue(),
        err=err.getvalue(),
        cpu_s=cpu_s,
        wall_s=wall_s,
        crash=crash,
    )


@contextmanager
def _folder(call: Call) -> Iterator[str]:
    if not any(HERE in argument for argument in call.arguments):
        yield ""
        return
    with tempfile.TemporaryDirectory(dir=IN_MEMORY, ignore_cleanup_errors=True) as folder:
        root = Path(folder)
        root.chmod(0o755)
        write_tree(call.files, root)
        for name in call.closed:
            if (root / name).exists() and not (root / name).is_symlink():
                (root / name).chmod(0)
        yield folder
        for name in call.closed:
            if (root / name).exists() and not (root / name).is_symlink():
                (root / name).chmod(0o755)


def write_tree(tree: Tree, root: Path) -> None:
    """Write files below a folder."""
    for name, content in tree.items():
        file = root / name
        try:
            file.parent.mkdir(parents=True, exist_ok=True)
            match content:
                case None:
                    file.mkdir()
                case "|":
                    os.mkfifo(file)
                case "@":
                    os.mknod(file, 0o140644)
                case str():
                    file.symlink_to(content[1:])
                case int():
                    with file.open("wb") as stream:
                        stream.truncate(content)
                case _:
                    file.write_bytes(content)
        except (OSError, ValueError):
            continue  # two drawn things want one name, or no file can have it: the first stays


@contextmanager
def _as_nobody(call: Call) -> Iterator[None]:
    """Give the rights away for as long as a call with closed files takes."""
    if not call.closed or os.geteuid() != 0:
        yield
        return
    os.seteuid(NOBODY)
    try:
        yield
    finally:
        os.seteuid(0)


def faults(end: Ended, *, json_too: bool, plain: bool, allowed: tuple[int, ...]) -> list[str]:
    """What is wrong with how a call ended, whatever it was; empty if nothing is."""
    if end.crash:
        return [end.crash]
    err = end.err.decode("utf-8", "replace")
    if end.status not in allowed:
        last = err.strip().splitlines()[-1:] or [""]
        return [f"exit {end.status}: {last[0]}"]
    found = [] if "Traceback" not in err else ["a traceback, and no fault"]
    if json_too:
        found += _document(end.out)
    elif end.status == 2 and not plain and (not end.err or end.out):
        found.append("a wrong call or file, and not told on standard error alone")
    if not json_too and not plain:
        found += _shown(end.out)
    return found + _shown(end.err)


def _document(out: bytes) -> list[str]:
    """JSON as the standard has it: UTF-8, and nothing that it has no word for."""
    try:
        json.loads(out.decode(), parse_constant=_no_word)
    except ValueError as error:
        return [f"no JSON: {str(error)[:80]}"]
    return []


def _no_word(name: str) -> NoReturn:
    raise ValueError(f"{name} is no JSON")


def _shown(out: bytes) -> list[str]:
    """What is shown to people holds no sign that does something to their terminal."""
    try:
        text = out.decode()
    except UnicodeDecodeError:
        return ["what is shown is not UTF-8"]
    odd = sorted(
        {c for c in text if c not in "\n\t" and unicodedata.category(c) in _DOES_SOMETHING}
    )
    return [f"signs that are not to be shown: {odd[:5]!r}"] if odd else []
