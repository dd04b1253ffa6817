"""Sources over panels, switches, chains, bridges and desks: every hop of the digital way."""

from __future__ import annotations

import pytest

from tests.paths.small import lines, paths


@pytest.mark.parametrize(
    ("rig", "name", "expected"),
    [
        pytest.param(
            """\
box CORE is core16 in wing; box SL is nw16 in wing; box P is panel4 in wing
box Q is panel4 in foh; box R is panel4 in foh
link C01: SL.A -- P.front 1 via cat6 5 m
link C02: P.rear 1 -- Q.rear 2 via cat5e 40 m
link C03: Q.front 2 -- R.front 3 via cat6 2 m
link C04: R.rear 3 -- CORE.stage via cat6 9 m
source vox dynamic in front to SL 3 via xlr 5 m
patch SL.mic 3 -> CORE.ch 3""",
            "vox",
            [
                [
                    "vox",
                    "plug xlr 5 m: SL.mic 3",
                    "preamp 0.4 ms: SL.A",
                    "C01 cat6 5 m fernlink 0.06 ms: P.front 1",
                    "pass: P.rear 1",
                    "C02 cat5e 40 m fernlink: Q.rear 2",
                    "pass: Q.front 2",
                    "C03 cat6 2 m fernlink: R.front 3",
                    "pass: R.rear 3",
                    "C04 cat6 9 m fernlink: CORE.stage",
                    "patch: CORE.ch 3",
                ]
            ],
            id="digital through three wall panels: one hop for each cable, the latency of the run once",
        ),
        pytest.param(
            """\
box DESK is desk32 in foh; box NB is nb8 in wing; box H1 is hub8 in wing; box H2 is hub8 in foh
link N1: NB.pri -- H1.port 1 via cat6 3 m
link N2: H1.port 8 -- H2.port 8 via om3 150 m
link N3: H2.port 1 -- DESK.pri via cat6 5 m
source vox dynamic in front to NB 3 via xlr 5 m
patch NB.mic 3 -> DESK.ch 3""",
            "vox",
            [
                [
                    "vox",
                    "plug xlr 5 m: NB.mic 3",
                    "preamp 0.4 ms: NB.pri",
                    "N1 cat6 3 m brooknet 1 ms: H1.port 1",
                    "switch: H1.port 8",
                    "N2 om3 150 m brooknet: H2.port 8",
                    "switch: H2.port 1",
                    "N3 cat6 5 m brooknet: DESK.pri",
                    "patch: DESK.ch 3",
                ]
            ],
            id="over two switches: a network's latency counts once",
        ),
        pytest.param(
            """\
box DESK is desk32 in foh; box SL is nw16 in wing; box SR is nw16 in wing; box SU is nw16 in drums
link C01: DESK.stage 1 -- SL.A via cat6s 60 m
link C02: SL.B -- SR.A via cat6s 20 m
link C03: SR.B -- SU.A via cat6s 10 m
source tom dynamic in drums to SU 1 via xlr 5 m
patch SU.mic 1 -> DESK.ch 32""",
            "tom",
            [
                [
                    "tom",
                    "plug xlr 5 m: SU.mic 1",
                    "preamp 0.4 ms: SU.A",
                    "C03 cat6s 10 m fernlink 0.06 ms: SR.B",
                    "chain: SR.A",
                    "C02 cat6s 20 m fernlink 0.06 ms: SL.B",
                    "chain: SL.A",
                    "C01 cat6s 60 m fernlink 0.06 ms: DESK.stage 1",
                    "patch: DESK.ch 32",
                ]
            ],
            id="along a chain: each hop has its latency",
        ),
        pytest.param(
            """\
box DESK is desk32 in foh; box SL is nw16 in wing; box BR is bridge16 in wing
box NB is nb8 in wing
link C01: BR.L -- DESK.stage 1 via cat6s 60 m
link N1: BR.M -- NB.pri via cat6 3 m
source tom dynamic in drums to NB 1 via xlr 5 m
patch NB.mic 1 -> DESK.ch 1""",
            "tom",
            [
                [
                    "tom",
                    "plug xlr 5 m: NB.mic 1",
                    "preamp 0.4 ms: NB.pri",
                    "N1 cat6 3 m brooknet 1 ms: BR.M",
                    "bridge: BR.L",
                    "C01 cat6s 60 m fernlink 0.06 ms: DESK.stage 1",
                    "patch: DESK.ch 1",
                ]
            ],
            id="over a bridge: another protocol on either side",
        ),
        pytest.param(
            """\
box FOH is desk32 in foh; box MON is desk32 in wing; box SL is nw16 in wing
link C01: SL.A -- MON.stage 1 via cat6s 5 m
link N1: MON.pri -- FOH.pri via om3 80 m
source tom dynamic in drums to SL 1 via xlr 5 m
patch SL.mic 1 -> FOH.ch 1""",
            "tom",
            [
                [
                    "tom",
                    "plug xlr 5 m: SL.mic 1",
                    "preamp 0.4 ms: SL.A",
                    "C01 cat6s 5 m fernlink 0.06 ms: MON.stage 1",
                    "patch: MON.pri",
                    "N1 om3 80 m brooknet 1 ms: FOH.pri",
                    "patch: FOH.ch 1",
                ]
            ],
            id="through a desk, where a patch asks for it",
        ),
    ],
)
def test_over_digital_lines(rig: str, name: str, expected: list[list[str]]) -> None:
    assert lines(paths(rig), name) == expected
