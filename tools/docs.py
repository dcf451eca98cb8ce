"""Write the generated pages of docs/reference, or check that they are fresh.

python tools/docs.py            writes them
python tools/docs.py --check    exit 1 if a page is not what would be written
"""

import sys
from collections.abc import Callable
from pathlib import Path

from sinkside.rules.symbols import SYMBOLS, Good
from sinkside.rules.table import RULES
from sinkside.working import names

HEAD = "<!-- Written by tools/docs.py; change the code and run it again. -->\n\n"
PAGES = Path(__file__).parent.parent / "docs" / "reference"


def rules_page() -> str:
    """The rule table as Markdown."""
    lines = [
        "# Rules",
        "",
        "A rule holds where its margin is not negative. `harm` is damage or danger, `loss` costs",
        "data or work, `misbehaves` means that it does not run as it should; a `nuisance` never",
        "moves a verdict. `job` is the row of the trade's list of what goes wrong.",
        "",
    ]
    for rule in RULES:
        lines += [
            f"## {rule.id}",
            "",
            f"{rule.title.capitalize().rstrip('.')}. Stakes: {rule.stakes.value}; "
            f"judged: {rule.judged}; job {', '.join(rule.job)}.",
            "",
            f"If it does not hold: {rule.breaks.rstrip('.')}.",
            "",
        ]
        if rule.formula:
            lines += [f"    margin = {rule.formula}    [{rule.unit}]", ""]
            lines += ["| symbol | meaning | unit | good end |", "| --- | --- | --- | --- |"]
            for name in names(rule.formula):
                kind = SYMBOLS[name]
                good = "high" if kind.good is Good.HIGH else "low"
                lines.append(f"| `{name}` | {kind.meaning} | {kind.unit} | {good} |")
            lines.append("")
        lines += [f"Source: {rule.source}.", ""]
    return "\n".join(lines)


WRITERS: dict[str, Callable[[], str]] = {"rules.md": rules_page}


def main() -> int:
    """Write or check every generated page."""
    stale = []
    for name, write in WRITERS.items():
        page, text = PAGES / name, HEAD + write()
        if "--check" not in sys.argv:
            PAGES.mkdir(parents=True, exist_ok=True)
            page.write_text(text, encoding="utf-8")
        elif not page.exists() or page.read_text(encoding="utf-8") != text:
            stale.append(str(page.relative_to(PAGES.parent.parent)))
    for page_name in stale:
        print(f"{page_name} is stale: run python tools/docs.py")
    return 1 if stale else 0


if __name__ == "__main__":
    sys.exit(main())
