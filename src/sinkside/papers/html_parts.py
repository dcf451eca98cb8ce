"""What pages of the web are put together from: elements whose text is always escaped.

Each block decides the direction of its text by its first letter (`dir="auto"`), so that a name
that runs from right to left turns nothing beside it.
"""

from collections.abc import Iterable, Mapping, Sequence
from html import escape

from sinkside.figures.labels import clean

_TURNS = frozenset(("p", "li", "td", "th", "h1", "h2", "h3", "dt", "dd", "bdi", "div", "a"))


class Html(str):
    """Markup; any other string is text."""

    __slots__ = ()


NOTHING = Html("")


def text(words: str) -> Html:
    """Text, escaped, without controls and without signs that turn what follows."""
    return Html(escape(clean(words), quote=True))


def el(tag: str, *children: str, **attributes: str) -> Html:
    """An element; what is not markup among its children is text.

    Parameters
    ----------
    attributes
        An underline at the end of a name, as in `class_`, is left out.
    """
    named = dict(attributes)
    if tag in _TURNS:
        named.setdefault("dir", "auto")
    written = "".join(f' {name.rstrip("_")}="{text(value)}"' for name, value in named.items())
    return Html(f"<{tag}{written}>{joined(children)}</{tag}>")


def joined(children: Iterable[str]) -> Html:
    """Markup and text one after the other."""
    return Html("".join(c if isinstance(c, Html) else text(c) for c in children))


def table(head: Sequence[str], rows: Iterable[Sequence[str]], *, kind: str = "") -> Html:
    """A table that scrolls by itself where the window is narrow; nothing without rows."""
    found = [el("tr", *(el("td", cell) for cell in row)) for row in rows]
    if not found:
        return NOTHING
    heads = el("thead", el("tr", *(el("th", cell, scope="col") for cell in head)))
    whole = el("table", heads, el("tbody", *found), **({"class_": kind} if kind else {}))
    return el("div", whole, class_="wide")


def items(lines: Iterable[str], *, ordered: bool = False) -> Html:
    """A list; nothing without lines."""
    found = [el("li", line) for line in lines]
    return el("ol" if ordered else "ul", *found) if found else NOTHING


def pairs(facts: Iterable[tuple[str, str]]) -> Html:
    """Labels with what stands beside them; nothing without any."""
    found = [Html(el("dt", label) + el("dd", words)) for label, words in facts]
    return el("dl", *found) if found else NOTHING


def section(title: str, *children: str, anchor: str) -> Html:
    """A section under its heading, which a link can lead to; nothing if it is empty."""
    body = joined(children)
    return el("section", el("h2", title), body, id=anchor) if body else NOTHING


def figure(drawn: Mapping[str, str], caption: str = "") -> Html:
    """A drawing as it is, with what it says for those who do not see it."""
    under = el("figcaption", caption) if caption else NOTHING
    return el("figure", Html(drawn["svg"]), under)
