"""What every paper of one issue shares: site, revision, date, and the sheet it is printed on."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from sinkside.figures.look import ACCENT, INK
from sinkside.making.words import CERTIFIES_NOT, OTHERS_FIRST

Json: TypeAlias = "bool | int | float | str | Sequence[Json] | Mapping[str, Json] | None"
Paper: TypeAlias = Literal["a4", "letter"]

# Width and height in mm: ISO 216 (A4); ANSI Y14.1 size A (US Letter), 8.5 × 11 inches.
SIZES_MM: Mapping[Paper, tuple[float, float]] = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}


@dataclass(frozen=True, kw_only=True)
class Issue:
    """One issue of the papers of a site.

    Parameters
    ----------
    site
        Its name.
    revision, date
        As they are to be printed; what is empty is left out.
    paper
        What it is printed on.
    flows
        Whether a name is so long that what holds it may have to go over more than one page.
    """

    site: str
    flows: bool = False
    revision: str = ""
    date: str = ""
    paper: Paper = "a4"

    @property
    def words(self) -> str:
        """Revision and date in one line."""
        revision = f"revision {self.revision}" if self.revision else ""
        return " · ".join(part for part in (revision, self.date) if part)

    def head(self, title: str) -> dict[str, Json]:
        """What a template needs before it knows what it is about."""
        return {
            "site": self.site,
            "title": title,
            "issue": self.words,
            "paper": "us-letter" if self.paper == "letter" else "a4",
            "flows": self.flows,
            "ink": INK,
            "accent": ACCENT,
            "certifies_not": CERTIFIES_NOT,
            "others_first": OTHERS_FIRST,
        }
