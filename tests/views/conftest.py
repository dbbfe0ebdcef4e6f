"""Checks of a figure's lettering, shared by the tests of all pictures."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest


@pytest.fixture(scope="session")
def letters() -> ModuleType:
    """The module lettering.py beside this file: overlaps, cut_off, too_small."""
    name = "mensura_tests_lettering"
    if name not in sys.modules:
        path = Path(__file__).with_name("lettering.py")
        spec = importlib.util.spec_from_file_location(name, path)
        assert spec
        assert spec.loader
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]
