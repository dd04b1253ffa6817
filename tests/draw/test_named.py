"""A view of a pack: made of the same values as ours, held to what an engine can draw, its gear to what gear is."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import pytest

from rigdsl.draw import Cell, Edge, End, NamedView, Node, Row, View, Wanted, draw, faults, sheet, sheets
from rigdsl.draw.patterns import LINE
from rigdsl.finding import Finding
from rigdsl.packs import Installed, Pack, PackError, Packs, gear, pack_faults
from rigdsl.packs.guards import guarded_view
from rigdsl.paths import Paths
from rigdsl.rig import Rig, read
from rigdsl.text import Source

RIG = read('rig "R" {}\n')
ROW = Row((Cell(key="in"), Cell("<&> here"), Cell(key="out")))
A, B = (Node(name, "box", name, rows=(ROW,)) for name in ("a", "b"))
EDGE = Edge("a-b", End("a", "out", "e"), End("b", "in", "w"), LINE)

Made = Callable[[Rig, Paths, Sequence[Finding]], Any]


def of(*nodes: Node, edges: tuple[Edge, ...] = ()) -> View:
    return sheet(RIG, (), "fest/v", "boxes", (nodes, edges), "left to right")


def packs(made: Made) -> Packs:
    return Packs((Installed(Pack("fest", views=(NamedView("fest/v", "boxes", made),)), "1.2"),))


def test_it_is_drawn_as_ours_are() -> None:
    found = packs(lambda *_: of(A, B, edges=(EDGE,)))
    picture = draw(RIG, Paths(RIG), (), Wanted("fest/v"), "svg", more=found.views)[0].decode("utf-8")
    assert 'id="sheet-fest-v-1"' in picture
    assert "&lt;&amp;&gt; here" in picture
    assert "The boxes of R: 0 sources, 0 boxes, 0 links, 0 outputs; left to right." in picture


@pytest.mark.parametrize(
    ("view", "said"),
    [
        (of(A, B, edges=(EDGE,)), []),
        (None, ["it gave NoneType and no view"]),
        (
            of(replace(A, id='a" b')),
            ['`a" b` is no name for a part of a drawing: letters, digits, `_` and hyphens'],
        ),
        (
            of(replace(A, rows=(Row((Cell(key="in]"),)),))),
            ["`in]` is no name for a part of a drawing: letters, digits, `_` and hyphens"],
        ),
        (of(A, A), ["two parts of the drawing are called `a`"]),
        (of(A, edges=(replace(EDGE, id="a", right=EDGE.left),)), ["two parts of the drawing are called `a`"]),
        (of(A, edges=(EDGE,)), ["the line `a-b` ends in nothing that is drawn"]),
        (
            of(A, B, edges=(replace(EDGE, left=End("a", "up", "e")),)),
            ["the line `a-b` ends in nothing that is drawn"],
        ),
    ],
)
def test_what_no_engine_could_draw(view: View, said: list[str]) -> None:
    assert faults(view) == said
    if said:
        with pytest.raises(PackError) as told:
            packs(lambda *_: view).views["fest/v"].sheet(RIG, Paths(RIG), ())
        words = f"the view `fest/v` broke down: ValueError: {said[0]}; tell the makers of the pack `fest` 1.2"
        assert str(told.value).startswith(words)


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("model {\n", 1),
        ("cable x { medium twine }\n", 1),
        ("\nmodel m { kind stage-box; digital A { protocol plover } }\n", 2),
        ('rig "R" {}\nmodel m { kind panel }\n', 1),
        ("model m { kind panel }\n\nbox A is m\n", 3),
        ('use "more.rig"\n', 1),
    ],
)
def test_gear_with_a_fault_refuses_the_pack_with_its_line(text: str, line: int) -> None:
    said = pack_faults(Pack("fest", libraries=(Source("fest/gear.rig", text),)), "fest:pack")
    assert said
    assert all(fault.startswith(f"`fest/gear.rig`, line {line}: ") for fault in said)


def test_a_file_of_gear_may_lean_on_another_of_its_pack() -> None:
    protocol = Source("fest/a.rig", "protocol plover { carries 8 at 48 kHz; over cat5e 100 m }\n")
    model = Source("fest/b.rig", "model m { kind stage-box; digital A { protocol plover } }\n")
    assert pack_faults(Pack("fest", libraries=(protocol, model)), "fest:pack") == []


def test_the_gear_that_lies_in_a_package() -> None:
    library = gear("rigdsl.library")
    assert [source.path for source in library] == sorted(source.path for source in library)
    assert library[0].path == "rigdsl.library/analogue.rig"


def no_place(*_: Any) -> Any:
    raise KeyError("no place")


PLAIN = NamedView("v", "view", lambda *_: of(A, B, edges=(EDGE,)))


@pytest.mark.parametrize("view", [replace(PLAIN, place=no_place), replace(PLAIN, fit=no_place)], ids=["place", "fit"])
def test_a_view_that_cannot_place_itself_is_told_with_its_pack(view: NamedView) -> None:
    guarded = guarded_view(view, "`fest` 1.0")
    with pytest.raises(PackError, match=r"the view `v` broke down: .*; tell the makers of the pack `fest` 1.0"):
        sheets(guarded.sheet(RIG, Paths(RIG), ()), RIG, guarded)
