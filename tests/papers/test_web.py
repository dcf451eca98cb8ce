"""The pages of the web, read by a parser: whole by themselves, and nothing but text from names."""

import re
from html.parser import HTMLParser

import pytest

from sinkside.figures.labels import clean
from sinkside.making.cards import user_cards
from sinkside.making.sheet import build_sheets
from sinkside.papers.html_parts import Html, el, items, table, text
from sinkside.plan import Plan

# HTML: elements that have no end tag.
VOID = {"meta"}
ALLOWED = {
    *("html", "head", "meta", "title", "style", "body", "h1", "h2", "h3", "p", "div", "nav"),
    *("section", "ul", "ol", "li", "table", "thead", "tbody", "tr", "th", "td", "dl", "dt"),
    *("dd", "strong", "em", "code", "span", "a", "figure", "figcaption", "footer"),
    *("svg", "desc", "rect", "path", "line", "circle", "text", "g", "polygon", "polyline"),
    *("tspan", "ellipse"),
}
PAGES = pytest.mark.parametrize("page", ["index.html", "workings.html"])


class Read(HTMLParser):
    """Everything of a page that could do something, and its text."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: set[str] = set()
        self.names: set[str] = set()
        self.ids: list[str] = []
        self.links: list[str] = []
        self.without_direction: set[str] = set()
        self.said: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.tags.add(tag)
        self.names |= found.keys()
        if "id" in found:
            self.ids.append(found["id"] or "")
        if "href" in found:
            self.links.append(found["href"] or "")
        if tag in ("td", "th", "li", "p", "h1", "h2", "h3", "dd") and found.get("dir") != "auto":
            self.without_direction.add(tag)
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.said.append(data)


@PAGES
@pytest.mark.parametrize("which", ["demo_papers", "hostile_papers"])
def test_a_page_is_whole_and_does_nothing(
    which: str, page: str, request: pytest.FixtureRequest
) -> None:
    raw = request.getfixturevalue(which)[page].decode()
    read = Read(raw)
    assert read.open == []
    assert read.tags <= ALLOWED
    assert not any(
        name.startswith("on") or name in ("src", "style", "srcset") for name in read.names
    )
    assert len(read.ids) == len(set(read.ids))
    for link in read.links:
        assert link in ("index.html", "workings.html") or link.removeprefix("#") in read.ids
    assert read.without_direction == set()
    assert "default-src 'none'" in raw
    assert "@import" not in raw
    assert "url(" not in raw


def test_every_hostile_name_is_text(hostile_plan: Plan, hostile_papers: dict[str, bytes]) -> None:
    said = "\n".join(Read(hostile_papers["index.html"].decode()).said)
    for device in hostile_plan.devices:
        assert clean(device.id) in said
    assert "\u202e" not in said


def test_every_reading_and_every_card_is_on_the_page(
    demo_plan: Plan, demo_papers: dict[str, bytes]
) -> None:
    said = "".join(Read(demo_papers["index.html"].decode()).said)
    for sheet in build_sheets(demo_plan):
        for probe in sheet.probes:
            assert re.sub(r"(?<!\w)-(?=\d)", "\N{MINUS SIGN}", probe.expected.words) in said
    for card in user_cards(demo_plan):
        for line in (*card.plug_in, *card.never, *card.trouble):
            assert line in said


def test_text_is_escaped_and_markup_is_not() -> None:
    assert text('<b> & "q"') == "&lt;b&gt; &amp; &quot;q&quot;"
    assert el("em", "<i>", el("code", "x")) == "<em>&lt;i&gt;<code>x</code></em>"
    assert el("p", "x", id='"><script>') == '<p id="&quot;&gt;&lt;script&gt;" dir="auto">x</p>'
    assert items([]) == "" == table(("a",), [])
    assert isinstance(items(["a"]), Html)
