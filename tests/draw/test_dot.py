"""DOT text: one view, one text."""

from __future__ import annotations

import os
import random
import subprocess
import sys

import pytest

from rigdsl.draw import Wanted, dot, draw
from rigdsl.draw.markup import escaped
from rigdsl.paths import Paths
from rigdsl.rig import read
from tests.draw.made import EXAMPLES, GEAR, findings, sheet, small

VIEWS = ["flow", "cabling"]

STATEMENTS = [
    'zone wing "Left" at (6, 1) m',
    "zone foh at (0, -20) m",
    "box DESK is desk32 in foh",
    "box S2 is nw16 in wing",
    "box S10 is nw16 in wing",
    "box DR is sub8 in wing",
    "box P is split4 in wing",
    "box T1 is tx2 in wing",
    "link C1: S2.A -- DESK.stage 1 via c6 20 m",
    "link C2: S2.B -- S10.A via c6 9 m",
    "link L1: DR.tail 1-8 -- S2.mic 1-8 via loom8 10 m",
    "link L2: P.direct 1-4 -- S10.mic 1-4 via loom8 10 m",
    "link X1: S10.line 1-2 -- T1.in 1-2 via xlr 3 m",
    "source kick dynamic in wing to DR 1",
    "source keys di in wing to DR 2-3",
    "source vox condenser in wing to P 1",
    "source bv condenser in wing",
    "output wdg wedge in wing from S2.line 2",
    "output ears in-ear in wing from T1.air 1-2",
    "patch S2.mic 1-3 -> DESK.ch 1-3",
    "patch S10.mic 1 -> DESK.ch 9",
    "patch DESK.mix 5 -> S2.line 2",
    "patch DESK.mix 7-8 -> S10.line 1-2",
    'keep S2.mic 16 for "guest"',
]


def text_of(statements: list[str], which: str) -> str:
    """The DOT text of a rig with its statements in this order."""
    rig = read("\n".join(['rig "Test" { lead xlr }', GEAR, *statements]))
    return dot(sheet(rig, which, tuple(sorted(findings(rig), key=lambda one: (one.rule, one.subject)))))


@pytest.mark.parametrize("which", VIEWS)
@pytest.mark.parametrize("seed", range(6))
def test_the_order_of_statements_has_no_part_in_it(which: str, seed: int) -> None:
    """Shuffled, it is the same text to the byte."""
    shuffled = STATEMENTS[:]
    random.Random(seed).shuffle(shuffled)
    assert shuffled != STATEMENTS
    assert text_of(shuffled, which) == text_of(STATEMENTS, which)


@pytest.mark.parametrize("form", ["svg", "pdf", "png", "gv", "mmd", "txt"])
@pytest.mark.parametrize("which", [*VIEWS, "plan"])
def test_nor_in_any_form_or_on_paper(which: str, form: str) -> None:
    """Sheet by sheet on A4, and in every form, to the byte."""

    def made(statements: list[str]) -> tuple[bytes, ...]:
        rig = read("\n".join(['rig "Test" { lead xlr }', GEAR, *statements]))
        said = sorted(findings(rig), key=lambda one: (one.rule, one.subject))
        return draw(rig, Paths(rig), said, Wanted(which, paper="a4"), form)

    shuffled = STATEMENTS[:]
    random.Random(1).shuffle(shuffled)
    assert made(shuffled) == made(STATEMENTS)


def test_nor_has_the_seed_of_hashes() -> None:
    """Two processes that order their sets differently draw the same."""
    program = (
        "import sys\nfrom pathlib import Path\nfrom rigdsl.draw import Wanted, draw\nfrom rigdsl.paths import Paths\n"
        "from rigdsl.rig import DiskReader, load\n"
        "rig = load(sys.argv[1], DiskReader(Path(sys.argv[2]))).rig\n"
        "for which in ('flow', 'cabling', 'plan'):\n"
        "    for sheet in draw(rig, Paths(rig), (), Wanted(which, paper='a3'), 'svg'):\n"
        "        sys.stdout.buffer.write(sheet)\n"
    )
    root = EXAMPLES / "festival"
    command = [sys.executable, "-c", program, str(root / "shows" / "saturday-day.rig"), str(root)]
    drawn = {
        subprocess.run(command, env={**os.environ, "PYTHONHASHSEED": seed}, capture_output=True, check=True).stdout
        for seed in ("1", "2")
    }
    assert len(drawn) == 1


