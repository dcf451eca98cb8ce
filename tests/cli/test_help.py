"""Help, and what a call that cannot be understood is told."""

import subprocess
import sys
from pathlib import Path

import pytest
from tests.cli.calls import COMMANDS, PROGRAM, Call, fault, subprocessed

import sinkside as package
from sinkside.cli.main import commands
from sinkside.faults import NotUnderstood

README = Path(__file__).parents[2] / "README.md"

# What `--help` may not wait for.
HEAVY = ("numpy", "pydantic", "yaml", "lark", "highspy", "typst")

ASK_FOR_HELP = """
import sys
from sinkside.cli.main import commands
for name in sys.argv[1:]:
    commands.main([*filter(None, [name]), "--help"], standalone_mode=False)
    print("loaded after", name, sorted(m for m in sys.modules if "." not in m), file=sys.stderr)
"""


def test_the_commands_are_the_ones_that_are_tested() -> None:
    assert tuple(sorted(commands.commands)) == COMMANDS


@pytest.mark.parametrize("name", COMMANDS)
def test_the_readme_names_every_command(name: str) -> None:
    assert f"sinkside {name}" in README.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", COMMANDS)
@pytest.mark.parametrize("option", ["-h", "--help"])
def test_every_command_explains_itself(sinkside: Call, name: str, option: str) -> None:
    done = sinkside(name, option)
    assert (done.status, done.err) == (0, "")
    assert done.out.startswith(f"Usage: sinkside {name}")
    helps = [getattr(p, "help", None) for p in commands.commands[name].params]
    said = " ".join(done.out.split())
    assert [text for text in helps if text and " ".join(text.split()) not in said] == []


def test_every_option_says_what_it_is_for() -> None:
    silent = [
        f"{name} {parameter.name}"
        for name, command in commands.commands.items()
        for parameter in command.params
        if parameter.param_type_name == "option" and not getattr(parameter, "help", None)
    ]
    assert silent == []


def test_help_waits_for_nothing_heavy() -> None:
    done = subprocess.run(
        [sys.executable, "-c", ASK_FOR_HELP, "", *COMMANDS],
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    loaded = done.stderr.splitlines()[-1]
    assert loaded.startswith("loaded after plate [")
    assert [module for module in HEAVY if f"'{module}'" in loaded] == []


@pytest.mark.parametrize(
    ("call", "waits_for"),
    [(["plate", "9V"], ["lark"]), (["pdo", "0x0001912C"], [])],
)
def test_what_reads_no_site_file_waits_for_nothing_that_does(
    call: list[str], waits_for: list[str]
) -> None:
    done = subprocess.run(
        [sys.executable, "-X", "importtime", str(PROGRAM), *call],
        capture_output=True,
        text=True,
        timeout=60,
        check=True,
    )
    loaded = {line.rsplit("|", 1)[-1].strip() for line in done.stderr.splitlines()}
    assert "sinkside.cli.main" in loaded
    assert [module for module in HEAVY if module in loaded] == waits_for


def test_the_help_cuts_nothing_short(sinkside: Call) -> None:
    listed = sinkside("--help").out.partition("Commands:\n")[2]
    assert "..." not in listed
    assert [name for name in COMMANDS if f"\n  {name} " not in f"\n{listed}"] == []


def test_the_version(sinkside: Call) -> None:
    assert sinkside("--version").told == (0, f"sinkside, version {package.__version__}\n", "")


def test_it_runs_as_a_module_as_well() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "sinkside", "plate", "9V⎓ 1A"], capture_output=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert done.stdout.decode() == "plate '9V⎓ 1A' reads: out 9 V d.c. 1 A\n"


def test_a_call_without_a_command_shows_the_help_and_is_wrong(sinkside: Call) -> None:
    done = sinkside()
    assert (done.status, done.out) == (2, "")
    assert done.err.startswith("Usage: sinkside [OPTIONS] COMMAND [ARGS]...\n")


