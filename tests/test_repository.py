"""What holds for the repository as a whole, whatever the program computes.

The checks here need no outside source: they hold the tree against its own statements (pyproject
against pins, pins against each other, the shape of the rooms against `.importlinter`).
"""

import ast
import configparser
import re
import subprocess
import tomllib
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

import sinkside

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "src" / "sinkside"
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
PINS = {name: ROOT / "requirements" / f"{name}.txt" for name in ("run", "check")}

# One pin as `make pins` writes it: a name, one exact version, where it counts, and who wants it.
PIN = re.compile(r"([a-z0-9][a-z0-9.-]*)==([0-9][^\s;@]*)( ; [^#@]+?)?( +# via .+)?")

# An escaped dot keeps each pattern from finding itself in this file.
REGISTRIES = (
    re.compile(r"\b(?:pypi|npmjs|pythonhosted|debian)\.(?:org|com|net)\b", re.IGNORECASE),
    re.compile(r"https?://[^\s\"'`)]*/(?:simple|packages)/"),
    re.compile(r"--(?:extra-)?index-url[ =]|--find-links[ =]|--trusted-host[ =]"),
    re.compile(r"\.(?:whl|tar\.gz)#sha256=|--hash[=]sha256|\"resolved\": *\"http"),
)

UNFINISHED = re.compile(r"\b(?:TO[D]O|FIX[M]E|XX[X])\b")

# Names that say nothing about what a file holds.
VAGUE = {"utils", "helpers", "common", "misc"}

# From the conductor down there is no clock, no environment, no network and no printing.
OUTSIDE_WORLD = {"http", "logging", "os", "shutil", "socket", "subprocess", "time", "urllib"}
OUTSIDE_CALLS = {"input", "open", "print"}


def files_of_the_repository() -> list[Path]:
    """Every file that is tracked or would be, from git where there is git."""
    if (ROOT / ".git").exists():
        # A tree that belongs to another account is still this tree.
        listing = ["git", "-c", "safe.directory=*", "ls-files", "-z", "--cached", "--others"]
        names = subprocess.run(
            [*listing, "--exclude-standard"], cwd=ROOT, check=True, capture_output=True, text=True
        ).stdout.split("\0")
        return sorted(path for name in names if name and (path := ROOT / name).is_file())
    places = ("src", "tests", "docs", "tools", "benchmarks", "requirements", ".ci")
    inside = (path for place in places for path in (ROOT / place).rglob("*"))
    beside = (path for path in ROOT.glob("*") if path.suffix in {".md", ".toml"})
    return sorted(
        path
        for path in (*inside, *beside)
        if path.is_file() and not {"__pycache__", "sinkside.egg-info"} & set(path.parts)
    )


def lines_of_the_repository() -> list[tuple[str, str]]:
    """(file:line, text) for every line of every file of the repository that is text."""
    lines = []
    for path in files_of_the_repository():
        data = path.read_bytes()
        if b"\0" in data:
            continue
        text = data.decode("utf-8", errors="replace")
        name = path.relative_to(ROOT).as_posix()
        lines += [(f"{name}:{number}", line) for number, line in enumerate(text.splitlines(), 1)]
    return lines


def sources() -> list[Path]:
    """Every Python file of the program."""
    return sorted(PACKAGE.rglob("*.py"))


def pins(name: str) -> dict[str, set[str]]:
    """Package to its pinned versions, from one file of pins; systems may differ in the version."""
    versions: dict[str, set[str]] = {}
    for line in PINS[name].read_text(encoding="utf-8").splitlines():
        if match := PIN.fullmatch(line):
            versions.setdefault(match[1], set()).add(match[2])
    return versions


def rooms() -> list[str]:
    """The rooms of the program from top to bottom, as `.importlinter` lists them."""
    floors = configparser.ConfigParser()
    floors.read(ROOT / ".importlinter", encoding="utf-8")
    return re.findall(r"\w+", floors["importlinter:contract:rooms"]["layers"])


def test_the_listing_sees_the_repository() -> None:
    names = {path.relative_to(ROOT).as_posix() for path in files_of_the_repository()}
    assert {"pyproject.toml", "src/sinkside/__init__.py", "tests/test_repository.py"} <= names
    assert not {name for name in names if name.startswith(".venv/")}


def test_no_file_holds_a_path_of_this_machine() -> None:
    # The top of the file system and folders that every system has stand in honest text as well.
    shared = {Path("/"), Path("/tmp"), Path("/var/tmp"), Path("/home"), Path("/opt"), Path("/srv")}
    here = [f"{path}/" for path in (ROOT.parent, Path.home()) if path not in shared]
    # From the top only: a parent folder named src is not found in a path inside the repository.
    paths = [re.compile(rf"(?<![\w./-]){re.escape(path)}\S") for path in here]
    found = [
        f"{place}: {line.strip()}"
        for place, line in lines_of_the_repository()
        if any(path.search(line) for path in paths)
    ]
    assert found == []


def test_no_file_holds_the_address_of_a_registry() -> None:
    found = [
        f"{place}: {line.strip()}"
        for place, line in lines_of_the_repository()
        if any(pattern.search(line) for pattern in REGISTRIES)
    ]
    assert found == []


