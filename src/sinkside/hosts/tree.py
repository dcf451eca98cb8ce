"""Folders and small files of a tree that somebody else fills: nothing in it is taken on trust.

A file that cannot be read is as good as missing: whoever needs it says so. A folder that cannot
be read is told, because nobody knows what it would have said.
"""

import errno
import os
import re
from itertools import islice
from pathlib import Path

from sinkside.faults import NotUnderstood

MOST_ENTRIES = 256
LONGEST_FILE = 4096
# There is no folder: nothing, something else, or a link that leads round in a ring.
_NOT_THERE = {errno.ENOENT, errno.ENOTDIR, errno.ELOOP}
_WORD = re.compile(r"[\w.+-]{1,40}", re.ASCII)
_REVISION = re.compile(r"\d\.\d", re.ASCII)


def shown(text: str) -> str:
    """A name or a path as it can be shown on one line."""
    return text if text.isprintable() else ascii(text)


def folders(place: Path) -> list[Path]:
    """The folders in a folder, by name.

    Raises
    ------
    NotUnderstood
        There is no such folder (code `no-tree`), it may not be read (`no-access`), or it holds
        more than any kernel puts into one (`too-many`).
    """
    try:
        entries = list(islice(place.iterdir(), MOST_ENTRIES + 1))
        found = sorted(entry for entry in entries if entry.is_dir())
    except OSError as error:
        raise _closed(place, error) from None
    if len(entries) > MOST_ENTRIES:
        raise NotUnderstood(
            f"{shown(str(place))} has more than {MOST_ENTRIES} entries",
            "no kernel fills it so",
            code="too-many",
        )
    return found


def is_folder(place: Path) -> bool:
    """Whether there is such a folder; refuses if that may not even be asked."""
    try:
        return place.is_dir()
    except OSError as error:
        raise _closed(place, error) from None


def is_there(place: Path) -> bool:
    """Whether there is anything of that name, a link that leads nowhere included."""
    return os.path.lexists(place)


def link_name(link: Path) -> str:
    """The last name that a link leads to; empty if there is no link."""
    try:
        return Path(os.readlink(link)).name
    except OSError as error:
        if error.errno in _NOT_THERE | {errno.EINVAL}:
            return ""
        raise _closed(link, error) from None


def text(file: Path) -> str | None:
    """The text of a small file; None if there is none, it is too large or it cannot be read."""
    try:
        if not file.is_file():  # a pipe would keep everybody waiting
            return None
        with file.open("rb") as stream:
            raw = stream.read(LONGEST_FILE + 1)
    except OSError:
        return None
    if len(raw) > LONGEST_FILE:
        return None
    return raw.decode("utf-8", "replace").strip()


def word(file: Path) -> str:
    """A single word such as `power_brick`; empty if the file says nothing of the kind."""
    found = text(file) or ""
    return found if _WORD.fullmatch(found) else ""


def revision(file: Path) -> str:
    """A revision such as `3.0`; empty if it is not known, which drivers also write as `0.0`."""
    found = text(file) or ""
    return found if _REVISION.fullmatch(found) and found != "0.0" else ""


def _closed(place: Path, error: OSError) -> NotUnderstood:
    wrong = f"{shown(str(place))}: {error.strerror}"
    if error.errno in _NOT_THERE:
        right = "this host has no such tree, or no kernel that fills it"
        return NotUnderstood(wrong, right, code="no-tree")
    return NotUnderstood(wrong, "look as somebody who may read it", code="no-access")
