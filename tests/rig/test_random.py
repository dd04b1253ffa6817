"""Real rigs with something done to them: they never break the reader, and the order of their lines means nothing."""

from __future__ import annotations

import os
import random
import re
import time
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rigdsl.finding import Finding, Level
from rigdsl.paths import Paths
from rigdsl.rig import DictReader, Lead, Port, Rig, library, load, read
from tests.rig.lantern import GEAR, SHOW
from tests.rig.said import plugs

ROOT = Path(__file__).parents[2] / "examples"
LANTERN = "lantern/friday.rig"
SLOWEST_S = 5.0  # the largest takes a twentieth of that; a machine may be busy

Files = dict[str, str]


@cache
def project(name: str) -> tuple[tuple[str, str], ...]:
    """The files of an example."""
    if name == LANTERN:
        return ((LANTERN, SHOW + GEAR),)
    folder = ROOT / name.split("/")[0]
    found = sorted(folder.rglob("*.rig"))
    return tuple((path.relative_to(ROOT).as_posix(), path.read_text("utf-8")) for path in found)


ENTRIES = [LANTERN, *sorted(path.relative_to(ROOT).as_posix() for path in ROOT.glob("*/shows/*.rig"))]


def loaded(entry: str, files: Files) -> Rig:
    return load(entry, DictReader(files)).rig


# ---- what can happen to a text


def by_lines(text: str, random_: random.Random) -> str:
    """Lines taken away, doubled, or put elsewhere."""
    lines = text.split("\n")
    for _ in range(random_.randint(1, 3)):
        one, other = random_.randrange(len(lines)), random_.randrange(len(lines))
        do = random_.randrange(3)
        if do == 0 and len(lines) > 1:
            del lines[one]
        elif do == 1:
            lines.insert(other, lines[one])
        else:
            lines[one], lines[other] = lines[other], lines[one]
    return "\n".join(lines)


def by_words(text: str, random_: random.Random) -> str:
    """Words taken away, doubled, or put in place of others."""
    words = re.split(r"(\s+)", text)
    for _ in range(random_.randint(1, 4)):
        one, other = random_.randrange(len(words)), random_.randrange(len(words))
        words[one] = random_.choice(("", words[one] * 2, words[other], words[one][::-1]))
    return "".join(words)


def by_characters(text: str, random_: random.Random) -> str:
    """Characters taken away, or put in: those of the language, and those of nobody's."""
    found = list(text)
    for _ in range(random_.randint(1, 8)):
        at = random_.randrange(len(found))
        found[at] = random_.choice(
            ("", "{", "}", '"', "-", ";", ",", "\n", "#", "0", ".", "é", "\u202e", "\0", "\\", "☃")
        )
    return "".join(found)


def cut(text: str, random_: random.Random) -> str:
    """The rest of the file is missing."""
    return text[: random_.randrange(len(text))]


MUTATIONS: list[Callable[[str, random.Random], str]] = [by_lines, by_words, by_characters, cut]


@pytest.mark.parametrize("mutate", MUTATIONS, ids=lambda mutate: mutate.__name__)
@given(entry=st.sampled_from(ENTRIES), seed=st.integers(0, 2**32 - 1))
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_rig_with_something_done_to_it(mutate: Callable[[str, random.Random], str], entry: str, seed: int) -> None:
    random_ = random.Random(seed)
    files = dict(project(entry))
    victim = random_.choice(sorted(files))
    files[victim] = mutate(files[victim], random_)
    started = time.perf_counter()
    rig = loaded(entry, files)
    assert time.perf_counter() - started < SLOWEST_S
    for finding in rig.findings:
        check_finding(finding, files)
    hangs_together(rig)
    assert same(rig, loaded(entry, files))


def check_finding(finding: Finding, files: Files) -> None:
    """It has a place in a file that was read, and all that a user must know."""
    source = finding.place.source
    assert source.path in files
    assert 0 <= finding.place.start <= finding.place.end <= len(source.text)
    assert (finding.level, bool(finding.rule), bool(finding.subject)) == (Level.ERROR, True, True)
    assert finding.message == finding.message.strip()
    assert not finding.message.endswith(".")
    assert "\n" not in finding.message + finding.help
    assert len(finding.message) < 2000


