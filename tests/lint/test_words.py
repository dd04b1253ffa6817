"""Words that many rules share."""

from __future__ import annotations

import pytest

from rigdsl.finding import Level
from rigdsl.lint.pages import page
from rigdsl.lint.rule import NoOptions, rule
from rigdsl.lint.words import count, listed, silence, ticked
from rigdsl.paths import Paths
from rigdsl.rig import read


@pytest.mark.parametrize(
    ("names", "text"),
    [
        ([], ""),
        (["kick"], "`kick`"),
        (["a", "b", "c", "d", "e"], "`a`, `b`, `c`, `d`, `e`"),
        (["a", "b", "c", "d", "e", "f"], "`a`, `b`, `c`, `d` and 2 more"),
    ],
)
def test_long_lists_are_cut_short(names: list[str], text: str) -> None:
    assert listed(names) == text


def test_counting_and_ticking() -> None:
    assert [count(1, "channel"), count(3, "channel"), count(2, "box", "boxes")] == [
        "1 channel",
        "3 channels",
        "2 boxes",
    ]
    assert ticked(["SL.A", "DESK.stage 1"]) == "`SL.A`, `DESK.stage 1`"


HOUSE = """\
rig "Two desks" {}
protocol fernlink { carries 40 at 48 kHz; over cat5e 100 m }
model nw16 {
  kind stage-box; inputs mic 1-16 { preamp }; outputs line 1-8; digital A, B { protocol fernlink }
}
model desk { kind console; channels ch 1-32; mixes mix 1-8; outputs out 1-4; digital stage { protocol fernlink } }
box SL is nw16
box FOH is desk
box MON is desk
source k dynamic to SL 1
source s dynamic to SL 2
"""
FOH = "link C01: SL.A -- FOH.stage via cat6 60 m\n"
WEDGE = "output w wedge from SL 1\n"


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        ("patch SL.mic 1-2 -> MON.ch 1-2\n", "2 channels are silent: `k`, `s`"),
        ("patch SL.mic 1-4 -> MON.ch 1-4\n", "4 channels are silent: `k`, `s`"),
        ("patch SL.mic 5 -> MON.ch 5\n", "1 channel is silent"),
        # Heard at the one desk, it is silent at the other.
        (FOH + "patch k -> FOH.ch 1\npatch SL.mic 1-2 -> MON.ch 1-2\n", "2 channels of `MON` are silent: `k`, `s`"),
        (FOH + "patch k -> FOH.ch 1\npatch s -> MON.ch 1\n", "1 channel is silent: `s`"),
        # An output by what hangs on it, else by its socket; never by the source that it waits for.
        (WEDGE + "patch MON.mix 1 -> w\n", "1 output is silent: `w`"),
        ("patch SL.mic 1 -> MON.out 1\n", "1 output is silent: `MON.out 1`"),
        (WEDGE + "patch MON.mix 1-2 -> SL.line 1-2\n", "2 outputs are silent: `w`"),
        ("output x main from MON.out 1\npatch k -> x\n", "1 output is silent: `x`"),
        (
            "patch SL.mic 1, SL.mic 2 -> MON.ch 1, MON.out 2\n",
            "1 channel and 1 output are silent: `k`, `MON.out 2`",
        ),
    ],
)
def test_what_falls_silent(lines: str, sentence: str) -> None:
    rig = read(HOUSE + lines)
    assert rig.findings == ()
    said, names = silence(Paths(rig), rig.patches[-1])
    assert said == sentence
    assert all(name in {**rig.sources, **rig.outputs} for name in names)


def test_a_help_page_is_taken_apart() -> None:
    @rule("quiet", Level.NOTE, NoOptions)
    def quiet(rig: object, paths: object, options: NoOptions) -> tuple[()]:
        """What it looks for.

        ## On the night
        Silence.

        ## A rig that breaks it
        ```toml
        [rules.quiet]
        least = 2
        ```
        ```rig
        rig "Bad" {}
        ```

        ## A rig that keeps it
        ```rig
        rig "Good" {}
        ```
        """
        return ()

    read = page(quiet)
    assert read.summary == "What it looks for."
    assert read.sections["On the night"] == "Silence."
    assert (read.breaks, read.keeps) == ('rig "Bad" {}\n', 'rig "Good" {}\n')
    assert read.options == {"least": 2}
