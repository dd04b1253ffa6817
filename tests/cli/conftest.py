"""What every test of a command may ask for."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.club import CLEAN, GEAR


@pytest.fixture
def club(folder: Path) -> Path:
    """A project of one rig and its gear."""
    (folder / "gear.rig").write_text(GEAR)
    (folder / "friday.rig").write_text(CLEAN)
    return folder
