"""Things named twice in one line, names of another kind, what no cable goes into: each told once, with a way out."""

from __future__ import annotations

import pytest

from rigdsl.rig import read
from tests.rig.said import HEAD, clean, said

GEAR = """
model nw16 { kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A, B; data ctl }
model rx4 { kind receiver; inputs air 1-4 { wireless }; outputs line 1-4; pass air -> line }
model pc { kind computer; inputs track 1-8 { soft }; outputs play 1-8 { soft }; digital lan }
zone wing
box SL is nw16 in wing
box RX is rx4 in wing
box PC is pc in wing
source kick dynamic in wing to SL 1
"""


@pytest.mark.parametrize(
    ("line", "rule", "place", "message"),
    [
        # A row of sockets that repeats one, or a cable from a socket to itself.
        ("link L: SL.A -- SL.A", "range-length", "SL.A -- SL.A", "`SL.A` is joined to itself"),
        ("link L: SL.mic 3-4 -- SL.mic 4,4", "range-length", "SL.mic 4,4", "a socket is named twice in `SL.mic 4,4`"),
        (
            "link L: SL.line 1, SL.line 1 -- SL.mic 3-4",
            "range-length",
            "SL.line 1, SL.line 1",
            "`SL.line 1` is named twice in one list",
        ),
        (
            "source k line to SL.mic 8, SL.mic 8",
            "range-length",
            "SL.mic 8, SL.mic 8",
            "`SL.mic 8` is named twice in one list",
        ),
        # Something beside itself.
        ("source k line { with k }", "repeated-name", "k", "`k` is named as its own stereo partner"),
        ("way wing -- wing 3 m", "repeated-name", "wing", "this way leads from `wing` to itself"),
        # A cable that joins nothing.
        ("link L via xlr 3 m { }", "syntax-error", "L", "link `L` joins nothing to nothing"),
        ('link L via xlr 3 m { note "x" }', "syntax-error", "L", "link `L` joins nothing to nothing"),
        # A name of another kind of thing.
        ("clock wing", "unknown-name", "wing", "`wing` is a zone, and a box is needed here"),
        ("control SL.mic 1 by kick", "unknown-name", "kick", "`kick` is a source, and a box is needed here"),
        ("source k line in SL", "unknown-name", "SL", "`SL` is a box, and a zone is needed here"),
        ("replug SL to SL 3", "unknown-name", "SL", "`SL` is a box, and a source or output is needed here"),
        (
            "change nw16 { power 3 W }",
            "unknown-name",
            "nw16",
            "there is no zone, box, link, source, output or supply called `nw16`",
        ),
        # What no cable goes into.
        ("source k dynamic to RX 2", "no-such-port", "RX 2", "`RX.air` is wireless: no cable goes in"),
        (
            "source k dynamic to RX.air 2 via xlr 3 m",
            "no-such-port",
            "RX.air 2",
            "`RX.air` is wireless: no cable goes in",
        ),
        (
            "link L: SL.line 1 -- RX.air 1 via xlr 3 m",
            "no-such-port",
            "RX.air 1",
            "`RX.air` is wireless: no cable goes in",
        ),
        ("output o wedge from PC 1", "no-such-port", "PC 1", "`PC.play` is inside `PC`: no cable goes out"),
        # Cables and grades that a protocol may run over.
        (
            "protocol p { carries 8 at 48 kHz; over cat5x 100 m, om3 300 m }",
            "unknown-name",
            "cat5x",
            "there is no cable, category or grade called `cat5x`",
        ),
        # One row in two.
        (
            "model m { kind panel; inputs mic 1-8; inputs mic 9-16 }",
            "repeated-name",
            "mic",
            "model `m` has two groups called `mic`",
        ),
    ],
)
def test_what_is_told(line: str, rule: str, place: str, message: str) -> None:
    (told,) = read(HEAD + GEAR + line).findings
    assert (told.rule, told.place.text, told.message) == (rule, place, message)
    assert told.help
    assert told.consequence


@pytest.mark.parametrize(
    ("line", "help"),
    [
        ("protocol p { carries 8 at 48 kHz; over cat5x 9 m }", "there is a cable with a similar name: `cat5e`"),
        (
            "model m { kind panel; inputs mic 1-8; inputs mic 9-16 }",
            "one group is one row of sockets: `inputs mic 1-16`; or give one of them another name",
        ),
        ("link L: SL.A -- SL.B via cat6 60 Ohm", "a length is given in m or ft"),
        ("link L: SL.A -- SL.B via cat6 60 mtr", "a length is given in m or ft"),
        (
            "cable c { capacitance 9 pF }",
            "there is a unit with a similar name: `pF/m`; a capacitance for each metre is",
        ),
        ('use "gear/nope.rig"', "paths are relative to the file that uses them"),
    ],
)
def test_help_offers_only_what_would_do(line: str, help: str) -> None:
    ((_, _, _, given),) = said(GEAR + line)
    assert given.startswith(help)


@pytest.mark.parametrize(
    "over", ["cat5", "cat5e", "cat8", "om1", "os1", "os2", "coax75", "coax50", "aes-pair", "xlr", "mine"]
)
def test_what_a_protocol_may_run_over(over: str) -> None:
    rig = clean(f"cable mine {{ medium coax }}\nprotocol p {{ carries 8 at 48 kHz; over {over} 30 m }}")
    assert rig.protocols["p"].reach == {over: 30}


def test_only_the_reach_that_is_known_counts() -> None:
    rig = read(HEAD + "protocol p { carries 8 at 48 kHz; over cat5x 30 m, om3 300 m }")
    assert rig.protocols["p"].reach == {"om3": 300}


@pytest.mark.parametrize(
    ("facts", "expected"),
    [("", ("4.2", "A1", "10.0.4.11")), ('{ firmware "5.0"; address 10.0.4.12 }', ("5.0", "A1", "10.0.4.12"))],
)
def test_a_model_s_firmware_serial_and_address_are_those_of_a_box(facts: str, expected: tuple[str, ...]) -> None:
    model = 'model m { kind panel; firmware "4.2"; serial "A1"; address 10.0.4.11 }'
    box = clean(f"{model}\nbox B is m {facts}").boxes["B"]
    assert (box.firmware, box.serial, box.address) == expected


def test_only_quotes_and_backslashes_are_escaped_in_a_label() -> None:
    rig = clean(r'zone a "the \"good\" side, C:\new \\ old"')
    assert rig.zones["a"].label == r'the "good" side, C:\new \ old'


def test_a_channel_may_be_fed_from_one_input_twice() -> None:
    """Not so a row of plugs: a patch takes nothing away from what feeds it."""
    desk = "model d { kind console; channels ch 1-8 }\nbox D is d"
    rig = clean(f"{GEAR}\n{desk}\npatch SL.mic 1, SL.mic 1 -> D.ch 1-2")
    assert len(rig.patches[0].pairs) == 2
