"""Plugs and sockets, analogue and digital."""

from __future__ import annotations

import pytest

from rigdsl.paths.plug_fit import fits
from rigdsl_power.connector_mismatch import connector_mismatch
from tests.rules.said import findings, said
from tests.rules.whole import told


@pytest.mark.parametrize(
    ("plug", "socket", "goes_in"),
    [
        ("xlr-m", "xlr-f", True),  # AES14-1992: the plug of an input's cable is male
        ("xlr-f", "xlr-m", True),
        ("xlr-m", "xlr-m", False),
        ("xlr-f", "xlr-f", False),
        ("xlr", "xlr-f", True),
        ("xlr-m", "jack", False),
        ("jack", "jack", True),
        ("rj45", "rj45", True),
        ("lc", "lc", True),
        ("bnc", "bnc", True),
        ("rj45-m", "rj45", True),  # nobody calls them so, and it means nothing
        ("rj45-m", "rj45-m", True),
        ("lc", "rj45", False),
        ("dsub25-m", "dsub25-f", True),
        ("dsub25-m", "dsub25-m", False),
    ],
)
def test_what_goes_into_what(plug: str, socket: str, goes_in: bool) -> None:
    assert fits(plug, socket) is goes_in


def stage(*lines: str) -> str:
    """Boxes with sockets of every sort, cables of some sorts, and the lines given."""
    return "\n".join(
        (
            'rig "Plugs" {}',
            "cable plain { medium analogue }",
            "cable jack-xlr { medium analogue; connector jack, xlr-m }",
            "cable jack-xlrf { medium analogue; connector jack, xlr-f }",
            "cable male { medium analogue; connector xlr-m }",
            "cable loom8 { medium analogue; lines 8; connector xlr-m, xlr-f; ends dsub25 }",
            "cable tail8 { medium analogue; lines 8; ends dsub25; tails 0.8 m }",
            "cable both8 { medium analogue; lines 8; ends dsub25 }",
            "cable lc3 { medium fibre; grade om3; connector lc }",
            "model box {",
            "  kind stage-box",
            "  inputs xlr 1-8 { preamp; connector xlr-f }; inputs combi 1-4 { connector xlr-f, jack }",
            "  inputs jack 1-4 { connector jack }; inputs odd 1-2 { connector xlr-m }; inputs bare 1-4",
            "  inputs dsub 1-8 { connector dsub25 }",
            "  outputs out 1-8 { connector xlr-m }; outputs jout 1-4 { connector jack }",
            "  digital net 1-2 { connector rj45 }; digital light 1-2 { connector lc }",
            "}",
            "box A is box",
            "box B is box",
            *lines,
        )
    )


@pytest.mark.parametrize(
    ("line", "subject", "message", "kit"),
    [
        (
            "link L1: A.jout 1 -- B.xlr 1 via xlr 5 m",
            "L1",
            "`L1` has a plug `xlr-f` at `A.jout 1`, and its socket is `jack`",
            "1 adapter from plug `xlr-f` to socket `jack`",
        ),
        (
            "link L1: A.out 1-3 -- B.odd 1-2, B.xlr 1 via xlr 5 m",
            "L1",
            "`L1` has a plug `xlr-m` at `B.odd 1-2`, and both are of one gender",
            "2 turnarounds from plug `xlr-m` to socket `xlr-m`",
        ),
        (
            "link L1: A.out 1 -- B.jack 1 via xlr 5 m",
            "L1",
            "`L1` has a plug `xlr-m` at `B.jack 1`, and its socket is `jack`",
            "1 adapter from plug `xlr-m` to socket `jack`",
        ),
        (
            "link L1: A.net 1 -- B.light 1 via cat6 5 m",
            "L1",
            "`L1` has a plug `rj45` at `B.light 1`, and its socket is `lc`",
            "1 adapter from plug `rj45` to socket `lc`",
        ),
        (
            "source keys line to A.jack 1-2 via xlr 5 m",
            "keys",
            "`keys` has a plug `xlr-m` at `A.jack 1-2`, and its socket is `jack`",
            "2 adapters from plug `xlr-m` to socket `jack`",
        ),
        (
            "source vox dynamic to A.odd 1 via xlr 5 m",
            "vox",
            "`vox` has a plug `xlr-m` at `A.odd 1`, and both are of one gender",
            "1 turnaround from plug `xlr-m` to socket `xlr-m`",
        ),
        (
            "output wdg wedge from A.jout 1 via xlr 5 m",
            "wdg",
            "`wdg` has a plug `xlr-f` at `A.jout 1`, and its socket is `jack`",
            "1 adapter from plug `xlr-f` to socket `jack`",
        ),
        (
            "link L1: A.dsub 1-8 -- B.xlr 1-8 via both8 5 m",
            "L1",
            "`L1` has a plug `dsub25` at `B.xlr 1-8`, and its socket is `xlr-f`",
            "8 adapters from plug `dsub25` to socket `xlr-f`",
        ),
    ],
)
def test_a_plug_that_does_not_go_in(line: str, subject: str, message: str, kit: str) -> None:
    (finding,) = findings(connector_mismatch, stage(line))
    assert (finding.subject, finding.message) == (subject, message)
    assert finding.help.startswith(f"for the kit list: {kit}; or take another cable than ")