def hangs_together(rig: Rig) -> None:
    """Whatever a rig names is in it: rules look things up without asking."""
    sockets = [port for link in rig.links.values() for pair in link.joins for port in pair]
    sockets += [port for thing in plugs(rig) for port in thing.ports]
    sockets += [port for control in rig.controls for port in control.ports]
    sockets += [port for keep in rig.keeps for port in keep.ports]
    for port in sockets:
        assert port in rig.boxes[port.box].ports(rig.group(port))
    for box in rig.boxes.values():
        assert box.zone in {"", *rig.zones}
        for group in box.model.groups.values():
            assert set(group.protocols) <= rig.protocols.keys()
        wires = [(one.left, one.right) for one in box.model.passes]
        wires += [(one.left, one.right) for one in box.model.bridges]
        assert {name for both in wires for name in both} <= box.model.groups.keys()
    for patch in rig.patches:
        for end in (end for pair in patch.pairs for end in pair):
            known = {*rig.boxes} if isinstance(end, Port) else {*rig.sources, *rig.outputs, *rig.boxes}
            assert end[0] in known
    assert {clock.box for clock in rig.clocks} <= rig.boxes.keys()
    assert all(source.partner in {"", *rig.sources} for source in rig.sources.values())
    assert all(output.partner in {"", *rig.outputs} for output in rig.outputs.values())
    hangs_together_in_detail(rig)


def hangs_together_in_detail(rig: Rig) -> None:
    """Inserts, supplies and cards too."""
    for insert in rig.inserts:
        roles = [rig.group(port).role for port in (insert.at, insert.send, insert.back)]
        assert roles[0] in ("channels", "mixes")
        assert roles[1:] == ["inputs", "outputs"]
        assert all(port in rig.boxes[port.box].ports(rig.group(port)) for port in (insert.at, insert.send, insert.back))
    fed = [box for power in rig.powers for box in power.boxes]
    assert len(fed) == len(set(fed))
    assert set(fed) <= rig.boxes.keys()
    assert {power.supply for power in rig.powers} <= rig.supplies.keys()
    for box in rig.boxes.values():
        host = rig.boxes[rig.body(box.name)]
        assert host.slot is None
        assert box in rig.whole(host.name)
        if box.slot is not None:
            assert box.slot.number <= host.model.slots[box.slot.group].count
            assert box.zone == host.zone


def same(one: Rig, other: Rig) -> bool:
    """Two readings of one text say the same, word for word."""
    return told(one) == told(other) and resolved(one) == resolved(other)


def told(rig: Rig) -> list[tuple[str, str, str]]:
    return [(finding.rule, finding.subject, finding.message) for finding in rig.findings]


@pytest.mark.parametrize("entry", ENTRIES)
def test_the_examples_hang_together(entry: str) -> None:
    rig = loaded(entry, dict(project(entry)))
    assert told(rig) == []
    assert rig.incomplete == frozenset()
    hangs_together(rig)


@given(st.text(max_size=300))
@settings(max_examples=100, deadline=None)
def test_any_text_at_all(text: str) -> None:
    rig = read(text)
    for finding in rig.findings:
        check_finding(finding, {"test.rig": text})


WORDS = sorted({*re.findall(r"[\w.-]+|[^\s\w]", SHOW + GEAR), "{", "}", "\n", ";"})


@given(st.lists(st.sampled_from(WORDS), max_size=60))
@settings(max_examples=80, deadline=None)
def test_any_words_of_the_language(words: list[str]) -> None:
    rig = read(SHOW + GEAR + " ".join(words))
    hangs_together(rig)
    for finding in rig.findings:
        check_finding(finding, {"test.rig": ""})


# ---- the order of statements does not matter