ONCE = "give it once"
KNOWN = (
    "known are charger, check, demo, mixups, outage, papers, pdo, plan, plate, --help, --version"
)
WRONG_CALLS = [
    (["plam"], "No such command 'plam'", "did you mean 'plan'?"),
    (["PLATE"], "No such command 'PLATE'", "did you mean 'plate'?"),
    (["help"], "No such command 'help'", "did you mean '--help'?"),
    (["version"], "No such command 'version'", "did you mean '--version'?"),
    (["frobnicate"], "No such command 'frobnicate'", KNOWN),
    ([""], "No such command ''", KNOWN),
    (["site.yaml"], "No such command 'site.yaml'", "did you mean 'plan site.yaml'?"),
    (["--wersion"], "No such option '--wersion'", "did you mean '--version'?"),
    (["check"], "Missing argument 'SITE'", "sinkside check --help tells more"),
    (["plan"], "Missing argument 'SITE'", "sinkside plan --help tells more"),
    (
        ["papers", "x.yaml"],
        "Missing option '-o' / '--output'",
        "sinkside papers --help tells more",
    ),
    (["pdo"], "Missing argument 'WORDS...'", "sinkside pdo --help tells more"),
    (["plate"], "Missing argument 'TEXT...'", "sinkside plate --help tells more"),
    (
        ["check", "a.yaml", "b.yaml"],
        "Got unexpected extra argument (b.yaml)",
        "sinkside check --help tells more",
    ),
    (["plan", "--strikt", "x.yaml"], "No such option '--strikt'", "did you mean '--strict'?"),
    (["plate", "--out"], "No such option '--out'", "sinkside plate --help tells more"),
    (
        ["pdo", "--side", "sinc", "0x0"],
        "Invalid value for '--side': 'sinc' is not one of 'source', 'sink', 'request'",
        "",
    ),
    (
        ["pdo", "--revision", "4.0", "0x0"],
        "Invalid value for '--revision': '4.0' is not one of '2.0', '3.0', '3.1', '3.2'",
        "",
    ),
    (["pdo", "--side", "sink", "--side", "source", "0x0"], "Option '--side' is given twice", ONCE),
    (["charger", "--name", "a", "--name", "a"], "Option '--name' is given twice", ONCE),
    (
        ["papers", "x.yaml", "-o", "a.pdf", "--output", "b.pdf"],
        "Option '-o' / '--output' is given twice",
        ONCE,
    ),
    (["plan", ""], "Invalid value for 'SITE': the name is empty", ""),
    (["demo", "--to", ""], "Invalid value for '--to': the name is empty", ""),
    (["charger", "--root", ""], "Invalid value for '--root': the name is empty", ""),
    (["pdo", "--of"], "Option '--of' requires an argument", "sinkside pdo --help tells more"),
]
# The program without a command has no --json, and an option that lacks its value would take it
# as one.
WITH_JSON = [case for case in WRONG_CALLS if case[0][0] in COMMANDS and case[0][-1] != "--of"]


@pytest.mark.parametrize(("arguments", "wrong", "right"), WRONG_CALLS)
def test_a_wrong_call_is_told_in_one_line(
    sinkside: Call, arguments: list[str], wrong: str, right: str
) -> None:
    told = f"{wrong}; {right}\n" if right else f"{wrong}\n"
    assert sinkside(*arguments).told == (2, "", told)


@pytest.mark.parametrize(("arguments", "wrong", "right"), WITH_JSON)
def test_a_wrong_call_with_json_is_one_document(
    sinkside: Call, arguments: list[str], wrong: str, right: str
) -> None:
    done = sinkside(*arguments, "--json")
    assert (done.status, done.err) == (2, "")
    assert done.document == {"faults": [fault("call", wrong, right or None)]}


def test_an_unknown_command_with_json_is_one_document(sinkside: Call) -> None:
    done = sinkside("plam", "--json")
    assert (done.status, done.err) == (2, "")
    wrong, right = "No such command 'plam'", "did you mean 'plan'?"
    assert done.document == {"faults": [fault("call", wrong, right)]}


def test_a_flag_given_twice_says_the_same(sinkside: Call) -> None:
    once = sinkside("plate", "9V", "--json")
    assert sinkside("plate", "--json", "9V", "--json").told == once.told


def test_what_stands_behind_two_dashes_is_no_option(sinkside: Call) -> None:
    done = sinkside("pdo", "--", "--json")
    assert done.told == (2, "", "'--json' is no 32-bit word; write it like 0x0001912C\n")


def test_a_fault_of_the_program_is_told_as_its_own(
    sinkside: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(text: str) -> None:
        raise RuntimeError(f"no way to read {text}")

    monkeypatch.setattr("sinkside.plates.read", broken)
    wrong = "a fault of the program itself: RuntimeError: no way to read 9V"
    people = sinkside("plate", "9V")
    assert (people.status, people.out) == (70, "")
    assert people.err.endswith(f"\n{wrong}; please report it\n")
    machine = sinkside("plate", "9V", "--json")
    assert machine.status == 70
    assert machine.document == {"faults": [fault("ours", wrong, "please report it")]}


def test_a_document_that_json_cannot_hold_is_a_fault_of_the_program(
    sinkside: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sinkside.plates.PlateReading.as_json", lambda _: {"volts": float("nan")})
    done = sinkside("plate", "9V", "--json")
    wrong = "a fault of the program itself: ValueError: Out of range float values"
    assert done.status == 70
    [only] = done.document["faults"]
    assert only["wrong"].startswith(wrong)
    assert (only["code"], only["right"]) == ("ours", "please report it")


def test_nothing_is_written_of_what_ends_in_a_fault(
    sinkside: Call, monkeypatch: pytest.MonkeyPatch
) -> None:
    def half(*_: object) -> None:
        print("half of it")
        raise NotUnderstood("the other half is missing")

    monkeypatch.setattr("sinkside.cli.plate_text.lines", half)
    assert sinkside("plate", "9V").told == (2, "", "the other half is missing\n")


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_a_shell_that_completes_words_is_served(shell: str) -> None:
    done = subprocessed(env={"_SINKSIDE_COMPLETE": f"{shell}_source"})
    assert b"sinkside" in done.stdout
    asked = {"_SINKSIDE_COMPLETE": f"{shell}_complete", "COMP_WORDS": "sinkside pl"}
    done = subprocessed(env={**asked, "COMP_CWORD": "1" if shell != "fish" else "pl"})
    assert [name for name in (b"plan", b"plate") if name not in done.stdout] == []