@pytest.mark.parametrize(
    "line",
    [
        "link L1: A.out 1 -- B.xlr 1 via xlr 5 m",
        "link L1: B.xlr 1 -- A.out 1 via xlr 5 m",
        "link L1: A.jout 1 -- B.xlr 1 via jack-xlr 5 m",
        "link L1: A.jout 1 -- B.combi 1 via jack 5 m",  # the socket takes either
        "link L1: A.out 1 -- B.combi 1 via xlr 5 m",
        "link L1: A.out 1 -- B.jack 1 via jack-xlrf 5 m",
        "link L1: A.out 1 -- B.jack 1 via plain 5 m",  # nobody says what the cable has
        "link L1: A.out 1 -- B.bare 1 via jack-xlrf 5 m",  # nor what the box has
        "link L1: A.out 1 -- B.jack 1",
        "link L1: A.net 1 -- B.net 1 via cat6 5 m",
        "link L1: A.light 1 -- B.light 1 via lc3 5 m",
        "link L1: A.light 1 -- B.net 1 via om3 5 m",  # the library's fibre has no connector
        "link L1: A.out 1-8 -- B.dsub 1-8 via loom8 5 m",
        "link L1: A.out 1-8 -- B.dsub 1-8 via tail8 5 m",  # what the tails have nobody says
        "link L1: A.dsub 1-8 -- B.dsub 1-8 via both8 5 m",
        "link L1: A.out 1 -- B.xlr 1 via male 5 m",  # one gender: the other end is not said
        "source vox dynamic to A.xlr 1 via xlr 5 m",
        "source vox dynamic to A.combi 1 via xlr 5 m",
        "source keys line to A.xlr 1 via jack-xlr 5 m",
        "source keys line to A.jack 1 via jack-xlrf 5 m",
        "source vox dynamic to A.xlr 1",
        "output wdg wedge from A.out 1 via xlr 5 m",
        "output wdg wedge from A.out 1 via jack-xlrf 5 m",
    ],
)
def test_a_plug_that_goes_in(line: str) -> None:
    assert said(connector_mismatch, stage(line)) == []


def test_what_stops_the_run_is_told_before_its_plugs() -> None:
    """Fibre on a copper port: the medium is wrong, and so is the plug; one finding."""
    rig = """\
rig "Light into copper" {}
cable lc3 { medium fibre; grade om3; connector lc }
protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
model nw { kind stage-box; inputs mic 1-4 { preamp }; digital A { protocol fernlink; connector rj45 } }
model desk { kind console; channels ch 1-8; digital A { protocol fernlink; connector rj45 } }
box SL is nw
box DESK is desk
link C01: SL.A -- DESK.A via lc3 20 m
clock DESK
"""
    assert told(rig) == ["error medium-mismatch C01"]
    fits_over_light = rig.replace("over cat5e 100 m", "over om3 300 m")
    assert told(fits_over_light) == ["warning connector-mismatch C01"]


@pytest.mark.parametrize(
    ("cable", "message"),
    [
        ("xlr", None),  # one plug for each way
        ("jack-xlr", None),  # nobody says that the other plug is female, nor that it is not
        ("plain", None),
        ("male", None),  # of the other end nothing is said
        ("jacks", "the insert of `DESK.ch 1` has a plug `jack` at `CP.in 1, CP.out 1`, and its socket is `xlr-f`"),
    ],
)
def test_the_lead_of_an_insert_at_the_outboard(cable: str, message: str | None) -> None:
    text = stage(
        "cable jacks { medium analogue; connector jack }",
        "model desk { kind console; channels ch 1-8 }",
        "model comp { kind outboard; inputs in 1-2 { connector xlr-f }; outputs out 1-2 { connector xlr-m } }",
        "box DESK is desk; box CP is comp",
        f"insert DESK.ch 1 through CP 1 via {cable} 2 m",
    )
    found = findings(connector_mismatch, text)
    assert [finding.message for finding in found] == ([message] if message else [])
    assert all("1 adapter from plug `jack` to socket `xlr-f`, 1 adapter" in finding.help for finding in found)
