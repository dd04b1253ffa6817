"""What hangs on a supply, and power over the data cable."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigdsl_power.circuit_load import circuit_load
from rigdsl_power.poe_missing import poe_missing
from tests.rules.said import findings, said


def circuit(*watts: int | None, supply: str = "230 V 16 A") -> str:
    """A supply and boxes that draw so much (None: they do not say)."""
    models = [f"model m{i} {{ kind outboard{'' if w is None else f'; power {w} W'} }}" for i, w in enumerate(watts)]
    boxes = [f"box B{i} is m{i}" for i in range(len(watts))]
    power = [f"power {', '.join(f'B{i}' for i in range(len(watts)))} from D1"] if watts else []
    return "\n".join(('rig "Mains" {}', *models, *boxes, f"supply D1 {supply}", *power))


@pytest.mark.parametrize(
    ("watts", "share", "message"),
    [
        ((2000, 1680), 1.0, None),  # 230 V times 16 A are 3680 W
        ((2000, 1681), 1.0, "3.68 kW hang on `D1`, and 230 V and 16 A are 3.68 kW"),
        ((2000, 2000), 1.0, "4 kW hang on `D1`, and 230 V and 16 A are 3.68 kW"),
        ((2000, 944), 0.8, None),
        ((2000, 1000), 0.8, "3 kW hang on `D1`, and 80 % of 230 V and 16 A are 2.94 kW"),
        (
            (4000, None),
            1.0,
            "4 kW hang on `D1`, and 230 V and 16 A are 3.68 kW; 1 box more says nothing of its draw: `B1`",
        ),
        (
            (4000, None, None),
            1.0,
            "4 kW hang on `D1`, and 230 V and 16 A are 3.68 kW; 2 boxes more say nothing of their draw: `B1`, `B2`",
        ),
        ((None, None), 1.0, None),
        ((), 1.0, None),
    ],
)
def test_a_supply_and_what_hangs_on_it(watts: tuple[int | None, ...], share: float, message: str | None) -> None:
    found = said(circuit_load, circuit(*watts), share=share)
    assert found == ([("warning", "D1", message)] if message else [])


def test_the_caution_stands_beside_it() -> None:
    (finding,) = findings(circuit_load, circuit(4000))
    assert "local codes" in finding.help
    assert "licensed" in finding.help


def test_a_box_with_two_power_supplies_counts_in_full_on_each() -> None:
    """The worst case: the other one has failed."""
    text = circuit(3000, 1000) + "\nsupply D2 230 V 10 A\npower B0 from D2"
    assert [subject for _, subject, _ in said(circuit_load, text)] == ["D1", "D2"]


def test_a_box_may_draw_more_than_its_model() -> None:
    text = circuit(3000).replace("box B0 is m0", "box B0 is m0 { power 3.7 kW }")
    assert [subject for _, subject, _ in said(circuit_load, text)] == ["D1"]


@given(
    st.lists(st.integers(1, 2000), min_size=1, max_size=8),
    st.integers(100, 400),
    st.integers(1, 63),
    st.sampled_from([0.5, 0.8, 1.0]),
)
def test_it_speaks_just_where_watts_are_more_than_volts_times_amperes(
    watts: list[int], volts: int, amperes: int, share: float
) -> None:
    found = said(circuit_load, circuit(*watts, supply=f"{volts} V {amperes} A"), share=share)
    assert bool(found) == (sum(watts) * 10 > volts * amperes * round(share * 10))


# ---- Power over the data cable

GEAR = """\
rig "Over the cable" {}
cable fibre { medium fibre; grade om3 }
model need { kind stage-box; inputs mic 1-2 { preamp }; digital net { connector rj45 }; poe 13 W }
model port { kind stage-box; inputs mic 1-2 { preamp }; digital pri, sec { connector rj45 }; digital out { poe 13 W } }
model plain { kind switch; digital p 1-8 }
model whole { kind switch; digital p 1-8; gives poe 30 W }
model each { kind switch; digital p 1-8 { gives poe 15.4 W } }
model weak { kind switch; digital p 1-8 { gives poe 7 W } }
model wall { kind panel; digital rear 1-4; digital front 1-4; pass rear -- front }
box A is need
box B is need
box C is need
box P is port
box PLAIN is plain
box WHOLE is whole
box EACH is each
box WEAK is weak
box W is wall
"""
REST = {"A": "B, C, P", "P": "A, B, C", "A, B": "C, P", "A, B, C": "P"}


def over_cable(judged: str, *lines: str) -> str:
    """The boxes that are not judged here stand on a supply."""
    return "\n".join((GEAR, "supply D1 230 V 16 A", f"power {REST[judged]} from D1", *lines))


NEEDS = "`A` needs 13 W over its data cable, and "


@pytest.mark.parametrize(
    ("judged", "lines", "subject", "message"),
    [
        ("A", [], "A", NEEDS + "no twisted pair joins it to anything"),
        ("A", ["link A.net -- PLAIN.p 1 via cat6 9 m"], "A", NEEDS + "nothing comes from `PLAIN.p 1`"),
        ("A", ["link A.net -- WHOLE.p 1 via cat6 9 m"], "", ""),
        ("A", ["link A.net -- EACH.p 1 via cat6 9 m"], "", ""),
        # IEEE 802.3af, from memory: 15.4 W at the port, 13 W at the box; a port of class 2 gives 7 W
        ("A", ["link A.net -- WEAK.p 1 via cat6 9 m"], "A", NEEDS + "`WEAK.p 1` gives 7 W"),
        ("A", ["link A.net -- WHOLE.p 1 via fibre 9 m"], "A", NEEDS + "no twisted pair joins it to anything"),
        ("A", ["link A.net -- WHOLE.p 1"], "", ""),  # nobody says what cable it is
        ("A", ["link A.net -- W.rear 1 via cat6 9 m", "link W.front 1 -- WHOLE.p 1 via cat6 9 m"], "", ""),
        (
            "A",
            ["link A.net -- W.rear 1 via cat6 9 m", "link W.front 1 -- WHOLE.p 1 via fibre 9 m"],
            "A",
            NEEDS + "no twisted pair joins it to anything",
        ),
        ("A", ["link A.net -- WHOLE.p 1 via fibre 9 m", "power A from D1"], "", ""),
        # Only the port that says so takes it
        (
            "P",
            ["link P.pri -- EACH.p 1 via cat6 9 m"],
            "P",
            "`P` needs 13 W over its data cable, and no twisted pair joins it to anything",
        ),
        ("P", ["link P.out -- EACH.p 1 via cat6 9 m"], "", ""),
        # 30 W in all: two boxes of 13 W, and no third
        ("A, B", ["link A.net -- WHOLE.p 1 via cat6 9 m", "link B.net -- WHOLE.p 2 via cat6 9 m"], "", ""),
        (
            "A, B, C",
            [f"link {name}.net -- WHOLE.p {i} via cat6 9 m" for i, name in enumerate("ABC", 1)],
            "WHOLE",
            "`WHOLE` gives 30 W over its data cables, and 3 boxes on it need 39 W: `A`, `B`, `C`",
        ),
        ("A, B, C", [f"link {name}.net -- EACH.p {i} via cat6 9 m" for i, name in enumerate("ABC", 1)], "", ""),
    ],
)
def test_power_over_the_data_cable(judged: str, lines: list[str], subject: str, message: str) -> None:
    found = said(poe_missing, over_cable(judged, *lines))
    assert found == ([("warning", subject, message)] if subject else [])
