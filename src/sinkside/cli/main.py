"""The commands. Everything heavy is imported by the command that needs it.

Exit status: 0 done, and no chosen path fails; 1 done, and something fails; 2 the input or the
call is wrong; 70 our own fault.
"""

import sys
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from sinkside import __version__
from sinkside.cli import calls, ending, files, streams
from sinkside.cli.answer import DONE, FAILS, Answer
from sinkside.faults import Fault, Faulty, NotUnderstood

if TYPE_CHECKING:
    from sinkside.plan.model import Plan
    from sinkside.site.site import Site

AS_JSON = click.option("--json", "as_json", is_flag=True, help="One JSON document, nothing else.")
STRICT = click.option("--strict", is_flag=True, help="Exit 1 unless every device fits.")
SITE = click.argument("site", type=calls.Name(readable=False))
FOLDER = calls.Name(file_okay=False, readable=False)

EVENTS = (
    "attach",
    "detach",
    "replug",
    "hard reset",
    "PPS time-out",
    "over-current",
    "mains cut",
)

EPILOG = """\b
Exit status: 0  done, and no chosen path fails
             1  done, and something fails
             2  the file or the call is wrong
             70 a fault of the program"""


@click.group(
    cls=calls.Commands,
    epilog=EPILOG,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, prog_name="sinkside")
def commands() -> None:
    """Plan how old low-voltage gear runs from shared USB Power Delivery chargers.

    The tool computes; it does not certify. Local codes and licensed practice come first.
    """


@commands.command()
@click.option(
    "--to",
    type=FOLDER,
    default=None,
    help="Folder to write the demo site into.  [default: ./fernhollow]",
)
@AS_JSON
def demo(to: str | None, as_json: bool) -> Answer:
    """Write the demo site into a folder and plan it."""
    from sinkside import demo as demo_site

    file = str(Path(to or demo_site.FOLDER) / demo_site.FILE)
    there = files.found(file)
    if there is None:
        files.write(file, demo_site.text().encode())
    elif there != demo_site.text().encode():
        name = files.shown(file)
        streams.put_err(f"{name} is there already and was changed: planning it as it is.\n")
    found = _planned(_read(file))
    if as_json:
        from sinkside.cli import plan_json

        return Answer(document=plan_json.as_json(found))
    import shlex

    command = f"sinkside plan {shlex.quote(file)}"
    told = f"The site file is {files.shown(file)}: change it, then run  {command}"
    return Answer(lines=[*_plan_lines(found, None, why=False), "", told])


@commands.command()
@SITE
@AS_JSON
def check(site: str, as_json: bool) -> Answer:
    """Tell every fault of a site file, and how each plate was read.

    SITE is a site file; - reads one from standard input.
    """
    from sinkside.cli import check_text

    read = _read(site)
    if as_json:
        return Answer(document=check_text.as_json(read))
    return Answer(lines=check_text.lines(read))


@commands.command()
@SITE
@click.argument("device", required=False)
@click.option("--why", is_flag=True, help="Unfold workings, and why each loser lost.")
@click.option(
    "--wish",
    "phrases",
    type=calls.text,
    multiple=True,
    help="What stands in the way of it, and what cures that: 'radio off its brick', 'radio on "
    "tower', 'radio never blinks', 'within 30 EUR', 'any spare port'.",
)
@STRICT
@AS_JSON
def plan(
    site: str,
    device: str | None,
    why: bool,
    phrases: tuple[str, ...],
    strict: bool,
    as_json: bool,
) -> Answer:
    """Plan a site: what to do, by which chain, on which port.

    SITE is a site file; - reads one from standard input. DEVICE is the name of one device in it,
    to be shown alone.
    """
    from sinkside.cli import wishes

    read = _read(site)
    _refuse_unknown(device, read)
    found = _planned(read)
    answers = wishes.answers(found, phrases)
    fits = all(d.verdict is not None and d.verdict == 0 for d in found.devices)
    status = FAILS if found.fails or (strict and not fits) else DONE
    if as_json:
        from sinkside.cli import plan_json

        return Answer(status=status, document=plan_json.as_json(found, device, answers))
    told = [line for answer in answers for line in (*wishes.lines(answer), "")]
    return Answer(status=status, lines=[*_plan_lines(found, device, why=why), *told])


