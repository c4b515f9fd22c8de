"""The shipped examples, planned once for all tests of their checks."""

from __future__ import annotations

import pytest
from reviewed import Planned


@pytest.fixture(scope="session")
def easter() -> Planned:
    return Planned("easter-block")


@pytest.fixture(scope="session")
def juniors() -> Planned:
    return Planned("juniors")


@pytest.fixture(scope="session")
def outdoor() -> Planned:
    return Planned("indoor-to-outdoor")


@pytest.fixture(scope="session")
def heat_camp() -> Planned:
    return Planned("heat-camp")


@pytest.fixture(scope="session")
def club_camp() -> Planned:
    return Planned("club-camp")
