"""A tour of eight shows in two houses, and thirty commits on the road: what was done, and what is to be said of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tests.review.made import BOXES

__all__ = ["COMMITS", "FILES", "Commit"]

DESK = """\
model desk{0} {{
  kind console; channels ch 1-{0}; mixes mix 1-{1}; latency {2} ms
  digital stage 1-2 {{ protocol fern; control d1 }}
}}
"""
GEAR = BOXES + DESK.format(16, 4, 1) + DESK.format(32, 8, 2)
HALL = """\
zone left "Left wing" at (4, 0) m
zone right "Right wing" at (-4, 0) m
zone foh "Mixing place" at (0, -20) m
box SL "Left rack" is nw8 in left
box SR "Right rack" is nw8 in right
box DESK "Desk" is desk16 in foh
link C01: SL.A -- DESK.stage 1 via c6
link C02: SR.A -- SL.B via c6
"""
CLUB = """\
zone left "Left" at (2, 0) m
zone right "Right" at (-2, 0) m
zone foh "Mixing corner" at (0, -8) m
box SL "Left rack" is nw8 in left
box SR "Right rack" is nw8 in right
box DESK "Desk" is desk16 in foh
link C01: SL.A -- DESK.stage 1 via c6 20 m
link C02: SR.A -- SL.B via c6 10 m
"""
BAND = """\
source kick "Kick" dynamic in left to SL 1 via xlr 3 m
source snare "Snare" dynamic in left to SL 2 via xlr 3 m
source vox "Vocal" condenser in right to SR 1 via xlr 5 m
output wdg "Wedge" wedge in right from SR.line 1 via xlr 5 m
patch kick, snare -> DESK.ch 1-2
patch vox -> DESK.ch 3
patch DESK.mix 1 -> wdg
"""


def show(number: int, house: str) -> str:
    """One night of the tour."""
    return f'rig "Night {number}" {{ rate 48 kHz; slack 1 m; lead xlr }}\nuse "../{house}.rig"\nuse "../band.rig"\n'


FILES = {
    "rig.toml": "",
    "gear.rig": GEAR,
    "hall.rig": 'use "gear.rig"\n' + HALL,
    "club.rig": 'use "gear.rig"\n' + CLUB,
    "band.rig": BAND,
    **{f"shows/{number}.rig": show(number, "hall" if number < 5 else "club") for number in range(1, 9)},
}

HALL_NIGHTS, CLUB_NIGHTS, ALL = "1234", "5678", "12345678"
BUT_FOUR = "1235678"  # from the day on which the fourth night is off
PHANTOM = "inputs mic 1-8 { preamp; phantom 48 V 10 mA; "
NO_PHANTOM = "inputs mic 1-8 { preamp; "
USE = 'use "../band.rig"\n'
HAT = 'source hat "Hat" condenser in left to SL 4 via xlr 3 m\n'
DRUM_WEDGE = 'output drm "Drum wedge" wedge in left from SL.line 1 via xlr 10 m\n'
KEYS = 'source keys "Keys" di in left to SL 7-8 via xlr 5 m\n'

Edit = tuple[str, str, str | None]


@dataclass(frozen=True)
class Commit:
    """What is done to which files, and what is told of which nights; nothing is told of the others.

    An edit is a file, what is there, and what stands there instead; None where the file goes. What is told is changes
    with their effects, then findings with `+` where they are new and `-` where they are gone.
    """

    message: str
    edits: tuple[Edit, ...]
    said: Mapping[str, tuple[str, ...]]


def band(*edits: tuple[str, str]) -> tuple[Edit, ...]:
    """Edits of the band's file."""
    return tuple(("band.rig", old, new) for old, new in edits)


def put(file: str, before: str, line: str) -> Edit:
    """A line more, before another."""
    return file, before, f"{line}{before}"