@commands.command()
@click.argument("text", nargs=-1, required=True, type=calls.text)
@AS_JSON
def plate(text: tuple[str, ...], as_json: bool) -> Answer:
    """Read a rating plate.

    TEXT is what is printed on it, in one piece or as several words; - reads it from standard
    input.
    """
    from sinkside import plates
    from sinkside.cli import plate_text

    printed = files.read(files.STANDARD) if text == (files.STANDARD,) else " ".join(text)
    if as_json:
        return Answer(document=plates.read(printed).as_json())
    return Answer(lines=plate_text.lines("plate", printed))


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
) -> Answer:
    """Take power data objects apart, or put them together.

    WORDS are 32-bit words in hexadecimal, such as 0x0001912C 0x0002D12C.
    """
    from sinkside.cli import pdo_text

    if encode and side != "source":
        raise NotUnderstood("--encode makes the words of a source", "leave --side out")
    if offers is not None and (encode or side != "request"):
        raise NotUnderstood("--of is for a request alone", "add --side request, or leave it out")
    if encode:
        document = pdo_text.encoded(words, revision)
    else:
        document = pdo_text.decoded(words, side, revision, offers)
    return Answer(document=document) if as_json else Answer(lines=pdo_text.lines(document))


@commands.command()
@click.option(
    "--root", type=FOLDER, default="/sys", show_default=True, help="Folder that stands for /sys."
)
@click.option(
    "--name", type=calls.text, default="charger", show_default=True, help="Its name on the shelf."
)
@AS_JSON
def charger(root: str, name: str, as_json: bool) -> Answer:
    """Write a shelf entry for each charger of this Linux host."""
    from sinkside import hosts

    found = hosts.chargers(Path(root))
    if as_json:
        return Answer(
            document={"sinkside": "charger", "chargers": [hosts.as_json(c) for c in found]}
        )
    names = [f"{name}-{i + 1}" for i in range(len(found))] if len(found) > 1 else [name]
    entries = "".join(map(hosts.shelf_entry, names, found))
    return Answer(lines=entries.splitlines(), file=entries.encode())


@commands.command()
@SITE
@click.option(
    "--event",
    type=click.Choice(EVENTS),
    default="attach",
    show_default=True,
    help="What happens.",
)
@click.option(
    "--charger", type=calls.text, default="", help="On which kind of charger; else on all."
)
@click.option("--unit", type=click.IntRange(1), default=None, help="On which one of that kind.")
@click.option(
    "--port", type=calls.text, default="", help="At which port; else where it can happen."
)
@click.option("--lasts", type=calls.text, default="", help="Of a mains cut: how long, such as 2 s.")
@click.option("--to", type=FOLDER, default=None, help="Write waveforms there, as SVG and CSV.")
@AS_JSON
def outage(
    site: str,
    event: str,
    charger: str,
    unit: int | None,
    port: str,
    lasts: str,
    to: str | None,
    as_json: bool,
) -> Answer:
    """Tell who blinks when something happens to a charger.

    SITE is a site file; - reads one from standard input. It is planned first; then the event is
    followed in time through every path on that charger.
    """
    from sinkside import quantity
    from sinkside.cli import outage_text

    if lasts and event != "mains cut":
        raise NotUnderstood("--lasts is for a mains cut alone", "leave it out")
    found = _planned(_read(site))
    length = quantity.read(f"{lasts} (assumed)", "s", at_least=0.0) if lasts else None
    asked = outage_text.Asked(kind=event, charger=charger, unit=unit, port=port, lasts_s=length)
    told = outage_text.told(found, asked)
    status = FAILS if outage_text.fails(told) else DONE
    wrote = []
    if to is not None:
        for name, content in outage_text.waveforms(found, told):
            files.write(str(Path(to) / name), content)
            wrote.append(f"wrote {files.shown(str(Path(to) / name))}")
    if as_json:
        return Answer(status=status, document=outage_text.as_json(found, told))
    return Answer(status=status, lines=[*outage_text.lines(found, told), *wrote])


