"""A small show for the tests of ports: a stage box, a sub-box and a desk."""

from __future__ import annotations

__all__ = ["show"]


def show(*lines: str) -> str:
    """Gear for a show, a stage box, a sub-box and a desk, and the lines given.

    C01 joins stage box and desk, unless the lines begin with another link of that name.
    """
    trunk = () if lines and lines[0].startswith("link C01") else ("link C01: SL.A -- DESK.stage 1 via cat6 60 m",)
    return "\n".join(
        (
            'rig "Show" {}',
            "protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }",
            "protocol mosslink { carries 40 at 48 kHz; over cat5e 100 m }",
            "model nw16 {",
            "  kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A { protocol fernlink }",
            "}",
            "model sub12 { kind sub-box; inputs panel 1-12; outputs tail 1-12; pass panel -> tail }",
            "model tie { kind panel; inputs face 1-4; outputs back 1-4; pass face -> back }",
            "model net { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }",
            "model amp2 { kind amplifier; inputs in 1-2 { level line }; outputs out 1-2; pass in -> out }",
            "model top8 { kind loudspeaker; inputs in; outputs link; pass in -> link }",
            "model rx2 { kind receiver; inputs air 1-2 { wireless }; outputs line 1-2; pass air -> line }",
            "model rec { kind computer; channels track 1-8; digital net { protocol fernlink } }",
            "model split4 {",
            "  kind splitter; inputs in 1-4; outputs a 1-4; outputs b 1-4; pass in -> a; pass in -> b { isolated }",
            "}",
            "model desk {",
            "  kind console; channels ch 1-8; mixes mix 1-4; inputs local 1-4 { preamp }; outputs out 1-2",
            "  digital stage 1-2 { protocol fernlink }; digital moss { protocol mosslink }",
            "}",
            "box SL is nw16",
            "box DR is sub12",
            "box DESK is desk",
            *trunk,
            *lines,
        )
    )