def resolved(rig: Rig) -> dict[str, object]:
    """What a rig comes to, without places and order."""
    boxes = {
        name: (box.label, box.model.name, box.zone, box.rate_hz, box.net, box.latency_s)
        for name, box in rig.boxes.items()
    }
    links = {name: (sorted(map(str, link.joins)), lead(link.lead), link.loom) for name, link in rig.links.items()}
    things = {
        thing.name: (thing.label, thing.type, thing.zone, tuple(map(str, thing.ports)), thing.aimed, lead(thing.lead))
        for thing in plugs(rig)
    }
    return {
        "head": (rig.head.title, rig.head.rate_hz, rig.head.slack_m, rig.head.lead, rig.head.date),
        "zones": {name: (zone.label, zone.position_m) for name, zone in rig.zones.items()},
        "ways": {tuple(sorted(zones)): way.length_m for zones, way in rig.ways.items()},
        "boxes": boxes,
        "links": links,
        "plugs": things,
        "patches": sorted(str(pair) for patch in rig.patches for pair in patch.pairs),
        "about": sorted(
            [*((clock.box,) for clock in rig.clocks), *((control.by, str(control.ports)) for control in rig.controls)]
        ),
        "inserts": sorted((str(one.at), str(one.send), str(one.back), lead(one.lead)) for one in rig.inserts),
        "supplies": {name: (one.label, one.power_w, one.zone) for name, one in rig.supplies.items()},
        "powers": sorted((box, power.supply) for power in rig.powers for box in power.boxes),
        "cards": {name: str(box.slot) for name, box in rig.boxes.items() if box.slot},
        "models": {
            name: sorted((group.name, group.role, group.count, str(group.protocols)) for group in model.groups.values())
            for name, model in rig.models.items()
        },
        "incomplete": sorted(rig.incomplete),
    }


def lead(one: Lead | None) -> tuple[str, float | None, bool] | None:
    return None if one is None else (one.cable.name, one.length_m, one.measured)


def statements(text: str) -> list[str]:
    """The statements of a tidy text: a line that begins in column 1, and the lines of its block."""
    return re.findall(r"^[a-z].*(?:\n[ }].*)*", text, re.MULTILINE)


# Mistakes of every kind, which must be told whatever stands where.
MISTAKES = """\
box SR is nw61 in wing
source vox dynamyc in drums to SL 17
source loop line in nowhere to SL.mic 6
patch ghost -> DESK.ch 20
patch SL.mic 1-2 -> DESK.ch 21
link C09: SL.B -- DESK.stage 2 via cat9s 75 m
keep SL.mic 40 for "nobody"
clock DSK
insert DESK.local 1 through CP 1
power DR, DR from D1
box D2C is fl64 in DESK.opt 4
zone drums "Drum riser, again"
stock xlr 10 kg x 2
cable broken { medium twisted-pair
"""


@given(st.randoms(use_true_random=False), st.booleans())
@settings(max_examples=40, deadline=None)
def test_the_order_of_statements_does_not_matter(random_: random.Random, with_mistakes: bool) -> None:
    lines = statements(SHOW + GEAR)
    # The first of two with one name counts, so a second one stays behind it; what follows ends a broken block.
    extra = [line for line in MISTAKES.splitlines() if with_mistakes and not line.startswith(("zone", "cable"))]
    plain = read("\n".join(lines + extra))
    shuffled = lines + extra
    random_.shuffle(shuffled)
    other = read("\n".join(shuffled))
    assert resolved(other) == resolved(plain)
    assert sorted(told(other)) == sorted(told(plain))
    assert sorted(Paths(other).rig.sources) == sorted(plain.sources)
    assert bool(plain.findings) == with_mistakes


def test_the_mistakes_above_are_told_once_each() -> None:
    assert sorted(finding.rule for finding in read(SHOW + GEAR + MISTAKES).findings) == [
        "no-such-port",
        "no-such-port",
        "no-such-port",
        "no-such-port",
        "range-length",
        "repeated-name",
        "repeated-name",
        "syntax-error",
        "unknown-name",
        "unknown-name",
        "unknown-name",
        "unknown-name",
        "unknown-name",
        "unknown-name",
        "wrong-unit",
    ]


def test_the_library_itself_reads_without_a_fault() -> None:
    assert [source.path for source in library()]
    assert told(read('rig "x" {}')) == []
    assert not os.path.isabs(library()[0].path)
