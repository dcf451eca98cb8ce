"""All papers of a plan, one after the other, each as the file that it becomes."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from sinkside.figures.parts_list import parts_csv, parts_markdown
from sinkside.making.cards import revert_cards, user_cards
from sinkside.making.labels import Label, all_labels
from sinkside.making.sheet import build_sheets
from sinkside.making.workings import appendices
from sinkside.papers import typeset
from sinkside.papers.apart import kept
from sinkside.papers.cards import cards_data
from sinkside.papers.dossier import dossier
from sinkside.papers.drawn import drawable, on_paper
from sinkside.papers.issue import Issue
from sinkside.papers.label_grid import Grid, labels_data
from sinkside.papers.names import file_names
from sinkside.papers.sheets import sheet_data
from sinkside.papers.tape_svg import tape_svg
from sinkside.papers.web import INDEX, WORKINGS, index_html, workings_page
from sinkside.papers.workings import workings_data
from sinkside.plan.model import Plan
from sinkside.plan.parts_list import parts_list

Kind: TypeAlias = Literal[
    "dossier", "build sheet", "labels", "label", "cards", "workings", "parts list", "web page"
]
Say: TypeAlias = Callable[[str], None]

# A name that is longer than this may be longer than what a page keeps together.
_LONG = 160


@dataclass(frozen=True, kw_only=True)
class Paper:
    """One file: its name in the folder, with / between folders, and what is in it."""

    name: str
    kind: Kind
    content: bytes


def papers(plan: Plan, issue: Issue, grid: Grid, say: Say = lambda _: None) -> Iterator[Paper]:
    """Every paper of a plan.

    Parameters
    ----------
    issue
        What all of them have in common.
    grid
        Of the sheets of labels.
    say
        Is told what is being made.

    Notes
    -----
    The same arguments give the same names and bytes in the same order.
    """
    issue = replace(issue, flows=any(len(d.id) > _LONG for d in plan.devices))
    names = file_names([device.id for device in plan.devices])
    say("keeping plugs and grounds apart")
    apart = kept(plan)
    say("dossier")
    told = dossier(plan, apart, issue)
    data = told if drawable(told) else dossier(plan, apart, issue, spell=on_paper)
    yield Paper(name="dossier.pdf", kind="dossier", content=typeset.pdf("dossier", data))
    sheets = build_sheets(plan)
    told_sheets = []
    for place, sheet in enumerate(sheets, 1):
        say(f"build sheet {place} of {len(sheets)}")
        of_sheet = sheet_data(plan, sheet, issue)
        told_sheets.append(of_sheet)
        if not drawable(of_sheet):
            of_sheet = sheet_data(plan, sheet, issue, spell=on_paper)
        name = f"sheets/{names[sheet.device]}.pdf"
        yield Paper(name=name, kind="build sheet", content=typeset.pdf("sheet", of_sheet))
    labels = all_labels(plan)
    yield from _labels(labels, issue, grid, names, say)
    say("cards")
    cards = cards_data(user_cards(plan), revert_cards(plan), issue)
    yield Paper(name="cards.pdf", kind="cards", content=typeset.pdf("cards", cards))
    say("workings")
    worked = workings_data(appendices(plan), issue)
    yield Paper(name="workings.pdf", kind="workings", content=typeset.pdf("workings", worked))
    say("web pages")
    index = index_html(told, told_sheets, labels, cards, issue)
    yield Paper(name=INDEX, kind="web page", content=index)
    yield Paper(name=WORKINGS, kind="web page", content=workings_page(worked, issue))
    parts = parts_list(plan)
    yield Paper(name="parts.csv", kind="parts list", content=parts_csv(parts).encode())
    yield Paper(name="parts.md", kind="parts list", content=parts_markdown(parts).encode())


def _labels(
    labels: tuple[Label, ...], issue: Issue, grid: Grid, names: dict[str, str], say: Say
) -> Iterator[Paper]:
    say("labels")
    content = typeset.pdf("labels", labels_data(labels, grid, issue))
    yield Paper(name="labels.pdf", kind="labels", content=content)
    for label in labels:
        name = f"labels/{names[label.device]}.{label.on.replace(' ', '-')}.svg"
        yield Paper(name=name, kind="label", content=tape_svg(label).encode())
