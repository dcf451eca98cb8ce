"""The folder of papers: written whole, and never over what somebody else wrote or changed.

What was written is kept in a list beside the papers, with the SHA-256 of each file. A file that
is there already is written over only if it is as the list says; otherwise nothing is written at
all. A paper of an earlier plan that is no longer made is taken away on the same condition, so
that nobody builds from an old sheet.
"""

import hashlib
import json
import re
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sinkside import __version__
from sinkside.cli import files
from sinkside.cli.shapes import COUNT, TEXT, listed, object_of
from sinkside.faults import Fault, Faulty
from sinkside.papers.folder import Paper

LIST = "written.json"
_MARK = "sinkside papers"
# The shapes of names that papers have: a list that names anything else is not believed.
_NAME = re.compile(r"(?:(?:sheets|labels)/)?[a-z0-9][a-z0-9.-]*\.(?:pdf|svg|csv|md|html)")
_ASIDE = "move it away, or give another folder"

Digests = Mapping[str, Sequence[str]]


@dataclass(frozen=True, kw_only=True)
class Written:
    """What was done to a folder.

    Parameters
    ----------
    removed
        Papers of an earlier plan that are gone.
    left
        Papers of an earlier plan that somebody has changed: they stay.
    """

    folder: str
    papers: tuple[Paper, ...]
    removed: tuple[str, ...]
    left: tuple[str, ...]


def refuse_other(name: str) -> None:
    """Refuse a name that is taken by something else than a folder.

    Raises
    ------
    Faulty
        It is.
    """
    with suppress(OSError):  # writing will tell what is wrong with the place
        if Path(name).exists() and not Path(name).is_dir():
            wrong = f"{files.shown(name)} is there already and is no folder"
            right = "give another name: one that ends in .pdf gets the overview alone"
            raise Faulty([Fault(code="not-written", wrong=wrong, right=right)])


def write(name: str, made: Iterable[Paper]) -> Written:
    """Write papers into a folder, with the folders above it.

    Raises
    ------
    Faulty
        Something of the same name is there that was not written so; then nothing was changed.
        Or a file cannot be written.
    """
    folder = Path(name)
    papers = tuple(made)
    before = _listed(folder)
    _refuse_changed(folder, papers, before)
    now = {paper.name: [_digest(paper.content)] for paper in papers}
    old = {n: d for n, d in before.items() if n not in now and (folder / n).is_file()}
    changed = tuple(n for n in old if not _as_listed(folder / n, old[n]))
    # Should writing stop half-way, what was written and what was not are both known as ours.
    both = {n: [*before.get(n, ()), *now.get(n, ())] for n in {**before, **now}}
    _write_list(folder, both)
    for paper in papers:
        file = folder / paper.name
        if not (file.is_file() and _as_listed(file, now[paper.name])):
            files.write(str(file), paper.content)
    removed = tuple(n for n in old if n not in changed)
    for gone in removed:
        _remove(folder / gone)
    _write_list(folder, {**{n: old[n] for n in changed}, **now})
    return Written(folder=name, papers=papers, removed=removed, left=changed)


def _remove(file: Path) -> None:
    try:
        file.unlink(missing_ok=True)
    except OSError as error:
        wrong = f"{files.shown(str(file))}: {error.strerror or error}"
        raise Faulty([Fault(code="not-written", wrong=wrong)]) from None


def _listed(folder: Path) -> Digests:
    """What the list in a folder says; nothing where there is none."""
    raw = files.found(str(folder / LIST))
    if raw is None:
        return {}
    try:
        told = json.loads(raw)
        if told["made by"] != _MARK:
            raise ValueError(_MARK)
        return {
            name: [digest for digest in digests if isinstance(digest, str)]
            for name, digests in told["files"].items()
            if _NAME.fullmatch(name)
        }
    except (ValueError, TypeError, KeyError, AttributeError):
        wrong = f"{files.shown(str(folder / LIST))} is there already and is no list of papers"
        raise Faulty([Fault(code="not-written", wrong=wrong, right=_ASIDE)]) from None


def _refuse_changed(folder: Path, papers: Sequence[Paper], before: Digests) -> None:
    faults = []
    for paper in papers:
        file = folder / paper.name
        known = [*before.get(paper.name, ()), _digest(paper.content)]
        if not file.exists() or (file.is_file() and _as_listed(file, known)):
            continue
        how = "is not as it was written here" if file.is_file() else "is no file"
        wrong = f"{files.shown(str(file))} is there already and {how}"
        faults.append(Fault(code="not-written", wrong=wrong, right=_ASIDE))
    if faults:
        raise Faulty(faults)


def _as_listed(file: Path, digests: Sequence[str]) -> bool:
    there = files.found(str(file))
    return there is not None and _digest(there) in digests


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _write_list(folder: Path, digests: Digests) -> None:
    told = {"made by": _MARK, "files": {name: digests[name] for name in sorted(digests)}}
    files.write(str(folder / LIST), (json.dumps(told, indent=1) + "\n").encode())


def lines(written: Written) -> list[str]:
    """What was written, for people."""
    kinds: dict[str, list[Paper]] = {}
    for paper in written.papers:
        kinds.setdefault(paper.kind, []).append(paper)
    folder = files.shown(written.folder)
    told = [f"{folder}: {len(written.papers)} files, {_size(written.papers)}"]
    for kind, some in kinds.items():
        names = ", ".join(paper.name for paper in some)
        if len(some) > 3:
            names = f"{some[0].name} and {len(some) - 1} more"
        told.append(f"  {kind}: {names}, {_size(some)}")
    told += [f"  removed {name}: it is not in this plan" for name in written.removed]
    told += [
        f"  {name} is not in this plan, but was changed: left as it is" for name in written.left
    ]
    return told


def _size(papers: Iterable[Paper]) -> str:
    size = sum(len(paper.content) for paper in papers)
    return f"{size / 1000:.0f} kB" if size < 1_000_000 else f"{size / 1e6:.1f} MB"


def as_json(written: Written) -> dict[str, Any]:
    """The same for programs."""
    return {
        "sinkside": __version__,
        "folder": written.folder,
        "files": [_file(paper.name, paper.kind, paper.content) for paper in written.papers],
        "removed": list(written.removed),
        "left": list(written.left),
    }


def page_json(name: str, page: bytes) -> dict[str, Any]:
    """The overview alone, for programs."""
    file = Path(name)
    return {
        "sinkside": __version__,
        "folder": str(file.parent),
        "files": [_file(file.name, "overview", page)],
        "removed": [],
        "left": [],
    }


def _file(name: str, kind: str, content: bytes) -> dict[str, Any]:
    return {"file": name, "kind": kind, "bytes": len(content), "sha256": _digest(content)}


SCHEMA: dict[str, Any] = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "sinkside papers",
    **object_of(
        sinkside=TEXT,
        folder=TEXT,
        files=listed(
            object_of(
                file=TEXT,
                kind=TEXT,
                bytes=COUNT,
                sha256={"type": "string", "pattern": "^[0-9a-f]{64}$"},
            )
        ),
        removed=listed(TEXT),
        left=listed(TEXT),
    ),
}
"""The JSON Schema of what `as_json` gives."""
