"""The text twin and the Mermaid text of a drawing; and that twin, SVG and rig agree on who is joined to whom."""

from __future__ import annotations

import json
import re
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from lxml import etree

from rigdsl.draw import Wanted, draw, twin, view
from rigdsl.draw.mermaid import MOST_CHARACTERS, MOST_LINES, mermaid
from rigdsl.draw.shapes import View
from rigdsl.paths import Paths
from rigdsl.rig import Output, Rig, Source, read
from tests.bench.festival import festival_text
from tests.draw.made import SHAPES, example, findings, small
from tests.paths.broken import built, rigs
from tests.reports.told import HOSTILE

SVG = "{http://www.w3.org/2000/svg}"
VIEWS = ("flow", "cabling", "plan")
Joins = set[frozenset[str]]

SMALL = """
zone drums "Drums"
box SUB "Drum box" is sub8 in drums
box DESK is desk8 in drums
link L1: SUB.tail 1-2 -- DESK.local 1-2 via loom8 10 m
source kick "Kick" dynamic in drums to SUB 1 via xlr 3 m
"""


def test_a_twin_reads_like_the_drawing() -> None:
    rig = small(SMALL)
    assert twin(view(rig, Paths(rig), (), "cabling")).splitlines() == [
        "Test",
        "cabling, lengths in metres",
        "",
        "What stands there",
        "-----------------",
        "",
        "DESK, desk, in Drums",
        "  local 1-2",
        "  local 3-8 free",
        "  out 1-2 free",
        "",
        "SUB, Drum box · sub box, in Drums",
        "  panel 1",
        "  tail 1-2",
        "  panel 2-8 free",
        "  tail 3-8 free",
        "",
        "1 source, in Drums",
        "  Kick",
        "",
        "What joins what",
        "---------------",
        "",
        "L1 loom8 10 m (several analogue lines in one)",
        "  SUB.tail 1 -- DESK.local 1",
        "  SUB.tail 2 -- DESK.local 2",
        "",
        "xlr 3 m (one analogue line)",
        "  kick -- SUB.panel 1",
    ]


def test_findings_stand_where_they_are_and_in_a_list() -> None:
    rig = example("faulty/friday")
    text = twin(view(rig, Paths(rig), findings(rig), "flow"))
    listed = re.findall(r"^\[(\d+)\] (?:error|warning|note): ", text, re.MULTILINE)
    marked = set(re.findall(r"  \[(\d+)\]", text))
    assert set(listed) == marked
    assert "by its number in the list" in text


# ---- who is joined to whom


def of_rig(rig: Rig) -> Joins:
    """Every pair that a cable joins: the ends of links, and plugs of sources and outputs."""
    pairs = {frozenset(map(str, join)) for link in rig.links.values() for join in link.joins}
    things: list[Source | Output] = [*rig.sources.values(), *rig.outputs.values()]
    return pairs | {frozenset((thing.name, str(port))) for thing in things for port in thing.ports}


def on_cabling(rig: Rig) -> Joins:
    """What the cabling shows: no plug that has no cable, by radio or inside a computer."""
    things: list[Source | Output] = [*rig.sources.values(), *rig.outputs.values()]
    plugs = [(thing, port) for thing in things for port in thing.ports]
    bare = {frozenset((t.name, str(p))) for t, p in plugs if rig.group(p).wireless or rig.group(p).soft}
    return of_rig(rig) - bare


def on_flow(rig: Rig, paths: Paths) -> tuple[Joins, Joins]:
    """What the flow must show, and what it may: analogue lines and plugs; digital runs end to end, but no control
    data, no surface, and nothing that is joined to the same two sockets twice."""
    analogue = {
        frozenset(map(str, join))
        for link in rig.links.values()
        for join in link.joins
        if all(rig.group(port).analogue for port in join)
    }
    things: list[Source | Output] = [*rig.sources.values(), *rig.outputs.values()]
    plugs = {frozenset((thing.name, str(port))) for thing in things for port in thing.ports}
    runs = {frozenset(map(str, run.ends)) for run in paths.runs}
    inside = {frozenset(map(str, (pair.left, pair.right))) for pair in paths.pairs}
    return analogue | plugs, analogue | plugs | runs | inside


def of_view(made: View) -> Joins:
    return {frozenset(join) for edge in made.edges for join in edge.joins}


