"""Which texts are rigs: those in which `rig` opens a statement."""

from __future__ import annotations

import pytest

from rigdsl.syntax import headed
from rigdsl.text import Source


@pytest.mark.parametrize(
    ("text", "is_rig"),
    [
        ('rig "Hall" {}', True),
        ('zone wing "Wing"; rig "Hall" {}', True),  # on one line with others, after a label
        ('# Friday\n\n  rig "Hall"', True),
        ('rig "Hall', True),  # a head that cannot be read is one
        ('model m {\nrig "Hall" {}', True),  # a brace was forgotten before it
        ("", False),
        ("# rig\nzone rig", False),
        ("box rig is x", False),
        ("model m { rig 3 }", False),
        ("rig-1 x", False),
    ],
)
def test_a_head_makes_a_rig(text: str, is_rig: bool) -> None:
    assert headed(Source("hall.rig", text)) is is_rig
