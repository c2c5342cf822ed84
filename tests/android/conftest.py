"""The Java of the package and the stubs it is tried on, compiled once."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.append(str(Path(__file__).parent))
from jvm import JAVA, STUBS, compile_java, on_phone


@pytest.fixture(scope="session")
def classes(tmp_path_factory) -> Path:
    """The folder of compiled classes."""
    folder = tmp_path_factory.mktemp("classes")
    compile_java(folder, STUBS, JAVA)
    return folder


@pytest.fixture
def phone(classes):
    """Run a script on a phone made of stubs; return what it told."""

    def run(script: str, **more: object) -> dict:
        return on_phone(classes, script, **more)

    return run
