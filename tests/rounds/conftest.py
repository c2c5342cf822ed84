"""A phone for every test of a use case."""

from __future__ import annotations

import pytest
from rounds_phone import Phone

from fieldapp.bootstrap import close


@pytest.fixture
def phone(tmp_path):
    phone = Phone(tmp_path)
    yield phone
    close(phone.kit)