@commands.command()
@SITE
@click.option("--to", type=FOLDER, default=None, help="Write the matrix there, as SVG.")
@AS_JSON
def mixups(site: str, to: str | None, as_json: bool) -> Answer:
    """Tell which plug harms what, and what conducts between devices.

    SITE is a site file; - reads one from standard input. It is planned first: its leads are those
    that the plan chooses, beside the old bricks.
    """
    from sinkside.cli import mixups_json, mixups_text, progress
    from sinkside.plan import kept_apart
    from sinkside.plan import plan as plan_site

    read = _read(site)
    with progress.Patience() as patience:
        found = plan_site(read, patience.say)
        patience.say("keeping plugs apart")
        told = kept_apart.kept_apart(found)
    status = FAILS if told.fails else DONE
    wrote = []
    if to is not None:
        file = str(Path(to) / mixups_text.PICTURE)
        files.write(file, mixups_text.picture(told))
        wrote.append(f"wrote {files.shown(file)}")
    if as_json:
        return Answer(status=status, document=mixups_json.as_json(told))
    return Answer(status=status, lines=[*mixups_text.lines(told), *wrote])


@commands.command()
@SITE
@click.option(
    "-o",
    "--output",
    type=calls.Name(readable=False, allow_dash=True),
    required=True,
    help="Folder for all papers. A name that ends in .pdf gets the overview alone; - is standard "
    "output and gets it too.",
)
@click.option(
    "--revision", type=calls.text, default="A", show_default=True, help="Revision to print."
)
@click.option("--date", type=calls.text, default="", help="Date to print; nothing without it.")
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"]),
    default="a4",
    show_default=True,
    help="What it is printed on.",
)
@click.option(
    "--labels",
    type=calls.text,
    default="",
    help="Labels on a sheet, across x down.  [default: 3x8, on letter 3x10]",
)
@click.option(
    "--label-margins",
    type=calls.text,
    default="",
    help="What is left free around them in mm, above and below x left and right.  "
    "[default: 0.5x0, on letter 12.7x7.9; with --labels 0x0]",
)
@AS_JSON
def papers(
    site: str,
    output: str,
    revision: str,
    date: str,
    paper: str,
    labels: str,
    label_margins: str,
    as_json: bool,
) -> Answer:
    """Print the plan of a site as papers to work from.

    SITE is a site file; - reads one from standard input. A dossier, build sheets, labels, cards,
    workings and the parts list are written, and all of it as web pages too.
    Nothing in the folder is written over that was not written so.
    """
    from sinkside.cli import paper_calls

    asked = paper_calls.asked(
        output=output,
        revision=revision,
        date=date,
        paper=paper,
        labels=labels,
        margins=label_margins,
        as_json=as_json,
    )
    paper_calls.refuse_other(asked, beside=site)
    return paper_calls.answer(asked, _planned(_read(site)))


def _read(site: str) -> "Site":
    from sinkside.site.read import read

    return read(files.read(site), files.shown(site))


def _refuse_unknown(device: str | None, site: "Site") -> None:
    known = [d.id for d in site.devices]
    if device is not None and device not in known:
        from sinkside.cli import near

        wrong = f"{device!r} is no device of {site.name}"
        right = near.suggestion(device, known)
        raise Faulty([Fault(code="unknown-device", wrong=wrong, right=right)])


def _planned(site: "Site") -> "Plan":
    from sinkside.cli.progress import Patience
    from sinkside.plan import plan as plan_site

    with Patience() as patience:
        return plan_site(site, patience.say)


def _plan_lines(found: "Plan", device: str | None, *, why: bool) -> list[str]:
    from sinkside.cli import plan_text

    return plan_text.lines(found, device, why=why)


def main() -> NoReturn:
    """Run the command line; every way out has its exit status."""
    ending.without_traceback()
    streams.keep_descriptors()
    call = partial(commands.main, prog_name="sinkside", standalone_mode=False)
    sys.exit(ending.run(call, sys.argv[1:]))
