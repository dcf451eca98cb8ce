"""A sign turned round in the physics turns a test red: twelve flips that would do most harm.

Each is made in a copy of the package, and the tests that ought to see it are run on that copy.
Nothing is compared with an outside source here: it is the tests that are tested.
"""

import os
import shutil
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PACKAGE = ROOT / "src" / "sinkside"

POINT = "tests/physics/test_operating_point.py"
SOLVE = "tests/paths/test_solve.py"
DIODES = "tests/paths/test_diodes.py"
REGULATOR = "tests/physics/test_linear_regulator.py"
CASES = "tests/paths/test_rules_one_by_one.py::test_a_case_worked_by_hand"


@dataclass(frozen=True, kw_only=True)
class Flip:
    """One sign turned round.

    Parameters
    ----------
    harm
        What the program would then say that is not so.
    seen_by
        The tests of which at least one has to fail.
    """

    file: str
    old: str
    new: str
    harm: str
    seen_by: str


FLIPS = (
    Flip(
        file="physics/operating_point.py",
        old="discriminant = b * b - 4.0 * a * c",
        new="discriminant = b * b + 4.0 * a * c",
        harm="a power beyond V²/4R still has a working point",
        seen_by=POINT,
    ),
    Flip(
        file="physics/operating_point.py",
        old="(b + root) / (2.0 * a)",
        new="(b - root) / (2.0 * a)",
        harm="a device runs at the low root, where it would have fallen out",
        seen_by=POINT,
    ),
    Flip(
        file="physics/operating_point.py",
        old="b = source_v - series_ohm * load.constant_a",
        new="b = source_v + series_ohm * load.constant_a",
        harm="a current raises the volts at the end of a lead",
        seen_by=POINT,
    ),
    Flip(
        file="paths/solve.py",
        old="chains.port_v - chains.front_drop_v",
        new="chains.port_v + chains.front_drop_v",
        harm="a diode adds volts",
        seen_by=DIODES,
    ),
    Flip(
        file="paths/solve.py",
        old="through_ohm = chains.front_ohm + np.where(",
        new="through_ohm = chains.front_ohm - np.where(",
        harm="a step-down at full duty loses less the more stands behind it",
        seen_by=SOLVE,
    ),
    Flip(
        file="paths/symbols.py",
        old='f["rated_load_v"][:, None] - self.feed_high',
        new='f["rated_load_v"][:, None] + self.feed_high',
        harm="a part behind a converter that is over its volts is not looked at",
        seen_by="tests/paths/test_where_a_false_fits_hides.py",
    ),
    Flip(
        file="physics/linear_regulator.py",
        old="output_a + input_v * quiescent_a",
        new="output_a - input_v * quiescent_a",
        harm="its own current cools a regulator",
        seen_by=REGULATOR,
    ),
    Flip(
        file="physics/linear_regulator.py",
        old="(limit_degc - ambient_degc) / k_per_w",
        new="(limit_degc + ambient_degc) / k_per_w",
        harm="a regulator may burn more the hotter the room is",
        seen_by=REGULATOR,
    ),
    Flip(
        file="rules/table.py",
        old='"V_harm - V_feed_high"',
        new='"V_feed_high - V_harm"',
        harm="whatever destroys a device fits",
        seen_by=CASES,
    ),
    Flip(
        file="rules/table.py",
        old='"V_feed_low - I_in * R_feed - V_run"',
        new='"V_feed_low + I_in * R_feed - V_run"',
        harm="a thinner lead brings more volts",
        seen_by=CASES,
    ),
    Flip(
        file="rules/table.py",
        old="(V_feed_high - V_out) * I_steady - V_feed_high * I_q",
        new="(V_feed_high + V_out) * I_steady - V_feed_high * I_q",
        harm="a regulator burns what it passes on",
        seen_by=CASES,
    ),
    Flip(
        file="rules/table.py",
        old='"I_weakest - I_fault"',
        new='"I_weakest + I_fault"',
        harm="no fault is too much for a lead",
        seen_by=CASES,
    ),
)


def copied(folder: Path) -> Path:
    """A copy of the package that may be changed."""
    copy = folder / "sinkside"
    shutil.copytree(PACKAGE, copy, ignore=shutil.ignore_patterns("*.pyc.*"))
    return copy


def run(folder: Path, *tests: str) -> subprocess.CompletedProcess[str]:
    """Run tests on the copy of the package in a folder, until one fails."""
    plugins = ("-p", "no:xdist", "-p", "no:cacheprovider", "-p", "no:hypothesispytest")
    options = ("-o", "addopts=--import-mode=importlib", "--assert=plain", "-x", "-q")
    return subprocess.run(
        [sys.executable, "-m", "pytest", *plugins, *options, *tests],
        cwd=ROOT,
        env=os.environ | {"PYTHONPATH": str(folder)},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )


def test_without_a_flip_the_chosen_tests_are_green(tmp_path: Path) -> None:
    copied(tmp_path)
    found = run(tmp_path, *sorted({flip.seen_by for flip in FLIPS}))
    assert found.returncode == 0, f"a flip says nothing while these are red:\n{found.stdout}"


@pytest.mark.parametrize("flip", FLIPS, ids=[flip.harm for flip in FLIPS])
def test_a_flipped_sign_turns_a_test_red(flip: Flip, tmp_path: Path) -> None:
    file = copied(tmp_path) / flip.file
    text = file.read_text(encoding="utf-8")
    assert text.count(flip.old) == 1, (
        f"{flip.file} has {text.count(flip.old)} times {flip.old!r}, not once: the code has moved, "
        "and the flip has to move with it"
    )
    # Its bytecode is told from it by time and length alone, and a flip may keep both.
    for stale in file.parent.glob(f"__pycache__/{file.stem}.*"):
        stale.unlink()
    file.write_text(text.replace(flip.old, flip.new), encoding="utf-8")
    found = run(tmp_path, flip.seen_by)
    assert found.returncode == 1, (
        f"{flip.seen_by} does not see that {flip.harm} ({flip.old} → {flip.new}):\n"
        f"{found.stdout[-1500:]}{found.stderr[-1500:]}"
    )
