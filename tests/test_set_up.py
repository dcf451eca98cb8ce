"""`tools/bootstrap.sh` on machines that lack one thing or another.

Each machine is a folder of programs, and nothing else is on the search path: a few of the system's
own, and stand-ins that write down how they were called. Nothing is installed and nothing fetched.
What is right to call is apt's and pip's documented use (apt-get(8), pip's own help).
"""

import shutil
import subprocess
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PLAIN = ("sh", "cat", "cksum", "dirname", "env", "rm", "mkdir", "cp")

NO_PYTHON = "No Python from 3.11 to 3.14 is here.\n"
NO_VENV = "Python 3.11 is here, but its venv module is not.\n"

# A stand-in for Python 3.11: it answers the questions of the script, makes an environment that
# holds itself, and writes down everything else. The folder `complete` stands for its venv module.
PYTHON = """#!/bin/sh
case "$*" in
    *"(3, 11) <="*) exit 0 ;;
    *"import ensurepip"*) [ -d {machine}/complete ] ;;
    *"version_info.minor"*) echo 11 ;;
    "--version") echo "Python 3.11.2" ;;
    "-c import pip") [ ! -e .venv/made-by-uv ] ;;
    "-c "*) exit 0 ;;
    "-m venv .venv") mkdir -p .venv/bin && cp {machine}/bin/python3 .venv/bin/python ;;
    *) echo "python $*" >>{machine}/calls ;;
esac
"""

APT = """#!/bin/sh
echo "apt-get $*" >>{machine}/calls
case "$*" in *install*python*) mkdir {machine}/complete ;; esac
"""


UV = """#!/bin/sh
echo "uv $*" >>{machine}/calls
[ "$1" != venv ] || {{ mkdir -p .venv/bin && cp {machine}/bin/python3 .venv/bin/python; }}
[ "$1" != venv ] || : >.venv/made-by-uv
"""


@dataclass(frozen=True, kw_only=True)
class Machine:
    """A tree with the script in it, and a folder that holds all the programs there are."""

    place: Path
    tree: Path

    def has(self, name: str, script: str) -> None:
        """Put a stand-in on the search path."""
        program = self.place / "bin" / name
        program.write_text(script.format(machine=self.place), encoding="utf-8")
        program.chmod(0o755)

    def run(self, *wanted: str, **environment: str) -> subprocess.CompletedProcess[str]:
        """Call the script as `make` does."""
        return subprocess.run(
            ["sh", "tools/bootstrap.sh", *wanted],
            cwd=self.tree,
            env={"PATH": str(self.place / "bin"), **environment},
            capture_output=True,
            text=True,
            check=False,
        )

    def calls(self) -> list[str]:
        """What was written down since the last time."""
        book = self.place / "calls"
        lines = book.read_text(encoding="utf-8").splitlines() if book.exists() else []
        book.unlink(missing_ok=True)
        return lines


@pytest.fixture
def machine(tmp_path: Path) -> Machine:
    """A machine with a shell and an ordinary account, and hardly anything else."""
    new = Machine(place=tmp_path, tree=tmp_path / "tree")
    (tmp_path / "bin").mkdir()
    for name in PLAIN:
        found = shutil.which(name)
        assert found is not None
        (tmp_path / "bin" / name).symlink_to(found)
    shutil.copytree(ROOT / "requirements", new.tree / "requirements")
    (new.tree / "tools").mkdir()
    shutil.copy(ROOT / "tools" / "bootstrap.sh", new.tree / "tools")
    shutil.copy(ROOT / "pyproject.toml", new.tree)
    new.has("id", "#!/bin/sh\necho 1000\n")
    return new


def test_without_python_and_without_apt_it_says_what_to_bring(machine: Machine) -> None:
    result = machine.run("run")
    assert result.stdout == NO_PYTHON
    assert result.stderr == (
        "This system has no apt-get. Install a Python from 3.11 to 3.14 with its venv module as "
        "this system does it, then start again; PYTHON=/path/to/python3 names one that is not on "
        "the search path.\n"
    )
    assert result.returncode == 1


