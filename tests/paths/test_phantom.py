"""Where phantom comes from and goes to: small rigs by hand, random ones against a general graph library."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.paths import Paths
from rigdsl.rig import Leg, Port, read

GEAR = """\
model pre { kind stage-box; inputs mic 1-4 { preamp; phantom 48 V 10 mA } }
model bare { kind stage-box; inputs mic 1-4 { preamp } }
model bank16 { kind stage-box; inputs mic 1-20 { preamp; phantom 48 V 10 mA; bank 8 } }
model tie { kind panel; inputs in 1-4; outputs out 1-4; pass in -> out }
model turn { kind panel; inputs in 1-4; outputs out 1-4; pass in -- out }
model split {
  kind splitter; inputs in 1-4; outputs a 1-4; outputs b 1-4; outputs c 1-4
  pass in -> a; pass in -> b { isolated }; pass in -> c { active }
}
"""


def paths(*lines: str) -> Paths:
    made = read("\n".join(['rig "Wire" {}', GEAR, *lines]))
    assert [finding.message for finding in made.findings] == []
    return Paths(made)


def fed(found: Paths, name: str, index: int = 0) -> list[str]:
    """Each preamp with phantom, and where it is stopped."""
    feeds = found.fed_by(Leg(name, index))
    return [f"{one.preamp}" + (f" stopped at {one.barrier.right}" if one.barrier else "") for one in feeds]


@pytest.mark.parametrize(
    ("leg", "expected"),
    [
        ("a", ["P.mic 1"]),
        ("b", ["P.mic 1 stopped at S.b 1"]),
        ("c", ["P.mic 1 stopped at S.c 1"]),
    ],
)
def test_wire_passes_phantom_and_transformers_and_active_stages_stop_it(leg: str, expected: list[str]) -> None:
    found = paths("box S is split", "box P is pre", f"link L1: S.{leg} 1 -- P.mic 1", "source oh condenser to S.in 1")
    assert fed(found, "oh") == expected
    reached = found.phantom_reach(Port("P", "mic", 1))
    assert [str(one) for one in reached.legs] == (["oh"] if leg == "a" else [])


def test_the_first_thing_that_stops_it_is_named() -> None:
    found = paths(
        "box S is split",
        "box T is split",
        "box P is pre",
        "link L1: S.b 1 -- T.in 1",
        "link L2: T.c 1 -- P.mic 1",
        "source oh condenser to S.in 1",
    )
    assert fed(found, "oh") == ["P.mic 1 stopped at S.b 1"]


def test_a_longer_way_of_wire_beats_a_shorter_one_through_a_transformer() -> None:
    """Two cables come to one input by an accident of plugging; phantom takes whichever is wire."""
    found = paths(
        "box S is split",
        "box T is tie",
        "box P is pre",
        "link L1: S.b 1 -- P.mic 1",
        "link L2: S.a 1 -- T.in 1",
        "link L3: T.out 1 -- P.mic 1",
        "source oh condenser to S.in 1",
    )
    assert fed(found, "oh") == ["P.mic 1"]


def test_what_has_no_phantom_feeds_nothing_and_an_unplugged_line_gets_none() -> None:
    found = paths("box B is bare", "source oh condenser to B 1", "source lost condenser to B")
    assert fed(found, "oh") == []
    assert fed(found, "lost") == []


@pytest.mark.parametrize(("socket", "on"), [(1, (1, 8)), (8, (1, 8)), (9, (9, 16)), (17, (17, 20))])
def test_a_bank_is_switched_together(socket: int, on: tuple[int, int]) -> None:
    found = paths("box K is bank16", f"source oh condenser to K {socket}")
    assert sorted(port.number for port in found.phantom_on) == list(range(on[0], on[1] + 1))
    assert {str(leg) for one in found.phantom_on.values() for leg in one.bank} == {"oh"}
    assert [port.number for port, one in found.phantom_on.items() if one.own] == [socket]


@pytest.mark.parametrize(
    "source",
    ["x dynamic", "x ribbon", "x condenser { phantom no }", "x wireless { phantom }", "x playback { phantom }"],
)
def test_nothing_is_on_where_nothing_needs_it(source: str) -> None:
    name, _, facts = source.partition(" {")
    found = paths("box P is pre", f"source {name} to P 1 {'{' + facts if facts else ''}")
    assert dict(found.phantom_on) == {}


@pytest.mark.parametrize(
    ("controls", "on"),
    [
        ((), ["P.mic 1", "Q.mic 1"]),
        (("control P.mic 1 by P",), ["P.mic 1"]),
        (("control Q.mic 1 by P",), ["Q.mic 1"]),
        (("control P.mic 1 by P", "control Q.mic 1 by P"), ["P.mic 1", "Q.mic 1"]),
        (("control P.mic 1 by P", "control Q.mic 1 by Q"), ["P.mic 1", "Q.mic 1"]),
    ],
)
def test_of_two_preamps_the_one_with_an_owner_is_on(controls: tuple[str, ...], on: list[str]) -> None:
    found = paths(
        "box P is pre",
        "box Q is pre",
        "box S is split",
        "box T is tie",
        "link L1: S.a 1 -- P.mic 1",
        "link L2: S.a 1 -- T.in 1",
        "link L3: T.out 1 -- Q.mic 1",
        "source oh condenser to S.in 1",
        *controls,
    )
    assert sorted(str(port) for port in found.phantom_on) == on


# ---- random wiring


@dataclass(frozen=True)
class Made:
    """Boxes by name with their models, cables from an output to an input, plugs of sources."""

    boxes: dict[str, str]
    cables: tuple[tuple[Port, Port], ...]
    plugs: tuple[Port, ...]

    def paths(self) -> Paths:
        return paths(
            *(f"box {name} is {model}" for name, model in self.boxes.items()),
            *(f"link L{n}: {out} -- {into}" for n, (out, into) in enumerate(self.cables, 1)),
            *(f"source s{n} condenser to {port}" for n, port in enumerate(self.plugs, 1)),
        )


Groups = dict[str, tuple[str, ...]]
INPUTS: Groups = {"pre": ("mic",), "bare": ("mic",), "tie": ("in",), "turn": ("in",), "split": ("in",)}
OUTPUTS: Groups = {"tie": ("out",), "turn": ("out",), "split": ("a", "b", "c")}
WIRE = {("tie", "in", "out"), ("turn", "in", "out"), ("turn", "out", "in"), ("split", "in", "a")}


def sockets(boxes: dict[str, str], groups: Groups) -> list[Port]:
    return [Port(box, group, n) for box, model in boxes.items() for group in groups.get(model, ()) for n in (1, 2)]


@st.composite
def wirings(draw: st.DrawFn) -> Made:
    """A handful of boxes and any cables between them, circles and sockets taken twice among them."""
    models = draw(st.lists(st.sampled_from(sorted(INPUTS)), min_size=2, max_size=8))
    boxes = {f"X{n}": model for n, model in enumerate(models, 1)}
    ins, outs = sockets(boxes, INPUTS), sockets(boxes, OUTPUTS)
    cables = draw(st.lists(st.tuples(st.sampled_from(outs), st.sampled_from(ins)), max_size=14)) if outs else []
    plugs = draw(st.lists(st.sampled_from(ins), min_size=1, max_size=4))
    kept = dict.fromkeys((out, into) for out, into in cables if out.box != into.box)
    # A signal enters at its plug: it does not go back out by a cable that is meant for that same socket.
    cabled = {into for _, into in kept if boxes[into.box] == "turn"}
    return Made(boxes, tuple(kept), tuple(port for port in plugs if port not in cabled))


def graph(made: Made, *, all_passes: bool = False) -> nx.DiGraph[Port]:
    """Sockets in the direction of sound, from the list of cables alone."""
    found: nx.DiGraph[Port] = nx.DiGraph()
    found.add_nodes_from([*sockets(made.boxes, INPUTS), *sockets(made.boxes, OUTPUTS)])
    for out, into in made.cables:
        found.add_edge(out, into)
        # either side of a two-way panel may be where the signal leaves
        if made.boxes[out.box] == made.boxes[into.box] == "turn":
            found.add_edge(into, out)
    for box, model in made.boxes.items():
        ways = [(m, a, b) for m, a, b in WIRE if m == model]
        if all_passes and model == "split":
            ways += [("split", "in", "b"), ("split", "in", "c")]
        found.add_edges_from((Port(box, a, n), Port(box, b, n)) for _, a, b in ways for n in (1, 2))
    return found


@settings(max_examples=300, deadline=None)
@given(wirings())
def test_phantom_reach_is_reachability_in_a_graph(made: Made) -> None:
    found, wire, sound = made.paths(), graph(made), graph(made, all_passes=True)
    preamps = [port for port in sockets(made.boxes, INPUTS) if made.boxes[port.box] == "pre"]
    for preamp in preamps:
        assert set(found.phantom_reach(preamp).sockets) == {preamp} | nx.ancestors(wire, preamp)
    for n, plug in enumerate(made.plugs, 1):
        direct = {one.preamp for one in found.fed_by(Leg(f"s{n}", 0)) if one.barrier is None}
        stopped = {one.preamp for one in found.fed_by(Leg(f"s{n}", 0)) if one.barrier}
        assert direct == ({plug} | nx.descendants(wire, plug)) & set(preamps)
        assert direct | stopped == ({plug} | nx.descendants(sound, plug)) & set(preamps)
        assert not direct & stopped
        # both directions say the same
        assert direct == {p for p in preamps if Leg(f"s{n}", 0) in found.phantom_reach(p).legs}


@settings(max_examples=100, deadline=None)
@given(wirings(), st.data())
def test_another_leg_behind_a_transformer_extends_no_reach(made: Made, data: st.DataObject) -> None:
    """One more splitter fed through its isolated output gives phantom to nobody."""
    pres = [port for port in sockets(made.boxes, INPUTS) if made.boxes[port.box] == "pre"]
    outs = sockets(made.boxes, OUTPUTS)
    if not pres or not outs:
        return
    out, preamp = data.draw(st.sampled_from(outs)), data.draw(st.sampled_from(pres))
    extra = (("X99", "in"), ("X99", "b"))
    more = Made(
        {**made.boxes, "X99": "split"},
        (*made.cables, (out, Port(*extra[0], 1)), (Port(*extra[1], 1), preamp)),
        made.plugs,
    )
    before, after = made.paths(), more.paths()
    for pre in pres:
        old, new = set(before.phantom_reach(pre).sockets), set(after.phantom_reach(pre).sockets)
        assert new - old <= {Port("X99", "b", 1)}
        assert before.phantom_reach(pre).legs == after.phantom_reach(pre).legs


def test_a_long_row_of_panels_is_walked_once_each_way() -> None:
    count = 60
    found = paths(
        *(f"box T{n} is tie" for n in range(1, count + 1)),
        "box P is pre",
        *(f"link L{n}: T{n}.out 1 -- T{m}.in 1" for n, m in pairwise(range(1, count + 1))),
        f"link L{count}: T{count}.out 1 -- P.mic 1",
        "source oh condenser to T1.in 1",
    )
    assert fed(found, "oh") == ["P.mic 1"]
    assert len(found.phantom_reach(Port("P", "mic", 1)).sockets) == 2 * count + 1
