"""What all tests share: the long forms run only when asked for."""

from __future__ import annotations

import pytest
from hypothesis import settings

# How long one example takes says more about the machine's other work than about the code.
settings.register_profile("no deadline", deadline=None)
settings.load_profile("no deadline")


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--long", action="store_true", help="run the long forms too (tests marked long)"
    )


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if config.getoption("--long"):
        return
    skip = pytest.mark.skip(reason="a long form: run with --long")
    for item in items:
        if "long" in item.keywords:
            item.add_marker(skip)


@pytest.fixture
def long(request: pytest.FixtureRequest) -> bool:
    """Whether --long was given, for tests that have a short and a long form."""
    return bool(request.config.getoption("--long"))
