"""Help, and what a call that cannot be understood is told."""

import subprocess
import sys
from pathlib import Path

import pytest
from tests.cli.calls import COMMANDS, Call, fault

import sinkside as package
from sinkside.cli.main import commands

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


def test_the_version(sinkside: Call) -> None:
    assert sinkside("--version").told == (0, f"sinkside, version {package.__version__}\n", "")


def test_a_call_without_a_command_shows_the_help_and_is_wrong(sinkside: Call) -> None:
    done = sinkside()
    assert (done.status, done.out) == (2, "")
    assert done.err.startswith("Usage: sinkside [OPTIONS] COMMAND [ARGS]...\n")


WRONG_CALLS = [
    (["plam"], "No such command 'plam'. (Did you mean one of: 'plan', 'plate'?)"),
    (["check"], "Missing argument 'SITE'."),
    (["plan"], "Missing argument 'SITE'."),
    (["papers", "x.yaml"], "Missing option '-o' / '--output'."),
    (["pdo"], "Missing argument 'WORDS...'."),
    (["plate"], "Missing argument 'TEXT'."),
    (["check", "a.yaml", "b.yaml"], "Got unexpected extra argument (b.yaml)"),
    (["plan", "--strikt", "x.yaml"], "No such option '--strikt'. Did you mean '--strict'?"),
    (["plate", "--out"], "No such option '--out'."),
    (
        ["pdo", "--side", "sinc", "0x0"],
        "Invalid value for '--side': 'sinc' is not one of 'source', 'sink', 'request'.",
    ),
    (
        ["pdo", "--revision", "4.0", "0x0"],
        "Invalid value for '--revision': '4.0' is not one of '2.0', '3.0', '3.1', '3.2'.",
    ),
    (["pdo", "--of"], "Option '--of' requires an argument."),
]


@pytest.mark.parametrize(("arguments", "wrong"), WRONG_CALLS)
def test_a_wrong_call_is_told_in_one_line(sinkside: Call, arguments: list[str], wrong: str) -> None:
    assert sinkside(*arguments).told == (2, "", f"{wrong}\n")


# `papers` has no --json, and an option that lacks its value would take it as one.
WITH_JSON = [case for case in WRONG_CALLS if case[0][0] != "papers" and case[0][-1] != "--of"]


@pytest.mark.parametrize(("arguments", "wrong"), WITH_JSON)
def test_a_wrong_call_with_json_is_one_document(
    sinkside: Call, arguments: list[str], wrong: str
) -> None:
    done = sinkside(*arguments, "--json")
    assert (done.status, done.err) == (2, "")
    assert done.document == {"faults": [fault("call", wrong)]}


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