ESCAPED = [
    ("", "&#160;"),
    ('"<&>"', "&quot;&lt;&amp;&gt;&quot;"),
    ("&amp;", "&amp;amp;"),
    ("\\N", "\\\\N"),
    ("a\\", "a\\\\"),
    ("日本", "日本"),
]


@pytest.mark.parametrize(("text", "expected"), ESCAPED)
def test_escaped(text: str, expected: str) -> None:
    """Text as data: markup and escapes are taken as they are written."""
    assert escaped(text) == expected


@pytest.mark.parametrize("which", VIEWS)
def test_what_a_user_wrote_stands_in_tables_only(which: str) -> None:
    """Every name outside the tables is made of letters, digits and hyphens."""
    rig = read('rig "Test" {}\n' + GEAR + 'box S "a\\"b" is nw16\nsource a "];}" dynamic to S.mic 1')
    outside, depth = "", 0
    for char in dot(sheet(rig, which)).replace(" -> ", " "):
        depth += (char == "<") - (char == ">")
        outside += char if depth == 0 else ""
    assert depth == 0
    assert "];}" not in outside
    assert 'a"b' not in outside


TAKEN_TWICE = [
    ("by one link, to one box", "link L1 via loom8 3 m { P.tail 1 -- S.mic 1; P.tail 1-2 -- S.mic 3-4 }"),
    ("by one link, to two boxes", "link L1 via loom8 3 m { P.tail 1 -- S.mic 1; P.tail 1-2 -- T.mic 3-4 }"),
    (
        "by a link without a name",
        "link P.tail 1 -- S.mic 1 via xlr 3 m { loom L }\nlink P.tail 1 -- T.mic 1 via xlr 3 m",
    ),
    (
        "by two links between the same sockets",
        "link P.tail 1 -- S.mic 1 via xlr 3 m\nlink P.tail 1 -- S.mic 1 via c6 3 m",
    ),
    ("by three sources", "source a dynamic to S.mic 1\nsource b dynamic to S.mic 1\nsource a-b dynamic to S.mic 1-2"),
]


@pytest.mark.parametrize("which", VIEWS)
@pytest.mark.parametrize("text", [pytest.param(text, id=name) for name, text in TAKEN_TWICE])
def test_every_part_has_a_name_of_its_own(text: str, which: str) -> None:
    """Also where a socket is taken twice: no two nodes, lines or fields share one."""
    view = sheet(small(f"box S is nw16\nbox T is nw16\nbox P is sub8\n{text}"), which)
    names = [*(node.id for node in view.nodes), *(edge.id for edge in view.edges)]
    names += [f"{node.id}--{cell.key}" for node in view.nodes for row in node.rows for cell in row.cells if cell.key]
    assert view.edges
    assert sorted(names) == sorted(set(names))


def test_sockets_with_nearly_one_name_have_a_field_each() -> None:
    """`mic-1` and `mic 1` read alike, and are two sockets."""
    text = """
    model odd { kind stage-box; inputs mic-1; inputs mic 1-8; digital A { protocol aes50 } }
    model mixer { kind console; channels ch 1-8; digital st { protocol aes50 } }
    zone wing; box S is odd in wing; box D is mixer in wing
    link C1: S.A -- D.st via cat6 10 m
    source a dynamic in wing to S.mic-1; source b dynamic in wing to S.mic 1
    patch a, b -> D.ch 1-2
    """
    ends = {edge.right for edge in sheet(small(text), "flow").edges if edge.right.key.startswith("mic")}
    assert len(ends) == 2
