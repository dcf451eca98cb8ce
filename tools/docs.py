"""Write the generated pages and schemas, or check that they are fresh.

python tools/docs.py            writes them
python tools/docs.py --check    exit 1 if a page is not what would be written
"""

import json
import sys
from collections.abc import Callable
from pathlib import Path

import site_file

from sinkside.cli import paper_folder
from sinkside.cli.mixups_json import SCHEMA as MIXUPS_SCHEMA
from sinkside.cli.outage_schema import OUTAGE_SCHEMA
from sinkside.cli.plan_schema import PLAN_SCHEMA
from sinkside.parts import market
from sinkside.rules.not_judged import NOT_JUDGED
from sinkside.rules.symbols import SYMBOLS, Good
from sinkside.rules.table import RULES
from sinkside.site.schema import schema
from sinkside.working import names

ROOT = Path(__file__).parent.parent
HEAD = "<!-- Written by tools/docs.py; change the code and run it again. -->\n\n"


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
    lines += ["# Not judged by a rule of its own", "", "| job | why, and where it is met |"]
    lines += ["| --- | --- |"]
    lines += [f"| {row} | {why} |" for row, why in NOT_JUDGED.items()]
    return "\n".join([*lines, ""])


def market_page() -> str:
    """The market that comes with the program as Markdown."""
    lines = [
        "# Market",
        "",
        "Generic parts that come with the program. Prices are round guesses (assumed); an entry",
        "of a site file under the same name replaces one here.",
        "",
        "| name | what | carries | stands | price |",
        "| --- | --- | --- | --- | --- |",
    ]
    for part in market.parts():
        setting = f", {part.setting}" if part.setting else ""
        price = "unknown" if part.price_cents is None else f"{part.price_cents / 100:.2f}"
        lines.append(
            f"| `{part.id}` | {part.words}{setting} | {part.carries_a:g} A "
            f"| {part.withstands_v:g} V | {price} |"
        )
    return "\n".join([*lines, ""])


def site_schema() -> str:
    """The JSON Schema of the site file."""
    return json.dumps(schema(), ensure_ascii=False, indent=1) + "\n"


def mixups_schema() -> str:
    """The schema of `mixups --json`."""
    return json.dumps(MIXUPS_SCHEMA, ensure_ascii=False, indent=1) + "\n"


def papers_schema() -> str:
    """The schema of `papers --json`."""
    return json.dumps(paper_folder.SCHEMA, ensure_ascii=False, indent=1) + "\n"


def plan_schema() -> str:
    """The JSON Schema of what `plan --json` prints."""
    return json.dumps(PLAN_SCHEMA, ensure_ascii=False, indent=1) + "\n"


def outage_schema() -> str:
    """The JSON Schema of what `outage --json` prints."""
    return json.dumps(OUTAGE_SCHEMA, ensure_ascii=False, indent=1) + "\n"


WRITERS: dict[str, Callable[[], str]] = {
    "docs/reference/rules.md": lambda: HEAD + rules_page(),
    "docs/reference/market.md": lambda: HEAD + market_page(),
    "docs/reference/site-file.md": lambda: HEAD + site_file.page(),
    "src/sinkside/site/site.schema.json": site_schema,
    "src/sinkside/cli/mixups.schema.json": mixups_schema,
    "src/sinkside/cli/papers.schema.json": papers_schema,
    "src/sinkside/cli/plan.schema.json": plan_schema,
    "src/sinkside/cli/outage.schema.json": outage_schema,
}


def main() -> int:
    """Write or check every generated page."""
    stale = []
    for name, write in WRITERS.items():
        page, text = ROOT / name, write()
        if "--check" not in sys.argv:
            page.parent.mkdir(parents=True, exist_ok=True)
            page.write_text(text, encoding="utf-8")
        elif not page.exists() or page.read_text(encoding="utf-8") != text:
            stale.append(name)
    for name in stale:
        print(f"{name} is stale: run python tools/docs.py")
    return 1 if stale else 0


if __name__ == "__main__":
    sys.exit(main())
