"""The commands. Everything heavy is imported by the command that needs it.

Exit status: 0 done, and no chosen path fails; 1 done, and something fails; 2 the input or the
call is wrong; 70 our own fault.
"""

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

import click

from sinkside import __version__
from sinkside.faults import Fault, Faulty, NotUnderstood

if TYPE_CHECKING:
    from sinkside.plan.model import Plan
    from sinkside.site.site import Site

DONE, FAILS, WRONG, OURS = 0, 1, 2, 70

AS_JSON = click.option("--json", "as_json", is_flag=True, help="One JSON document, nothing else.")
STRICT = click.option("--strict", is_flag=True, help="Exit 1 unless every device fits.")
SITE = click.argument("site", type=click.Path(path_type=Path, allow_dash=True))


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="sinkside")
def commands() -> None:
    """Plan how old low-voltage gear runs from shared USB Power Delivery chargers.

    The tool computes; it does not certify. Local codes and licensed practice come first.
    """


@commands.command()
@click.option(
    "--to",
    type=click.Path(path_type=Path, file_okay=False),
    default=None,
    help="Folder to write the demo site into.  [default: ./fernhollow]",
)
@AS_JSON
def demo(to: Path | None, as_json: bool) -> int:
    """Write the demo site into a folder and plan it."""
    from sinkside import demo as demo_site

    folder = to or Path(demo_site.FOLDER)
    file = folder / demo_site.FILE
    try:
        there = file.read_bytes() if file.is_file() else None
    except OSError:
        there = None  # writing will tell what is wrong with the place
    if there is not None and there != demo_site.text().encode():
        click.echo(f"{file} is there already and was changed: planning it as it is.", err=True)
    else:
        _write(file, demo_site.text().encode())
    _show_plan(file, None, as_json=as_json, why=False)
    if not as_json:
        click.echo(f"\nThe site file is {file}: change it, then run  sinkside plan {file}")
    return DONE


@commands.command()
@SITE
@AS_JSON
def check(site: Path, as_json: bool) -> int:
    """Read a site file, tell every fault, and show how each plate was read."""
    from sinkside.cli import check_text

    read = _read(site)
    if as_json:
        _print_json(check_text.as_json(read))
    else:
        click.echo("\n".join(check_text.lines(read)))
    return DONE


@commands.command()
@SITE
@click.argument("device", required=False)
@click.option("--why", is_flag=True, help="Unfold workings, and why each loser lost.")
@STRICT
@AS_JSON
def plan(site: Path, device: str | None, why: bool, strict: bool, as_json: bool) -> int:
    """Plan a site: for each device what to do, by which chain, on which port."""
    found = _show_plan(site, device, as_json=as_json, why=why)
    if strict and not all(d.verdict is not None and d.verdict == 0 for d in found.devices):
        return FAILS
    return FAILS if found.fails else DONE


@commands.command()
@click.argument("text")
@AS_JSON
def plate(text: str, as_json: bool) -> int:
    """Read a rating plate; - reads it from standard input."""
    from sinkside import plates
    from sinkside.cli import check_text

    read = _stdin() if text == "-" else text.encode("utf-8", "replace").decode("utf-8")
    if as_json:
        _print_json(plates.read(read).as_json())
    else:
        click.echo("\n".join(check_text.plate_lines("plate", read)))
    return DONE


@commands.command()
@click.argument("words", nargs=-1, required=True)
@click.option("--encode", is_flag=True, help="WORDS are printed offers, such as 9V⎓3A.")
@click.option(
    "--side",
    type=click.Choice(["source", "sink", "request"]),
    default="source",
    show_default=True,
    help="Who sends the words.",
)
@click.option("--of", "offers", help="The list of source words that a request asks of.")
@click.option(
    "--revision",
    type=click.Choice(["2.0", "3.0", "3.1", "3.2"]),
    default="3.2",
    show_default=True,
    help="Revision of USB Power Delivery.",
)
@AS_JSON
def pdo(
    words: tuple[str, ...],
    encode: bool,
    side: str,
    offers: str | None,
    revision: str,
    as_json: bool,
) -> int:
    """Take power data objects apart, or put them together."""
    from sinkside.cli import pdo_text

    if encode:
        document = pdo_text.encoded(words, revision)
    else:
        document = pdo_text.decoded(words, side, revision, offers)
    if as_json:
        _print_json(document)
    else:
        click.echo("\n".join(pdo_text.lines(document)))
    return DONE


