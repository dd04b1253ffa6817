"""What is said of gear that does not read."""

from __future__ import annotations

import pytest

from rigdsl.rig import read
from rigdsl.rig.words import KINDS
from tests.rig.said import HEAD, clean, said

ALL_KINDS = ", ".join(KINDS)
CARRIES = "carries 8 at 48 kHz"


@pytest.mark.parametrize(
    ("text", "rule", "place", "message", "help"),
    [
        # Words of the trade that nobody knows.
        (
            "model m { kind consol }",
            "unknown-name",
            "consol",
            "there is no kind `consol`",
            "there is a kind with a similar name: `console`",
        ),
        (
            "model m { kind gadget }",
            "unknown-name",
            "gadget",
            "there is no kind `gadget`",
            f"there are: {ALL_KINDS}",
        ),
        (
            "model m { inputs in }",
            "syntax-error",
            "m",
            "model `m` does not say what kind of gear it is",
            f"add `kind ...`, one of: {ALL_KINDS}",
        ),
        ("model m { kind di, panel }", "syntax-error", "kind di, panel", "", "it reads: `kind di`"),
        (
            "cable c { medium fiber }",
            "unknown-name",
            "fiber",
            "there is no medium `fiber`",
            "there is a medium with a similar name: `fibre`",
        ),
        (
            "cable c { grade om9 }",
            "unknown-name",
            "om9",
            "there is no grade of fibre `om9`",
            "there is a grade of fibre with a similar name: `om5`",
        ),
        ("cable c { category 9 }", "syntax-error", "category 9", "", "it reads: `category 6a`"),
        (
            "model m { kind panel; inputs in { level mike } }",
            "unknown-name",
            "mike",
            "there is no level `mike`",
            "there are: mic, line, instrument, loudspeaker",
        ),
        (
            "model m { kind panel; inputs in { preamp; gain loca } }",
            "unknown-name",
            "loca",
            "there is no place of the gain `loca`",
            "there is a place of the gain with a similar name: `local`",
        ),
        (
            "model m { kind panel; digital A { net third } }",
            "unknown-name",
            "third",
            "there is no side of a network `third`",
            "there are: primary, secondary",
        ),
        (
            "model m { kind panel; digital A { chain front } }",
            "unknown-name",
            "front",
            "there is no side of a chain `front`",
            "there are: near, far",
        ),
        # Facts of another thing, or of none.
        (
            "cable c { wieght 4 g/m }",
            "unknown-name",
            "wieght",
            "a cable has no fact `wieght`",
            "there is a fact with a similar name: `weight`",
        ),
        (
            f"protocol p {{ {CARRIES}; kind panel }}",
            "unknown-name",
            "kind",
            "a protocol has no fact `kind`",
            "its facts are: budget, carries, label, latency, needs, note, one-way, over, slots, topology",
        ),
        (
            "model m { kind panel; inputs in { phantum } }",
            "unknown-name",
            "phantum",
            "a group of sockets has no fact `phantum`",
            "there is a fact with a similar name: `phantom`",
        ),
        (
            "model m { kind panel; inputs in; outputs out; pass in -> out { wet } }",
            "unknown-name",
            "wet",
            "a pass has no fact `wet`",
            "its facts are: active, isolated, label, note",
        ),
        # Facts that say too little, or something else.
        (
            "protocol p { carries 40 }",
            "syntax-error",
            "carries 40",
            "",
            "it reads: `carries 40 at 48 kHz, 20 at 96 kHz`",
        ),
        (
            f"protocol p {{ {CARRIES}; over cat5e }}",
            "syntax-error",
            "over cat5e",
            "",
            "it reads: `over cat5e 100 m, om3 300 m`",
        ),
        (
            f"protocol p {{ {CARRIES}; topology star }}",
            "syntax-error",
            "topology star",
            "",
            "it reads: `topology point-to-point (or: chain 4, or: network)`",
        ),
        (f"protocol p {{ {CARRIES}; latency 1 ms each }}", "syntax-error", "latency 1 ms each", "", ""),
        ("cable c { loss 3.5 dB/km at }", "syntax-error", "loss 3.5 dB/km at", "", ""),
        ("cable c { lines }", "syntax-error", "lines", "`lines` needs something behind it", "it reads: `lines 12`"),
        ("model m { kind panel; inputs in { phantom 48 } }", "syntax-error", "phantom 48", "", ""),
        (
            "protocol p { over cat5e 100 m }",
            "syntax-error",
            "p",
            "protocol `p` does not say how many channels it carries",
            "add a line such as `carries 40 at 48 kHz`",
        ),
        # Names in it that nobody knows, or that are there twice.
        (
            "model m { kind panel; digital A { protocol aes51 } }",
            "unknown-name",
            "aes51",
            "there is no protocol called `aes51`",
            "there is a protocol with a similar name: `aes50`",
        ),
        (
            "model m { kind panel; inputs a 1-2; outputs a 1-2 }",
            "repeated-name",
            "a",
            "model `m` has two groups called `a`",
            "give one of them another name",
        ),
        # Passes that do not meet.
        (
            "model m { kind panel; inputs in 1-8; outputs out 1-4; pass in -> out }",
            "range-length",
            "pass in -> out",
            "`in` has 8 sockets here, and `out` has 4 sockets: a pass joins number to number",
            "say which ones: `pass main 1-2 -> out 15-16`",
        ),
        (
            "model m { kind panel; inputs in 1-8; outputs out 1-8; pass in -> outs }",
            "no-such-port",
            "outs",
            "model `m` has no group `outs`",
            "there is a group with a similar name: `out`",
        ),
        (
            "model m { kind panel; inputs in 1-8; outputs out 1-8; pass in 8-9 -> out 1-2 }",
            "no-such-port",
            "8-9",
            "`in` of model `m` has sockets 1 to 8, and `8-9` is not among them",
            "give rising numbers of its sockets",
        ),
        (
            "model m { kind bridge; digital L; bridge L -> M }",
            "no-such-port",
            "M",
            "model `m` has no group `M`",
            "its groups are: L",
        ),
    ],
)
def test_what_is_wrong_with_gear(text: str, rule: str, place: str, message: str, help: str) -> None:
    """An empty message stands for "... does not say what ... needs"; an empty help for "it reads: ..."."""
    needs = f"`{place}` does not say what `{place.split()[0]}` needs"
    ((found_rule, found_place, found_message, found_help),) = said(text)
    assert (found_rule, found_place, found_message) == (rule, place, message or needs)
    assert found_help == help if help else found_help.startswith("it reads: `")