def test_an_account_without_the_right_gets_the_line_to_type(machine: Machine) -> None:
    machine.has("python3", PYTHON)
    machine.has("apt-get", APT)
    machine.has("apt-cache", '#!/bin/sh\n[ "$2" = python3.11-venv ]\n')
    result = machine.run("run")
    assert result.stdout == NO_VENV
    assert result.stderr == (
        "This account may not install packages. Type this, then start again:\n"
        "  sudo apt-get update && sudo apt-get install -y --no-install-recommends "
        "python3.11-venv\n"
    )
    assert (result.returncode, machine.calls()) == (1, [])


def test_sudo_that_asks_for_a_password_is_no_right(machine: Machine) -> None:
    machine.has("apt-get", APT)
    machine.has("apt-cache", "#!/bin/sh\nexit 100\n")
    machine.has("sudo", '#!/bin/sh\n[ "$1" = -n ] && exit 1\necho asked >>{machine}/calls\n')
    result = machine.run("run")
    assert result.stderr.splitlines()[-1] == (
        "  sudo apt-get update && sudo apt-get install -y --no-install-recommends python3-venv"
    )
    assert (result.returncode, machine.calls()) == (1, [])


def test_a_chosen_python_that_will_not_do_is_named(machine: Machine) -> None:
    machine.has("python3", PYTHON)
    (machine.place / "complete").mkdir()
    result = machine.run("run", PYTHON="/nowhere/python3")
    assert result.stderr == (
        "PYTHON=/nowhere/python3 cannot be used: it has to be a Python from 3.11 to 3.14 with its "
        "venv module.\n"
    )
    assert (result.returncode, result.stdout) == (1, "")


@pytest.mark.parametrize("account", ["root", "sudo"])
def test_who_may_install_gets_the_missing_module_by_apt(machine: Machine, account: str) -> None:
    machine.has("python3", PYTHON)
    machine.has("apt-get", APT)
    machine.has("apt-cache", '#!/bin/sh\n[ "$2" = python3.11-venv ]\n')
    if account == "root":
        machine.has("id", "#!/bin/sh\necho 0\n")
    else:
        machine.has("sudo", '#!/bin/sh\n[ "$1" = -n ] || exit 1\nshift\n[ "$1" = true ] || "$@"\n')
    result = machine.run("run")
    assert (result.returncode, result.stderr) == (0, "")
    assert result.stdout == (
        f"{NO_VENV}"
        "Reading the lists of packages (apt-get update)\n"
        "Installing by apt: python3.11-venv\n"
        "Making .venv with Python 3.11.2\n"
        "Installing the pins of requirements/run.txt\n"
    )
    pip = "python -m pip --disable-pip-version-check --quiet --quiet install"
    assert machine.calls() == [
        "apt-get update -qq",
        "apt-get install -y -qq --no-install-recommends -o DPkg::Lock::Timeout=120 python3.11-venv",
        f"{pip} --compile -r requirements/run.txt",
        f"{pip} --no-deps --no-build-isolation -e .",
        "python -m compileall -q src",
    ]


def test_a_second_run_does_nothing_until_something_changes(machine: Machine) -> None:
    machine.has("python3", PYTHON)
    (machine.place / "complete").mkdir()
    assert machine.run("run").stdout.startswith("Making .venv")
    assert len(machine.calls()) == 3

    again = machine.run("run")
    assert (again.stdout, again.stderr, again.returncode) == ("", "", 0)
    assert machine.calls() == []

    with (machine.tree / "requirements" / "run.txt").open("a", encoding="utf-8") as pins:
        pins.write("one-more==1.0\n")
    assert machine.run("run").stdout == "Installing the pins of requirements/run.txt\n"
    assert len(machine.calls()) == 3

    with (machine.tree / "pyproject.toml").open("a", encoding="utf-8") as project:
        project.write("# changed\n")
    assert machine.run("run").stdout == "Installing the pins of requirements/run.txt\n"


