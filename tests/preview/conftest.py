"""A project of one small rig."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.preview.made import RIG


@pytest.fixture
def rig(tmp_path: Path) -> Path:
    (tmp_path / "rig.toml").write_text("")
    (tmp_path / "friday.rig").write_text(RIG)
    return tmp_path / "friday.rig"
