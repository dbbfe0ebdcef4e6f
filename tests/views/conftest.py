"""What tests of pictures share: checks of lettering, and where each fault is to be found."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest


def beside(stem: str) -> ModuleType:
    """A module beside this file, loaded once."""
    name = f"mensura_tests_{stem}"
    if name not in sys.modules:
        path = Path(__file__).with_name(f"{stem}.py")
        spec = importlib.util.spec_from_file_location(name, path)
        assert spec
        assert spec.loader
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


@pytest.fixture(scope="session")
def letters() -> ModuleType:
    """The module lettering.py: overlaps, cut_off, too_small."""
    return beside("lettering")


@pytest.fixture(scope="session")
def everywhere() -> ModuleType:
    """The module faults_everywhere.py: found, wanting."""
    return beside("faults_everywhere")


@pytest.fixture(scope="session")
def pieces() -> ModuleType:
    """The module pieces.py: badly_declared, parted_letters, stray_dots."""
    return beside("pieces")


@pytest.fixture(scope="session")
def standing() -> ModuleType:
    """The module standing.py: Standing, standings."""
    return beside("standing")


@pytest.fixture(scope="session")
def stills() -> ModuleType:
    """The module test_every_still.py, for its PICTURES."""
    return beside("test_every_still")