def test_a_tree_that_was_moved_gets_a_new_environment(machine: Machine) -> None:
    machine.has("python3", PYTHON)
    (machine.place / "complete").mkdir()
    machine.run("run")
    moved = replace(machine, tree=machine.place / "elsewhere")
    machine.tree.rename(moved.tree)
    assert moved.run("run").stdout == (
        "Making .venv with Python 3.11.2\nInstalling the pins of requirements/run.txt\n"
    )


def test_uv_is_used_where_it_is_and_needs_no_venv_module(machine: Machine) -> None:
    machine.has("python3", PYTHON)
    machine.has("uv", UV)
    assert machine.run("run").returncode == 0
    pip = "uv pip install --quiet --python .venv/bin/python"
    assert machine.calls() == [
        "uv venv --quiet --python python3 .venv",
        f"{pip} --compile-bytecode -r requirements/run.txt",
        f"{pip} --no-deps --no-build-isolation -e .",
        "python -m compileall -q src",
    ]


def test_an_environment_without_pip_is_made_anew_once_uv_is_gone(machine: Machine) -> None:
    machine.has("python3", PYTHON)
    machine.has("uv", UV)
    machine.run("run")
    (machine.place / "bin" / "uv").unlink()
    (machine.place / "complete").mkdir()
    assert machine.run("run").stdout == ""
    assert machine.run("check").stdout == (
        "Making .venv with Python 3.11.2\n"
        "Installing the pins of requirements/run.txt\n"
        "Installing the pins of requirements/check.txt\n"
    )
    machine.calls()
    assert machine.run("run", "check").stdout == ""
    assert machine.calls() == []


def test_an_environment_whose_python_is_gone_is_made_anew(machine: Machine) -> None:
    machine.has("python3", PYTHON)
    machine.has("uv", UV)
    machine.run("run")
    (machine.tree / ".venv" / "bin" / "python").unlink()
    assert machine.run("run").stdout.startswith("Making .venv with Python 3.11.2\n")


def test_an_activated_environment_is_not_removed_from_under_itself(machine: Machine) -> None:
    scripts = machine.tree / ".venv" / "bin"
    machine.has("python3", PYTHON)
    (machine.place / "complete").mkdir()
    scripts.mkdir(parents=True)
    (machine.place / "bin" / "python3").rename(scripts / "python3")
    (machine.tree / ".venv" / "made-for").write_text("/another/place\n", encoding="utf-8")
    result = machine.run("run", PATH=f"{scripts}:{machine.place / 'bin'}")
    assert (result.returncode, result.stdout) == (1, NO_PYTHON)
    assert (scripts / "python3").exists()


def test_a_failed_installation_leaves_no_stamp(machine: Machine) -> None:
    machine.has("python3", PYTHON.replace("    *) echo", '    *" pip "*) exit 3 ;;\n    *) echo'))
    (machine.place / "complete").mkdir()
    result = machine.run("run")
    assert result.stderr == (
        "The pins of requirements/run.txt could not be installed; the installer's message stands "
        "above.\n"
    )
    assert result.returncode == 1
    assert machine.run("run").stdout == "Installing the pins of requirements/run.txt\n"


def test_programs_that_the_tests_need_are_named_together(machine: Machine) -> None:
    machine.has("apt-get", APT)
    machine.has("git", "#!/bin/sh\n")
    machine.has("gcc", "#!/bin/sh\nexit 1\n")
    result = machine.run("programs")
    assert result.stderr == (
        "The tests need programs that are missing here and that this account may not install. "
        "Type this, then start again:\n"
        "  sudo apt-get update && sudo apt-get install -y --no-install-recommends "
        "ngspice poppler-utils libc6-dev\n"
    )
    assert (result.returncode, result.stdout) == (1, "")


@pytest.mark.parametrize(
    ("wanted", "answer"),
    [
        ([], "What is wanted? Say run, check or programs.\n"),
        (["all"], "What is all? Say run, check or programs.\n"),
    ],
)
def test_an_unknown_wish_is_refused(machine: Machine, wanted: list[str], answer: str) -> None:
    result = machine.run(*wanted)
    assert (result.returncode, result.stdout, result.stderr) == (1, "", answer)
