"""Every constant of the standards room says where it comes from, and how far to lean on it."""

import importlib
import inspect
import pkgutil
from collections.abc import Mapping
from types import ModuleType

import pytest

from sinkside import standards
from sinkside.working import Source

# These hold mechanism, or layouts whose sources stand in `pd_objects`.
WITHOUT_FIGURES = {
    "arrays",
    "pd_fields",
    "pd_object_fields",
    "pd_sink_objects",
    "pd_source_objects",
}

MODULES = [
    importlib.import_module(f"sinkside.standards.{found.name}")
    for found in pkgutil.iter_modules(standards.__path__)
    if found.name not in WITHOUT_FIGURES
]


def constants(module: ModuleType) -> list[str]:
    """Public constants that the module itself defines."""
    text = inspect.getsource(module)
    return [
        name
        for name in vars(module)
        if name.isupper()
        and not name.startswith("_")
        and name != "SOURCES"
        and any(line.startswith((f"{name} ", f"{name}:")) for line in text.splitlines())
    ]


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.__name__.rpartition(".")[2])
def test_every_constant_has_a_source(module: ModuleType) -> None:
    sources: Mapping[str, Source] = module.SOURCES
    carried_by_each_row = {"TIMERS"}
    assert set(constants(module)) - set(sources) - carried_by_each_row == set()


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.__name__.rpartition(".")[2])
def test_every_source_names_something_that_exists(module: ModuleType) -> None:
    sources: Mapping[str, Source] = module.SOURCES
    of_conventions = {"AWG", "order", "HARD_RESET_GAP"}
    assert {key for key in sources if not hasattr(module, key)} <= of_conventions
    assert all(isinstance(source, Source) for source in sources.values())