def of_twin(text: str) -> Joins:
    return {frozenset(found.groups()) for found in re.finditer(r"^  (\S.*?) (?:->|--) (\S.*)$", text, re.MULTILINE)}


def of_svg(data: bytes) -> Joins:
    parts = etree.fromstring(data).iter(f"{SVG}g")
    return {frozenset(join) for part in parts for join in json.loads(part.get("data-joins", "[]"))}


def agree(rig: Rig, which: str) -> None:
    paths = Paths(rig)
    made = view(rig, paths, (), which)
    joins = of_view(made)
    assert of_twin(twin(made)) == joins
    svgs = draw(rig, paths, (), Wanted(which), "svg")
    assert set().union(*map(of_svg, svgs)) == joins
    if which == "cabling":
        assert joins == on_cabling(rig)
    elif which == "flow":
        least, most = on_flow(rig, paths)
        assert least <= joins <= most
    else:
        assert joins <= on_cabling(rig)


@pytest.mark.parametrize("which", VIEWS)
@pytest.mark.parametrize("name", SHAPES)
def test_twin_picture_and_rig_agree_in_every_example(name: str, which: str) -> None:
    agree(example(name), which)


@pytest.mark.parametrize("which", VIEWS)
@given(text=rigs())
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_twin_picture_and_rig_agree_in_random_rigs(which: str, text: str) -> None:
    rig = built(text)
    assert rig.boxes
    agree(rig, which)


# ---- Mermaid

NAME = r"(?:n\d+|left)"
QUOTED = r'"(?:[\w ,.:\-+/\']|#\d+;)*"'
LINES = (
    re.compile(r"flowchart LR"),
    re.compile(r"  %% [^{}%]*"),
    re.compile(rf"  {NAME}\[{QUOTED}\]"),
    re.compile(rf"  {NAME} (?:-->|---|==>|===|-\.->|-\.-)\|{QUOTED}\| {NAME}"),
)


def mermaid_of(rig: Rig, which: str) -> tuple[str, list[str]]:
    said: list[str] = []
    text = mermaid(view(rig, Paths(rig), findings(rig), which), said.append)
    for line in text.splitlines():
        assert any(form.fullmatch(line) for form in LINES), line
    assert len(text) <= MOST_CHARACTERS
    assert sum("|" in line for line in text.splitlines()) <= MOST_LINES
    return text, said


@pytest.mark.parametrize("which", VIEWS)
@pytest.mark.parametrize("name", SHAPES)
def test_an_example_is_shown_whole(name: str, which: str) -> None:
    """Each box once, each two of them that are joined with one line between."""
    rig = example(name)
    text, said = mermaid_of(rig, which)
    made = view(rig, Paths(rig), findings(rig), which)
    assert said == []
    assert text.count("[") == len(made.nodes)
    assert text.count("|") // 2 == len({(edge.left.node, edge.right.node) for edge in made.edges if edge.joins})


def test_what_is_too_much_is_left_out_aloud() -> None:
    """The festival of five stages: over 500 lines or 50,000 characters, a part of it, and in it what is not there."""
    rig = read(festival_text())
    text, said = mermaid_of(rig, "cabling")
    assert (said != []) == ("left[" in text)
    rows = (f'zone extra{n} "{"x" * 110}"\nbox EX{n} "{"y" * 110}" is sub12 in extra{n}' for n in range(400))
    many = read(festival_text() + "\n".join(rows))
    text, said = mermaid_of(many, "cabling")
    assert len(said) == 1
    assert re.fullmatch(r"the text leaves out .*: a drawing in SVG or PDF has everything", said[0])
    assert "leaves out" in text


@pytest.mark.parametrize("label", [*HOSTILE, "end", "```", "%%{init: {}}%%", "#quot;", "x" * 200])
def test_labels_are_data(label: str) -> None:
    made = view(small(SMALL), Paths(small(SMALL)), (), "cabling")
    nodes = tuple(replace(node, title=label) for node in made.nodes)
    text = mermaid(replace(made, nodes=nodes, title=label), lambda note: None)
    for line in text.splitlines():
        assert any(form.fullmatch(line) for form in LINES), line
    words = twin(replace(made, nodes=nodes, title=label))
    assert not set(words) & {"\x00", "\r"}
