"""What `match` says of a desk and a box is what the rules say of the rig that somebody then builds of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from rigdsl.finding import Level
from rigdsl.plan.match import Match, matched
from rigdsl.rig import read
from tests.rules.whole import wrong

PROTOCOLS = """\
protocol plover { carries 40 at 48 kHz, 20 at 96 kHz; over cat5e 100 m; slots fixed; topology chain 4 }
protocol brook { carries 64 at 48 kHz; over cat5e 100 m; topology network }
protocol moss { carries 16 at 48 kHz, 16 at 96 kHz; over cat5e 80 m }
protocol reed { one-way; carries 8 at 48 kHz, 8 at 96 kHz; over cat5e 50 m }
model hub { kind switch; digital port 1-8 }
"""
DIALECTS = ("lark", "thrush")

Ports = list[tuple[str, str]]  # the name of each group, and the words of its block


def dialects() -> st.SearchStrategy[str]:
    picked = st.lists(st.sampled_from(DIALECTS), unique=True, max_size=2)
    return picked.map(lambda names: f"; control {', '.join(names)}" if names else "")


def audio_port() -> st.SearchStrategy[str]:
    two_way = st.lists(st.sampled_from(("plover", "brook", "moss")), unique=True, min_size=1, max_size=2)
    one_way = st.sampled_from(("protocol reed; sends", "protocol reed; takes"))
    rate = st.sampled_from(("", "", "", "; rate 48 kHz", "; rate 96 kHz"))
    words = st.one_of(two_way.map(lambda names: f"protocol {', '.join(names)}"), one_way)
    return st.tuples(words, dialects(), rate).map("".join)


def ports() -> st.SearchStrategy[Ports]:
    audio = st.lists(audio_port(), max_size=2).map(
        lambda found: [(f"digital d{n}", one) for n, one in enumerate(found)]
    )
    data = st.sampled_from(("", *(f"control {name}" for name in DIALECTS)))
    return st.tuples(audio, data).map(lambda both: both[0] + ([("data jack", both[1])] if both[1] else []))


def model(name: str, head: str, groups: Ports) -> str:
    return "\n".join((f"model {name} {{", head, *(f"  {port} {{ {words} }}" for port, words in groups), "}"))


def joins(box: Ports, desk: Ports) -> Iterator[list[str]]:
    """Every way to lay one cable or two between the two, and none."""
    audio = [[port.split()[1] for port, _ in groups if port.startswith("digital")] for groups in (box, desk)]
    single = [(one, other) for one in audio[0] for other in audio[1]]
    for some in [*combinations(single, 1), *combinations(single, 2)]:
        if all(len({pair[at] for pair in some}) == len(some) for at in (0, 1)):
            yield [f"BOX.{one} -- DESK.{other}" for one, other in some]


def beside(box: Ports, desk: Ports, laid: Sequence[str]) -> Iterator[list[str]]:
    """Those cables alone; with the jacks for remote control joined; with all that is free in a switch."""
    yield list(laid)
    jacks = [any(port == "data jack" for port, _ in groups) for groups in (box, desk)]
    if all(jacks):
        yield [*laid, "BOX.jack -- DESK.jack"]
    free = [
        f"{name}.{port.split()[1]}"
        for name, groups in (("BOX", box), ("DESK", desk))
        for port, words in groups
        if (port == "data jack" or "brook" in words)
        and not any(f"{name}.{port.split()[1]} " in f"{one} " for one in laid)
    ]
    yield [*laid, *(f"{port} -- HUB.port {number}" for number, port in enumerate(free, 1))]


def built(gear: str, cables: Sequence[str], desk_kind: str, remote: bool, rate_khz: int) -> list[str]:
    """The errors that the rules find in the rig of that desk and that box."""
    links = [f"link C{number}: {cable} via cat6 10 m" for number, cable in enumerate(cables, 1)]
    owner = ["control BOX.mic 1-8 by DESK"] if desk_kind == "computer" and remote else []
    lines = ["box BOX is box", "box DESK is desk", "box HUB is hub", *links, *owner, "patch BOX.mic 1 -> DESK.ch 1"]
    text = f'rig "Bench" {{ rate {rate_khz} kHz }}\n{gear}' + "\n".join(lines)
    return [finding.rule for finding in wrong(text) if finding.level == Level.ERROR]


def both(gear: str, rate_khz: int) -> Match:
    rig = read(gear)
    (found,) = matched(rig, [rig.models["desk"]], [rig.models["box"]], rate_khz * 1000)
    return found


@settings(max_examples=150, deadline=None)
@given(
    box=ports(),
    desk=ports(),
    kind=st.sampled_from(("console", "engine", "computer")),
    remote=st.booleans(),
    rate_khz=st.sampled_from((48, 96)),
)
def test_a_rig_of_the_two_has_the_faults_that_were_foretold(
    box: Ports, desk: Ports, kind: str, remote: bool, rate_khz: int
) -> None:
    gain = "gain remote" if remote else "gain local"
    head = f"  kind stage-box; inputs mic 1-8 {{ preamp; {gain} }}; outputs line 1-4"
    gear = PROTOCOLS + model("box", head, box) + "\n"
    gear += model("desk", f"  kind {kind}; channels ch 1-8; mixes mix 1-4", desk) + "\n"
    found = both(gear, rate_khz)
    rigs = [cables for laid in [*joins(box, desk), []] for cables in beside(box, desk, laid)]
    errors = [built(gear, cables, kind, remote, rate_khz) for cables in rigs]
    sounding = [rules for rules in errors if not set(rules) - {"control-mismatch", "too-many-channels"}]
    assert found.audio == bool(sounding), (found.because, gear)
    if not remote:
        assert found.control is None
    else:
        assert found.control == any("control-mismatch" not in rules for rules in sounding), (found.because, gear)
    assert bool(found.wrong) == (not found.works)