@pytest.mark.parametrize(
    "text",
    [
        "cable c {}; cable c {}",
        f"protocol p {{ {CARRIES} }}; protocol p {{ {CARRIES} }}",
        "model m { kind panel }; model m { kind panel }",
    ],
)
def test_two_of_the_users_own(text: str) -> None:
    what, name = text.split()[:2]
    message = f"there are two {what}s called `{name}`"
    assert said(text) == [("repeated-name", name, message, "give one of them another name")]


def test_two_of_the_users_own_in_two_files() -> None:
    found = said('use "house.rig"; cable reel { lines 1 }', house="cable reel { lines 2 }")
    assert found == [("repeated-name", "reel", "there are two cables called `reel`", "give one of them another name")]


def test_names_of_gear_and_of_things_are_sets_of_their_own() -> None:
    """A cable, a protocol, a model and a box may all be called `x`."""
    rig = clean(f"cable x {{}}; protocol x {{ {CARRIES} }}; model x {{ kind panel }}; box x is x")
    assert rig.boxes["x"].model is rig.models["x"]


THINGS = ["zone x", "box x is p", "link x: A.i -- B.i", "source x line in z", "output x wedge in z"]


@pytest.mark.parametrize("first", THINGS)
@pytest.mark.parametrize("second", THINGS)
def test_zones_boxes_links_sources_and_outputs_share_one_set(first: str, second: str) -> None:
    text = f"model p {{ kind panel; inputs i }}; zone z; box A is p; box B is p; {first}; {second}"
    assert said(text) == [("repeated-name", "x", "there are two things called `x`", "give one of them another name")]
    (finding,) = read(HEAD + text).findings
    assert finding.consequence == "only the first one counts"
    assert [(other.place.text, other.message) for other in finding.related] == [("x", "the first one is here")]


def test_a_users_definition_takes_the_place_of_the_librarys() -> None:
    """Silently, with all that hangs on it."""
    assert clean("").protocols["aes50"].capacity[48_000] == 48
    rig = clean("""
        protocol aes50 { carries 2 at 48 kHz }
        cable xlr "Ours" { capacitance 90 pF/m }
        model m { kind stage-box; digital A { protocol aes50 } }
    """)
    assert rig.protocols["aes50"].capacity == {48_000: 2}
    assert (rig.cables["xlr"].label, rig.cables["xlr"].lines) == ("Ours", 1)
