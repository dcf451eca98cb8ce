"""All papers as two pages of the web: one for the bench, one for the workings.

They are whole by themselves: no script, no picture, no letter comes from anywhere else, and the
page itself forbids it. What people wrote is text everywhere.
"""

from collections.abc import Iterable, Sequence
from importlib import resources

from sinkside.making.labels import Label
from sinkside.papers.html_parts import NOTHING, Html, el, items, joined, section, text
from sinkside.papers.issue import Issue
from sinkside.papers.tape_svg import tape_svg
from sinkside.papers.web_dossier import Data, dossier_html
from sinkside.papers.web_sheets import cards_html, sheet_html, workings_html

INDEX, WORKINGS = "index.html", "workings.html"
_POLICY = "default-src 'none'; style-src 'unsafe-inline'"


def index_html(
    dossier: Data, sheets: Sequence[Data], labels: Sequence[Label], cards: Data, issue: Issue
) -> bytes:
    """The dossier, the build sheets, the labels and the cards on one page."""
    found = list(dossier_html(dossier))
    anchors = [f"sheet-{k}" for k in range(1, len(sheets) + 1)]
    links = [
        el("a", sheet["device"], href=f"#{anchor}")
        for sheet, anchor in zip(sheets, anchors, strict=True)
    ]
    tapes = el("div", *(Html(tape_svg(label)) for label in labels), class_="tapes")
    body = (
        el("p", dossier["summary"]),
        el("div", items(dossier["cautions"]), class_="box"),
        el("nav", *links, el("a", "Workings", href=WORKINGS)),
        *found,
        *map(sheet_html, sheets, anchors),
        section("Labels for 9 mm tape", tapes if labels else NOTHING, anchor="labels"),
        section("Cards", *map(cards_html, cards["cards"]), anchor="cards"),
    )
    return _page(dossier["title"], body, issue)


def workings_page(workings: Data, issue: Issue) -> bytes:
    """The workings on a page of their own."""
    anchors = [f"device-{k}" for k in range(1, len(workings["devices"]) + 1)]
    links = [
        el("a", device["device"], href=f"#{anchor}")
        for device, anchor in zip(workings["devices"], anchors, strict=True)
    ]
    body = (
        el("p", workings["again"]),
        el("nav", *links, el("a", "Back to the papers", href=INDEX)),
        *map(workings_html, workings["devices"], anchors),
    )
    return _page(workings["title"], body, issue)


def _page(title: str, body: Iterable[str], issue: Issue) -> bytes:
    look = resources.files("sinkside.papers").joinpath("look.css").read_text(encoding="utf-8")
    head = issue.head(title)
    last = f"{head['certifies_not']} {head['others_first']}"
    whole = joined(
        (
            Html("<!doctype html>\n"),
            Html('<html lang="en"><head><meta charset="utf-8">'),
            Html(f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'),
            Html('<meta name="viewport" content="width=device-width, initial-scale=1">'),
            el("title", f"{issue.site}: {title}"),
            Html(f"<style>{look}</style></head><body>"),
            el("h1", issue.site),
            el("p", " · ".join(part for part in (title, issue.words) if part)),
            joined(body),
            Html(f"<footer>{text(last)}</footer></body></html>\n"),
        )
    )
    return whole.encode()