@commands.command()
@click.option(
    "--root",
    type=click.Path(path_type=Path, file_okay=False),
    default=Path("/sys"),
    show_default=True,
    help="Folder that stands for /sys.",
)
@click.option("--name", default="charger", show_default=True, help="Its name on the shelf.")
@AS_JSON
def charger(root: Path, name: str, as_json: bool) -> int:
    """Write a shelf entry for each charger that this Linux host is plugged into."""
    from sinkside import hosts

    found = hosts.chargers(root)
    if as_json:
        _print_json({"sinkside": "charger", "chargers": [hosts.as_json(c) for c in found]})
    else:
        for i, one in enumerate(found):
            unit = f"{name}-{i + 1}" if len(found) > 1 else name
            click.echo(hosts.shelf_entry(unit, one), nl=False)
    return DONE


@commands.command()
@SITE
@click.option("-o", "--output", type=click.Path(path_type=Path), required=True, help="PDF file.")
@click.option("--revision", default="A", show_default=True, help="Revision to print.")
@click.option("--date", default="", help="Date to print; nothing without it.")
def papers(site: Path, output: Path, revision: str, date: str) -> int:
    """Print the plan of a site as a PDF page."""
    from sinkside.papers.page import page_pdf

    found = _plan(_read(site))
    _write(output, page_pdf(found, revision=revision, date=date))
    click.echo(f"wrote {output}")
    return DONE


def _stdin() -> str:
    try:
        return sys.stdin.buffer.read().decode("utf-8-sig")
    except UnicodeDecodeError as error:
        wrong = f"standard input: byte {error.start} is not UTF-8"
        raise Faulty([Fault(code="not-utf-8", wrong=wrong, right="save it as UTF-8")]) from None


def _read(site: Path) -> "Site":
    from sinkside.site.read import read

    name = "standard input" if str(site) == "-" else str(site)
    try:
        raw = sys.stdin.buffer.read() if str(site) == "-" else site.read_bytes()
    except OSError as error:
        wrong, right = (
            f"{name}: {error.strerror}",
            "give the path of a site file, such as my-site.yaml",
        )
        raise Faulty([Fault(code="no-file", wrong=wrong, right=right)]) from None
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        wrong = f"{name}: byte {error.start} is not UTF-8"
        raise Faulty([Fault(code="not-utf-8", wrong=wrong, right="save it as UTF-8")]) from None
    return read(text, name)


def _plan(site: "Site") -> "Plan":
    from sinkside.cli.progress import Patience
    from sinkside.plan import plan as plan_site

    with Patience() as patience:
        return plan_site(site, patience.say)


def _show_plan(file: Path, device: str | None, *, as_json: bool, why: bool) -> "Plan":
    site = _read(file)
    if device is not None and device not in [d.id for d in site.devices]:
        from sinkside.faults.written import nearest

        right = nearest(device, [d.id for d in site.devices])
        wrong = f"{device!r} is no device of {site.name}"
        raise Faulty([Fault(code="unknown-device", wrong=wrong, right=right)])
    found = _plan(site)
    if as_json:
        from sinkside.cli import plan_json

        _print_json(plan_json.as_json(found, device))
    else:
        from sinkside.cli import plan_text

        click.echo("\n".join(plan_text.lines(found, device, why=why)))
    return found


def _write(file: Path, content: bytes) -> None:
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(content)
    except OSError as error:
        raise Faulty([Fault(code="not-written", wrong=f"{file}: {error.strerror}")]) from None


def _print_json(document: Any) -> None:
    click.echo(json.dumps(document, ensure_ascii=False, indent=2, allow_nan=False))


def main() -> NoReturn:
    """Run the command line; every way out has its exit status."""
    sys.exit(_run(lambda: commands.main(standalone_mode=False)))


def _run(call: Callable[[], Any]) -> int:
    wants_json = "--json" in sys.argv
    try:
        code = call()
        return code if isinstance(code, int) else DONE
    except Faulty as error:
        return _tell(error.faults, wants_json)
    except NotUnderstood as error:
        return _tell((error.fault,), wants_json)
    except click.ClickException as error:
        return _tell((Fault(code="call", wrong=error.format_message()),), wants_json)
    except click.Abort:
        return WRONG
    except BrokenPipeError:
        sys.stderr.close()
        return DONE
    except Exception as error:  # the last line of defence: told as ours, with its kind
        import traceback

        traceback.print_exc()
        wrong = f"a fault of the program itself: {type(error).__name__}: {error}"
        _tell((Fault(code="ours", wrong=wrong, right="please report it"),), wants_json)
        return OURS


def _tell(faults: tuple[Fault, ...], wants_json: bool) -> int:
    if wants_json:
        _print_json({"faults": [_fault_json(fault) for fault in faults]})
    else:
        for fault in faults:
            click.echo(str(fault), err=True)
    return WRONG


def _fault_json(fault: Fault) -> dict[str, Any]:
    place = fault.place
    return {
        "code": fault.code,
        "file": place.file if place else None,
        "line": place.line if place else None,
        "column": place.column if place else None,
        "wrong": fault.wrong,
        "right": fault.right or None,
    }
