"""What a file says, line by line."""

from __future__ import annotations

import pytest

from rigdsl.branches import meaning
from rigdsl.text import Source


def said(text: str) -> list[str] | None:
    found = meaning(Source("demo.rig", text))
    return None if found is None else found.splitlines()


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        (
            'source kick "Kick" dynamic in drums to DR 1 via xlr 6 m { stand "tall boom"; mono }',
            [
                'source kick: "Kick"',
                "source kick: dynamic",
                "source kick: in drums",
                "source kick: mono",
                'source kick: stand "tall boom"',
                "source kick: to DR 1",
                "source kick: via xlr 6 m",
            ],
        ),
        ('rig "Demo" { rate 48 kHz }', ['rig "Demo"', "rig: rate 48 kHz"]),
        ("link C1: SL.A -- DESK.stage 1 via cat6 75 m", ["link C1: SL.A -- DESK.stage 1", "link C1: via cat6 75 m"]),
        ("zone foh", ["zone foh"]),
        ("change DESK { rate 96 kHz }", ["change DESK: rate 96 kHz"]),
        (
            'patch kick,   oh -> DESK.ch 1-3 { note "x" }',
            ["patch kick, oh -> DESK.ch 1-3", 'patch kick, oh -> DESK.ch 1-3: note "x"'],
        ),
        ("without C07, C08", ["without C07, C08"]),
        ("clock DESK # a remark", ["clock DESK"]),
        ("box C10 is m\nbox C2 is m", ["box C2: is m", "box C10: is m"]),
        (
            "model m {\n  kind console\n  inputs mic 1-8 { preamp }\n  pass mic -> ch\n}",
            [
                "model m: inputs mic 1-8",
                "model m: inputs mic 1-8: preamp",
                "model m: kind console",
                "model m: pass mic -> ch",
            ],
        ),
        ("stock xlr 3 m x 12\nclock DESK\nstock xlr 3 m x 12", ["clock DESK", *["stock xlr 3 m x 12"] * 2]),
        ("", []),
    ],
)
def test_one_thing_and_one_fact_a_line(text: str, lines: list[str]) -> None:
    assert said(text) == lines


def test_layout_order_and_remarks_leave_no_trace() -> None:
    one = "clock DESK\nzone foh  # here\n\nbox SL is m in foh { rate 48 kHz; mono }\n"
    other = "box   SL is m in foh {\n  mono\n  rate 48kHz\n}\nzone foh\n# a desk\nclock DESK"
    assert said(one) == said(other)


def test_what_cannot_be_read_has_no_lines() -> None:
    assert said("box SL is\n") is None