def test_the_patterns_for_registries_find_what_they_are_for() -> None:
    # Each example is written in two pieces, so that it is not found in this file.
    examples = [
        "from files.pythonhosted" + ".org",
        "https://mirror.example/team" + "/simple/numpy",
        "--index-url" + "=https://mirror.example",
        "numpy.whl" + "#sha256=00",
    ]
    found = [[bool(pattern.search(example)) for pattern in REGISTRIES] for example in examples]
    assert found == [[row == column for column in range(4)] for row in range(4)]


def test_nothing_is_marked_as_unfinished() -> None:
    found = [
        f"{place}: {line.strip()}"
        for place, line in lines_of_the_repository()
        if UNFINISHED.search(line)
    ]
    assert found == []


def test_every_source_file_has_at_most_900_lines() -> None:
    lengths = {
        path.relative_to(ROOT).as_posix(): len(path.read_text(encoding="utf-8").splitlines())
        for path in sources()
    }
    assert {name: length for name, length in lengths.items() if length > 900} == {}


def test_every_source_file_has_a_name_that_says_something() -> None:
    places = [path.relative_to(PACKAGE) for path in sources()]
    assert [str(place) for place in places if VAGUE & {*place.parent.parts, place.stem}] == []


def test_every_room_that_is_a_folder_is_a_package() -> None:
    # Without `__init__.py` a folder is importable but the check of the import floors passes it by.
    folders = {path.parent for path in sources()}
    bare = [folder for folder in folders if not (folder / "__init__.py").is_file()]
    assert [folder.relative_to(ROOT).as_posix() for folder in sorted(bare)] == []


def test_no_import_hides_from_the_check_of_the_import_floors() -> None:
    hidden = [
        f"{path.relative_to(ROOT).as_posix()}:{node.lineno}"
        for path in sources()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call)
        and ast.unparse(node.func).rpartition(".")[2] in {"import_module", "__import__"}
    ]
    assert hidden == []


def reaches_outside(node: ast.AST) -> bool:
    """Whether one statement or expression imports or calls what touches the outside world."""
    if isinstance(node, ast.Import):
        return any(name.name.partition(".")[0] in OUTSIDE_WORLD for name in node.names)
    if isinstance(node, ast.ImportFrom):
        return node.level == 0 and str(node.module).partition(".")[0] in OUTSIDE_WORLD
    return (
        isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in OUTSIDE_CALLS
    )


@pytest.mark.parametrize(
    ("code", "reaches"),
    [
        ("import os.path", True),
        ("def f():\n    from time import monotonic", True),
        ("print(1)", True),
        ("from sinkside.paths import search", False),
        ("from . import time", False),
        ("spectrum.open()", False),
    ],
)
def test_what_counts_as_reaching_outside(code: str, reaches: bool) -> None:
    assert any(map(reaches_outside, ast.walk(ast.parse(code)))) is reaches


def test_from_the_conductor_down_nothing_reaches_outside() -> None:
    names = rooms()
    pure = set(names[names.index("plan") :])
    found = [
        f"{path.relative_to(ROOT).as_posix()}:{getattr(node, 'lineno', 0)}"
        for path in sources()
        if path.relative_to(PACKAGE).with_suffix("").parts[0] in pure
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if reaches_outside(node)
    ]
    assert found == []


def test_the_version_is_the_same_in_pyproject_and_in_the_package() -> None:
    assert PROJECT["project"]["version"] == sinkside.__version__


@pytest.mark.parametrize("name", PINS)
def test_a_file_of_pins_holds_exact_versions_and_no_addresses(name: str) -> None:
    lines = PINS[name].read_text(encoding="utf-8").splitlines()
    head = [line for line in lines if line.startswith("#") or line == "-r run.txt"]
    assert [line for line in lines if line not in head and not PIN.fullmatch(line)] == []
    assert [line for line in lines if "/" in line] == []
    assert ("-r run.txt" in head) is (name == "check")


@pytest.mark.parametrize(
    "line",
    [
        "numpy>=2",
        "numpy",
        "numpy @ file:///x/numpy.whl",
        "numpy==2.4.6 @ x",
        "numpy==2.4.6 \\",
        "-e .",
        "-f mirror",
    ],
)
def test_what_is_no_exact_pin(line: str) -> None:
    assert PIN.fullmatch(line) is None


def test_no_package_is_pinned_twice() -> None:
    assert pins("run").keys() & pins("check").keys() == set()


def test_the_pins_are_what_pyproject_asks_for() -> None:
    wanted = {
        "run": [*PROJECT["build-system"]["requires"], *PROJECT["project"]["dependencies"]],
        "check": PROJECT["project"]["optional-dependencies"]["check"],
    }
    broken = []
    for name, requirements in wanted.items():
        pinned = pins("run") | pins("check") if name == "check" else pins("run")
        for requirement in map(Requirement, requirements):
            versions = pinned.get(canonicalize_name(requirement.name), set())
            if not versions or not all(map(requirement.specifier.contains, versions)):
                broken.append(f"{requirement} is pinned to {sorted(versions) or 'nothing'}")
    assert broken == []
