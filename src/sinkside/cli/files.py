"""Files that people name: read without surprise, and written whole or not at all."""

import errno
import os
from contextlib import suppress
from pathlib import Path
from typing import NoReturn

from sinkside.cli import near, streams
from sinkside.cli.spellings import printable
from sinkside.faults import Fault, Faulty

STANDARD = "-"
LARGEST = 8 * 1024 * 1024
GIVE = "give the path of a site file, such as my-site.yaml"
_UTF_16 = (b"\xff\xfe", b"\xfe\xff")


def shown(name: str) -> str:
    """How a file is called in a fault."""
    return "standard input" if name == STANDARD else printable(name)


def read(name: str) -> str:
    """Read a text file, or standard input where the name is `-`.

    Raises
    ------
    Faulty
        It cannot be read, is too large, or is no text in UTF-8.
    """
    try:
        raw = streams.read_in(LARGEST) if name == STANDARD else _some(Path(name))
    except OSError as error:
        raise Faulty([_no_file(name, error, _instead(name, error))]) from None
    if len(raw) > LARGEST:
        wrong = f"{shown(name)}: more than {LARGEST // 1024**2} MiB"
        raise Faulty([Fault(code="too-large", wrong=wrong, right=GIVE)])
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if b"\0" in raw and not raw.startswith(_UTF_16):
            wrong = f"{shown(name)}: no text"
            raise Faulty([Fault(code="not-text", wrong=wrong, right=GIVE)]) from None
        wrong = f"{shown(name)}: byte {error.start} is not UTF-8"
        raise Faulty([Fault(code="not-utf-8", wrong=wrong, right="save it as UTF-8")]) from None


def _some(file: Path) -> bytes:
    with file.open("rb") as stream:
        return stream.read(LARGEST + 1)


def _instead(name: str, error: OSError) -> str:
    """The site file that was meant, if one is near: in a folder, or of nearly the same name."""
    given = Path(name)
    close = None
    with suppress(OSError):
        if isinstance(error, IsADirectoryError):
            inside = _site_files(given)
            close = inside[0] if len(inside) == 1 else None
        elif isinstance(error, FileNotFoundError):
            there = {file.stem: file for file in _site_files(given.parent)}
            close = there.get(near.nearest(given.stem, there) or "")
    return f"did you mean {printable(str(close))}?" if close else GIVE


def _site_files(folder: Path) -> list[Path]:
    return sorted(f for f in folder.iterdir() if f.suffix in (".yaml", ".yml"))


def found(name: str) -> bytes | None:
    """What is in a file; None if there is no file of that name.

    Raises
    ------
    Faulty
        There is one, and it cannot be read.
    """
    try:
        return Path(name).read_bytes()
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as error:
        raise Faulty([_no_file(name, error)]) from None


def _no_file(name: str, error: OSError, right: str = "") -> Fault:
    return Fault(code="no-file", wrong=f"{shown(name)}: {error.strerror or error}", right=right)


def write(name: str, content: bytes) -> None:
    """Write a file whole, with the folders above it, or leave what was there as it was.

    Raises
    ------
    Faulty
        It cannot be written.
    """
    file = Path(name)
    try:
        _make_folder(file.parent)
        if file.exists() and not file.is_file():
            file.write_bytes(content)  # a device or a pipe; a folder refuses
        else:
            _replace(file, content)
    except OSError as error:
        wrong = f"{shown(name)}: {error.strerror or error}"
        raise Faulty([Fault(code="not-written", wrong=wrong)]) from None


def _make_folder(folder: Path) -> None:
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR)) from None


def _replace(file: Path, content: bytes) -> None:
    """Put a new file in the place of an old one, in one step, once all of it is written."""
    target = _behind(file) if file.is_symlink() else file
    draft = target.with_name(f".sinkside-{os.getpid()}.part")
    try:
        draft.write_bytes(content)
        if target.exists():
            draft.chmod(target.stat().st_mode & 0o7777)
        draft.replace(target)
    except OSError:
        with suppress(OSError):
            draft.unlink()
        raise


def _behind(link: Path) -> Path:
    """Where a link leads to in the end."""
    try:
        return link.resolve()
    except RuntimeError:  # what Python up to 3.12 makes of a link that leads to itself
        raise OSError(errno.ELOOP, os.strerror(errno.ELOOP)) from None


def refuse_other(name: str, beside: str) -> None:
    """Refuse to put a PDF page in the place of a file that is none, the site file above all.

    Parameters
    ----------
    name
        Where the page is going to be written.
    beside
        The site file that is planned.

    Raises
    ------
    Faulty
        A folder or a file that is no PDF has that name.
    """
    file = Path(name)
    with suppress(OSError):  # writing will tell what is wrong with the place
        if file.is_dir():
            _refuse(f"{shown(name)}: {os.strerror(errno.EISDIR)}")
        if not file.is_file():
            return
        if beside != STANDARD and file.samefile(beside):
            _refuse(f"{shown(name)} is the site file itself")
        with file.open("rb") as stream:
            if stream.read(5) not in (b"%PDF-", b""):
                _refuse(f"{shown(name)} is there already and is no PDF")


def _refuse(wrong: str) -> NoReturn:
    right = "give another name, such as plan.pdf"
    raise Faulty([Fault(code="not-written", wrong=wrong, right=right)])
