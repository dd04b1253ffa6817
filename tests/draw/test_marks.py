"""Findings on a drawing: each with its number where the thing is that it is about."""

from __future__ import annotations

from dataclasses import replace

import pytest

from rigdsl.draw import View
from rigdsl.finding import Finding, Level
from rigdsl.rig import Rig
from tests.draw.made import sheet, small

TEXT = """
zone wing
box DESK is desk32
box SL is nw16 in wing
link C1: SL.A -- DESK.stage 1 via c6 20 m
source kick dynamic in wing to SL.mic 1
patch SL.mic 1-2 -> DESK.ch 1-2
"""


def about(rig: Rig, subject: str, ports: tuple[str, ...] = (), box: str = "") -> Finding:
    """Something to say."""
    return Finding(
        place=next(iter(rig.boxes.values())).place,
        subject=subject,
        message=f"about {subject}",
        level=Level.ERROR,
        ports=ports,
        box=box,
    )


def marked(view: View) -> dict[str, list[int]]:
    """The numbers on each node, row and line."""
    found = {node.id: [mark.number for mark in node.marks] for node in view.nodes}
    for node in view.nodes:
        for index, row in enumerate(node.rows):
            found[f"{node.id} row {index}"] = [mark.number for mark in row.marks]
    found |= {edge.id: [mark.number for mark in edge.marks] for edge in view.edges}
    return {name: numbers for name, numbers in found.items() if numbers}


# What a finding is about, and where the flow shows it.
WHERE = [
    ("SL", (), "", {"box--SL--in": [1]}),
    ("SL.mic", (), "", {"box--SL--in row 0": [1]}),
    ("SL.mic 7", (), "", {"box--SL--in row 2": [1]}),  # in the row of what is free
    ("SL.mic", ("SL.mic 7", "SL.mic 8"), "", {"box--SL--in row 2": [1]}),  # and so where the subject is the group
    ("DESK.ch 2", (), "", {"box--DESK row 2": [1]}),
    ("kick", (), "", {"sources--wing--SL row 0": [1]}),
    ("C1", (), "", {"run--C1--box--SL--in--box--DESK": [1]}),
    ("SL.mic 1-2 -> DESK.ch 1-2", ("SL.mic 1", "SL.mic 2"), "", {"box--SL--in row 0": [1]}),  # once for each box
    ("something else", (), "DESK", {"box--DESK": [1]}),
    ("something else", ("nowhere 1",), "", {}),
]


@pytest.mark.parametrize(("subject", "ports", "box", "expected"), WHERE)
def test_where(subject: str, ports: tuple[str, ...], box: str, expected: dict[str, list[int]]) -> None:
    """At its subject, else at its sockets, else at its box."""
    rig = small(TEXT)
    view = sheet(rig, "flow", (about(rig, subject, ports, box),))
    assert marked(view) == expected
    assert view.elsewhere == (0 if expected else 1)
    assert [message for _, message in view.listed] == ([f"about {subject}"] if expected else [])


def test_numbers_are_those_of_the_list() -> None:
    """In the order given, also where one is shown nowhere."""
    rig = small(TEXT)
    view = sheet(rig, "cabling", (about(rig, "kick"), about(rig, "nothing here"), about(rig, "C1")))
    assert sorted(marked(view).values()) == [[1], [3]]
    assert [mark.number for mark, _ in view.listed] == [1, 3]
    assert view.elsewhere == 1


@pytest.mark.parametrize("which", ["flow", "cabling"])
def test_a_finding_about_a_run_is_on_every_piece_of_it(which: str) -> None:
    """Subject `C1+C2`: the run in the flow, both cables on the cabling sheet."""
    rig = small(
        "box D is desk32\nbox P is panel4\nbox SL is nw16\n"
        "link C1: SL.A -- P.front 1 via c6 3 m\nlink C2: P.rear 1 -- D.stage 1 via c6 3 m"
    )
    view = sheet(rig, which, (about(rig, "C1+C2"),))
    assert len(marked(view)) == (1 if which == "flow" else 2)


STOPS = [
    ("lost-source", "a", {"sources----S row 0": [1], "box--S--in row 1": [1]}),
    ("silent-output", "w", {"outputs----S row 0": [1], "box--S--out row 1": [1]}),
    ("split-pair", "a", {"sources----S row 0": [1]}),
]


@pytest.mark.parametrize(("rule", "subject", "expected"), STOPS)
def test_what_is_lost_is_marked_where_it_stops_too(rule: str, subject: str, expected: dict[str, list[int]]) -> None:
    """A line is drawn as far as the sound gets, and the number stands there."""
    rig = small("box S is nw16\nsource a dynamic to S.mic 3\noutput w wedge from S.line 2")
    said = replace(about(rig, subject), rule=rule)
    assert marked(sheet(rig, "flow", (said,))) == expected
