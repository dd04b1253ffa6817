"""The whole test of a pack: its pages, its cases, and rigs that are spoilt."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigdsl import testing
from rigdsl.papers import Facts
from rigdsl.paths import Paths
from rigdsl.rig import DictReader, load
from rigdsl_road_rules import pack
from rigdsl_road_rules.cable_colour import cable_colour

CASES = sorted(Path(__file__).parent.glob("cases/*.rig"))
CABLE = """\
rig "One cable" {{ rate 48 kHz }}
box SL "Stage left" is marsh16
box DESK "Desk" is marsh-desk
link C01: SL.A -- DESK.stage 1 via cat6 {length} {{ note "{note}" }}
"""


@pytest.mark.parametrize("rule", [rule.name for rule in pack.rules])
def test_the_page_is_true(rule: str) -> None:
    assert testing.page_faults(pack, rule) == []


@pytest.mark.parametrize("case", CASES, ids=[case.stem for case in CASES])
def test_a_case(case: Path) -> None:
    assert testing.case_faults(case, pack) == []


def test_no_rig_breaks_it_down() -> None:
    assert testing.breakdowns(pack) == []


@pytest.mark.parametrize(
    ("length", "note", "colours", "said"),
    [
        ("60 m", "red", {"60": "red"}, []),
        ("60 m", "RED drum", {"60": "red"}, []),
        ("60 m", "redder", {"60": "red"}, ["`C01` names no colour, and the house marks 60 m with `red`"]),
        (
            "60 m",
            "blue",
            {"60": "red", "30": "blue"},
            ["`C01` is noted as `blue`, and the house marks 60 m with `red`"],
        ),
        ("2.5 m", "", {"2.5": "green"}, ["`C01` names no colour, and the house marks 2.5 m with `green`"]),
        ("60 m", "", {"30": "blue"}, []),
        ("", "", {"0": "black"}, []),
    ],
)
def test_colours(length: str, note: str, colours: dict[str, str], said: list[str]) -> None:
    text = CABLE.format(length=length, note=note)
    found = testing.alone(cable_colour, text, {"colours": colours}, pack.libraries)
    assert [finding.message for finding in found] == said


def test_the_drawing_of_chains() -> None:
    """A node for each box, a line for each cable that chains one, and the findings where they belong."""
    text = CABLE.format(length="60 m", note="")
    rig = load("one.rig", DictReader({"one.rig": text}), pack.libraries).rig
    (view,) = pack.views
    sheet = view.sheet(rig, Paths(rig), testing.findings(text, pack))
    assert [(node.id, node.rows[0].cells[1].text) for node in sheet.nodes] == [
        ("DESK", "the chain begins here"),
        ("SL", "box 1 of its chain"),
    ]
    (edge,) = sheet.edges
    assert (edge.left.node, edge.right.node, edge.label) == ("DESK", "SL", ("C01",))
    assert len(edge.marks) == 1


def test_the_list_in_the_trunk() -> None:
    text = CABLE.format(length="60 m", note="")
    rig = load("one.rig", DictReader({"one.rig": text}), pack.libraries).rig
    (table,) = pack.papers[0].tables(Facts(rig, Paths(rig)))
    assert table.rows == (("red", "C01", "cat6", 60, "SL.A", "DESK.stage 1"),)


def test_the_input_list_has_a_column_more() -> None:
    text = CABLE.format(length="60 m", note="") + 'source vox "Vocal" dynamic in wing to SL 1 via xlr 10 m\n'
    rig = load("one.rig", DictReader({"one.rig": text}), pack.libraries).rig
    (table,) = pack.papers[1].tables(Facts(rig, Paths(rig)))
    assert (table.column("label"), table.column("tape")) == (("Vocal",), ("yellow",))
    assert table.columns[table.columns.index("cable") + 1] == "tape"
