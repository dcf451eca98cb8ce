"""The command `papers`: what was asked for, and its answer: a folder, or the overview alone."""

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar, cast

from sinkside.cli import files
from sinkside.cli.answer import Answer
from sinkside.cli.progress import Patience
from sinkside.faults import NotUnderstood
from sinkside.papers.issue import SIZES_MM, Paper
from sinkside.papers.label_grid import LEAST_MM, USUAL, Grid
from sinkside.plan.model import Plan

T = TypeVar("T")

_PAGE = ".pdf"
_GRID = re.compile(r"(\d{1,3})\s*[x×]\s*(\d{1,3})")
_MARGINS = re.compile(r"(\d{1,3}(?:\.\d{1,3})?)\s*[x×]\s*(\d{1,3}(?:\.\d{1,3})?)")


@dataclass(frozen=True, kw_only=True)
class Asked:
    """What was asked for; `grid` is of the labels."""

    output: str
    revision: str
    date: str
    paper: Paper
    grid: Grid
    as_json: bool

    @property
    def page(self) -> bool:
        """Whether it is the overview alone."""
        return self.output == files.STANDARD or self.output.lower().endswith(_PAGE)


def asked(
    *,
    output: str,
    revision: str,
    date: str,
    paper: str,
    labels: str,
    margins: str,
    as_json: bool,
) -> Asked:
    """What was asked for.

    Raises
    ------
    NotUnderstood
        Labels that are no grid or too small, or what does not go together.
    """
    found = Asked(
        output=output,
        revision=revision,
        date=date,
        paper=cast("Paper", paper),
        grid=_grid(cast("Paper", paper), labels, margins),
        as_json=as_json,
    )
    if as_json and output == files.STANDARD:
        raise NotUnderstood("--json and a page cannot both be on standard output", "name a folder")
    if found.page and (labels or margins):
        raise NotUnderstood("the overview alone has no labels", "name a folder, such as papers")
    return found


def _grid(paper: Paper, labels: str, margins: str) -> Grid:
    usual = USUAL[paper]
    across, down = usual.columns, usual.rows
    top, side = (0.0, 0.0) if labels else (usual.top_mm, usual.side_mm)
    if labels:
        across, down = _two(_GRID, labels, "--labels", "across x down, such as 3x8", int)
    if margins:
        right = "mm above and below x left and right, such as 12.9x7.2"
        top, side = _two(_MARGINS, margins, "--label-margins", right, float)
    grid = Grid(columns=across, rows=down, top_mm=top, side_mm=side)
    if not (across and down):
        raise NotUnderstood(f"--labels {labels!r} leaves no label", "give 1x1 or more")
    wide, high = grid.label_mm(paper)
    if wide < LEAST_MM[0] or high < LEAST_MM[1]:
        width, height = SIZES_MM[paper]
        raise NotUnderstood(
            f"a label of {wide:.4g} mm × {high:.4g} mm is too small to be read",
            f"{LEAST_MM[0]:g} mm × {LEAST_MM[1]:g} mm or more, of {width:g} mm × {height:g} mm",
        )
    return grid


def _two(
    pattern: re.Pattern[str], given: str, option: str, right: str, number: Callable[[str], T]
) -> tuple[T, T]:
    found = pattern.fullmatch(given.strip())
    if found is None:
        raise NotUnderstood(f"{option} {given!r} is no such thing", right)
    return number(found[1]), number(found[2])


def refuse_other(found: Asked, beside: str) -> None:
    """Refuse a place where something else is, before anything is planned.

    Parameters
    ----------
    beside
        The site file.

    Raises
    ------
    Faulty
        Something else is there.
    """
    from sinkside.cli import paper_folder

    if found.output == files.STANDARD:
        return
    if found.page:
        files.refuse_other(found.output, beside=beside)
    else:
        paper_folder.refuse_other(found.output)


def answer(found: Asked, plan: Plan) -> Answer:
    """The papers of a plan, written where they were asked for."""
    return _page(found, plan) if found.page else _folder(found, plan)


def _page(found: Asked, plan: Plan) -> Answer:
    from sinkside.papers.page import page_pdf

    page = page_pdf(plan, revision=found.revision, date=found.date, paper=found.paper)
    if found.output == files.STANDARD:
        return Answer(file=page)
    files.write(found.output, page)
    if not found.as_json:
        return Answer(lines=[f"wrote {files.shown(found.output)}"])
    from sinkside.cli import paper_folder

    return Answer(document=paper_folder.page_json(found.output, page))


def _folder(found: Asked, plan: Plan) -> Answer:
    from sinkside.cli import paper_folder
    from sinkside.papers.folder import papers
    from sinkside.papers.issue import Issue

    issue = Issue(site=plan.site.name, revision=found.revision, date=found.date, paper=found.paper)
    with Patience() as patience:
        written = paper_folder.write(found.output, papers(plan, issue, found.grid, patience.say))
    if found.as_json:
        return Answer(document=paper_folder.as_json(written))
    return Answer(lines=paper_folder.lines(written))