COMMITS = (
    Commit(
        "a hat joins",
        band(('source vox "', HAT + 'source vox "'), ("patch vox", "patch hat -> DESK.ch 4\npatch vox")),
        {ALL: ("added source hat > SL.mic 4: phantom on", "added patch DESK.ch 4 > C01 carries 4 of 40, was 3")},
    ),
    Commit(
        "the kick has another microphone",
        band(("to SL 1 via xlr 3 m", 'to SL 1 via xlr 3 m { mic "large dynamic" }')),
        {ALL: ("changed source kick",)},
    ),
    Commit("its lead is longer", band(("to SL 1 via xlr 3 m", "to SL 1 via xlr 6 m")), {ALL: ("changed source kick",)}),
    Commit("the snare's socket is worn", band(("to SL 2 via", "to SL 3 via")), {ALL: ("moved source snare",)}),
    Commit(
        "the hall's left rack breaks",
        (("hall.rig", 'SL "Left rack" is nw8', 'SL "Left rack" is nw16'),),
        {HALL_NIGHTS: ("changed box SL",)},
    ),
    Commit(
        "the hall moves the mixing place",
        (("hall.rig", "(0, -20)", "(0, -26)"),),
        # the way from (4, 0) to (0, -20) is 20.4 m, to (0, -26) 26.3 m, and 1 m is slack
        {HALL_NIGHTS: ("moved zone foh > cable of C01: 27.3 m, was 21.4 m",)},
    ),
    Commit("a remark", (put("hall.rig", "zone left", "# the key is at the porter's lodge\n"),), {}),
    Commit(
        "the band's lines in another order",
        band(("patch vox -> DESK.ch 3\n", ""), ("patch kick", "patch vox -> DESK.ch 3\npatch kick")),
        {},
    ),
    Commit("blanks where nobody needs them", band(("via xlr 5 m\noutput", "via   xlr 5m\n\noutput")), {}),
    Commit(
        "the singer sings into a dynamic one",
        band(('"Vocal" condenser', '"Vocal" dynamic')),
        {ALL: ("changed source vox > SR.mic 1: phantom off",)},
    ),
    Commit(
        "the club exchanges its desk",
        (("club.rig", "is desk16", "is desk32"),),
        {CLUB_NIGHTS: ("changed box DESK > wdg: 2 ms after its source, was 1 ms",)},
    ),
    Commit(
        "the singer is called by another name",
        band(("source vox", "source lead"), ("patch vox", "patch lead")),
        {ALL: ("renamed source lead",)},
    ),
    Commit(
        "the wedge is fed from another mix",
        band(("DESK.mix 1 -> wdg", "DESK.mix 2 -> wdg")),
        {ALL: ("changed patch wdg > wdg: now fed from DESK.mix 2, was DESK.mix 1",)},
    ),
    Commit(
        "a wedge for the drums",
        band(("patch kick", DRUM_WEDGE + "patch DESK.mix 3 -> drm\npatch kick")),
        {ALL: ("added output drm", "added patch drm")},
    ),
    Commit(
        "the small stage boxes come back without phantom",
        (("gear.rig", PHANTOM, NO_PHANTOM),),
        {
            HALL_NIGHTS: ("changed model nw8",),  # the hat is plugged into the larger box there
            CLUB_NIGHTS: ("changed model nw8 > SL.mic 4: phantom off", "+ phantom-missing hat"),
        },
    ),
    Commit(
        "and with it again",
        (("gear.rig", NO_PHANTOM, PHANTOM),),
        {
            HALL_NIGHTS: ("changed model nw8",),
            CLUB_NIGHTS: ("changed model nw8 > SL.mic 4: phantom on", "- phantom-missing hat"),
        },
    ),
    Commit("the fourth night is off", (("shows/4.rig", "", None),), {"4": ("the rig is no longer there",)}),
    Commit(
        "the club's right rack stays in the truck",
        (
            ("club.rig", 'box SR "Right rack" is nw8 in right\n', ""),
            ("club.rig", "link C02: SR.A -- SL.B via c6 10 m\n", ""),
        ),
        {
            CLUB_NIGHTS: (
                "removed box SR",
                "removed link C02 > one digital way out of SL where there were 2",
                "moved source lead > lead: silent, was on DESK.ch 3 > C01 carries 3 of 40, was 4",
                "moved output wdg > wdg: silent, was fed from DESK.mix 2",
                "+ unknown-name SR",
                "- unused-port SR.line",
                "- unused-port SR.mic",
            )
        },
    ),
    Commit(
        "so the singer goes left there",
        tuple(
            (
                f"shows/{night}.rig",
                USE,
                f"{USE}replug lead to SL 5 via xlr 10 m\nreplug wdg from SL.line 2 via xlr 10 m\n",
            )
            for night in CLUB_NIGHTS
        ),
        {
            CLUB_NIGHTS: (
                "moved source lead > lead: now heard, on DESK.ch 3 > C01 carries 4 of 40, was 3",
                "moved output wdg > wdg: now heard, fed from DESK.mix 2",
                "- unknown-name SR",
            )
        },
    ),
    Commit("the hall's desk leads", (put("hall.rig", "link C01", "clock DESK\n"),), {"123": ("added clock DESK",)}),
    Commit(
        "sockets for the support act",
        (("shows/2.rig", USE, f'{USE}keep SR.mic 2-4 for "support act"\n'),),
        {"2": ("added keep SR.mic 2", "added keep SR.mic 3", "added keep SR.mic 4")},
    ),
    Commit("a label for the strip", band(('"Snare"', '"Snare top"')), {BUT_FOUR: ("changed source snare",)}),
    Commit(
        "a longer cable in the club",
        (("club.rig", "stage 1 via c6 20 m", "stage 1 via c6 120 m"),),
        {
            CLUB_NIGHTS: (
                "changed link C01 > hat: silent, was on DESK.ch 4 > kick: silent, was on DESK.ch 1"
                " > lead: silent, was on DESK.ch 3 > snare: silent, was on DESK.ch 2"
                " > drm: silent, was fed from DESK.mix 3 > wdg: silent, was fed from DESK.mix 2"
                " > no digital way out of DESK where there was one > no digital way out of SL where there was one",
                "+ run-too-long C01",
            )
        },
    ),
    Commit(
        "that was a slip",
        (("club.rig", "stage 1 via c6 120 m", "stage 1 via c6 20 m"),),
        {
            CLUB_NIGHTS: (
                "changed link C01 > hat: now heard, on DESK.ch 4 > kick: now heard, on DESK.ch 1"
                " > lead: now heard, on DESK.ch 3 > snare: now heard, on DESK.ch 2"
                " > drm: now heard, fed from DESK.mix 3 > wdg: now heard, fed from DESK.mix 2"
                " > one digital way out of DESK where there was none > one digital way out of SL where there was none",
                "- run-too-long C01",
            )
        },
    ),
    Commit("the desk's other jack", (("hall.rig", "DESK.stage 1", "DESK.stage 2"),), {"123": ("moved link C01",)}),
    Commit(
        "the singer's line goes to the left rack, on a lead that is too short",
        (("shows/1.rig", USE, f"{USE}replug lead to SL 6 via xlr 5 m\n"),),
        {"1": ("moved source lead > lead no longer passes SR", "+ link-too-short lead")},
    ),
    Commit(
        "keys, in stereo",
        band(("output wdg", KEYS + "output wdg"), ("patch lead", "patch keys -> DESK.ch 5-6\npatch lead")),
        {
            BUT_FOUR: (
                "added source keys",
                "added patch DESK.ch 5 > C01 carries 6 of 40, was 4",
                "added patch DESK.ch 6",
            )
        },
    ),
    Commit(
        "the hat is not wanted any more",
        band((HAT, ""), ("patch hat -> DESK.ch 4\n", "")),
        {
            BUT_FOUR: (
                "removed source hat > SL.mic 4: phantom off",
                "removed patch DESK.ch 4 > C01 carries 5 of 40, was 6",
            )
        },
    ),
    Commit(
        "the hall has a third rack",
        (put("hall.rig", "link C01", 'box SB "Back rack" is nw8 in left\nlink C03: SB.A -- SR.B via c6 12 m\n'),),
        {"123": ("added box SB", "added link C03 > 2 digital ways out of SR where there was one")},
    ),
    Commit("the last night's date", (("shows/8.rig", "xlr }", "xlr; date 2027-03-05 }"),), {"8": ("changed rig",)}),
)
