"""Fixtures the tests share."""

from pathlib import Path

import pytest


@pytest.fixture(scope="session")
def project() -> Path:
    """Return the folder of the checkout."""
    return Path(__file__).parents[1]
