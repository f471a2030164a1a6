"""Real scans lie outside the repository; tests that want them name the variable they need."""

import os
from pathlib import Path

import pytest


@pytest.fixture(scope="session")
def scans() -> Path:
    """The folder of real scans named by BENCHFOLIO_SCANS."""
    named = os.environ.get("BENCHFOLIO_SCANS", "")
    if not named:
        pytest.skip("BENCHFOLIO_SCANS is not set: it names a folder of real scans")
    return Path(named)
