"""Both states of a rig on one drawing: an edit, and where it is seen."""

from __future__ import annotations

import pytest
from lxml import etree

from rigdsl.draw.compared import LOOKS
from tests.reports.told import HOSTILE
from tests.review.made import STAGE
from tests.review.pictures import STATES, SVG, both, marks, picture, states

SNARE = 'source snare "Snare" dynamic in left to SL 2 via xlr 3 m\n'
WEDGE = 'output wdg "Wedge" wedge in right from SR.line 1 via xlr 5 m\n'
SX = 'box SX "New rack" is nw8 in left\nlink C09: SX.A -- DESK.stage 2 via c6 5 m\n'
STUB = "sources--left--SL--mic--xlr"


@pytest.mark.parametrize(
    ("old", "new", "which", "said"),
    [
        # the old way and the new way; the source says where it was
        ("to SL 2 via", "to SL 4 via", "flow", {
            "sources--left--SL--row-1-0": "changed | otherwise than it was: Snare, dynamic, at SL.mic 4",
            "box--SL--in--mic--2--w": "removed | removed: SL.mic 2: Snare → ch 2",
            "box--SL--in--mic--4--w": "added | added: SL.mic 4: Snare → ch 2",
            "plug--snare--1--was": "removed | removed: Snare to SL.mic 2, xlr 3 m",
            "plug--snare--1": "added | added: Snare to SL.mic 4, xlr 3 m",
        }),
        ("to SL 2 via", "to SL 4 via", "cabling", {
            f"{STUB}--row-1-0": "changed | otherwise than it was: 2 sources: Snare",
            f"box--SL--mic--1--{STUB}": "changed | otherwise than it was: SL.mic 1,4",
            f"cable--{STUB}--from": "changed | otherwise than it was: 2 x xlr 3 m, SL.mic 1,4",
        }),
        # to another box: another line
        ("to SL 2 via", "to SR 2 via", "cabling", {
            f"{STUB}--row-1-0": "removed | removed: 2 sources: Snare",
            "sources--left--SR--mic--xlr--plug": "added | added: 1 source: Snare",
            "cable--sources--left--SR--mic--xlr--from": "added | added: xlr 3 m, SR.mic 2",
            "box--SR--mic--2--sources--left--SR--mic--xlr": "added | added: SR.mic 2",
        }),
        (SNARE, "", "flow", {
            "sources--left--SL--snare--1--e--was": "removed | removed: Snare, dynamic, at SL.mic 2",
            "plug--snare--1": "removed | removed: Snare to SL.mic 2, xlr 3 m",
        }),
        # another thing in the same socket: both stand there
        (SNARE, 'source clap "Clap" dynamic in left to SL 2 via xlr 5 m\n', "flow", {
            "box--SL--in--mic--2--w": "added | added: SL.mic 2: Clap",
            "box--SL--in--mic--2--w--was": "removed | removed: SL.mic 2: Snare → ch 2",
            "plug--clap--1": "added | added: Clap to SL.mic 2, xlr 5 m",
            "plug--snare--1": "removed | removed: Snare to SL.mic 2, xlr 3 m",
        }),
        (WEDGE, WEDGE + 'output fill "Fill" fill in left from SL.line 2 via xlr 5 m\n', "flow", {
            "outputs--left--SL--fill--1--w": "added | added: Fill, fill, at SL.line 2",
            "plug--fill--1": "added | added: SL.line 2 to Fill, xlr 5 m",
        }),
        ("to SL 2 via xlr 3 m", "to SL 2 via xlr 5 m", "flow", {
            "plug--snare--1": "changed | otherwise than it was: Snare to SL.mic 2, xlr 5 m",
        }),
        ("via c6 30 m", "via c6 40 m", "cabling", {
            "cable--C01--SL--DESK--label": "changed | otherwise than it was: C01 c6 40 m: SL.A to DESK.stage 1",
            "cable--C01--SL--DESK--from": "changed | otherwise than it was: C01 c6 40 m: SL.A to DESK.stage 1",
        }),
        ('SL "Left rack" is nw8', 'SL "Left rack" is nw16', "cabling", {
            "box--SL": "changed | otherwise than it was: Left rack (stage box) in Left wing",
        }),
        # a box that moved: where it stands, and where it stood
        ("is nw8 in right", "is nw8 in foh", "cabling", {
            "box--SR": "changed | otherwise than it was: Right rack (stage box) in Mixing place",
            "box--SR--was": "removed | removed: Right rack (stage box) in Right wing",
        }),
        (WEDGE, SX + WEDGE, "cabling", {
            "box--SX": "added | added: New rack (stage box) in Left wing",
            "cable--C09--SX--DESK--from": "added | added: C09 c6 5 m: SX.A to DESK.stage 2",
            "box--DESK--stage--2--C09": "added | added: DESK.stage 2",
        }),
        (WEDGE, SX + WEDGE, "flow", {
            "box--SX--in": "added | added: New rack (stage box)",
            "run--C09--box--SX--in--box--DESK--from": "added | added: C09: SX.A to DESK.stage 2, c6 5 m",
        }),
        # only its name is another one: the line is the same
        ("C02", "C07", "cabling", {
            "cable--C07--SR--SL--label": "changed | otherwise than it was: C07 c6 9 m: SR.A to SL.B",
        }),
        ("vox -> DESK.ch 3", "vox -> DESK.ch 4", "flow", {
            "box--SR--in--mic--1--w": "changed | otherwise than it was: SR.mic 1: Vocal 48 V → ch 4",
        }),
    ],
)  # fmt: skip
def test_a_change_is_marked_where_it_is(old: str, new: str, which: str, said: dict[str, str]) -> None:
    """By id: the class, and the title for who points at it."""
    assert old in STAGE
    changed = STAGE.replace(old, new)
    found = marks(picture(STAGE, changed, which))
    assert {name: found.get(name) for name in said} == said


@pytest.mark.parametrize(
    ("old", "new", "which", "words"),
    [
        ("snare", "sn", "flow", ["~ Snare", "was snare"]),
        ('"Snare"', '"Snare top"', "flow", ["~ Snare top", "was Snare"]),
        ("to SL 2 via", "to SL 4 via", "flow", ["plugged into SL.mic 4", "was SL.mic 2", "+ Snare", "- Snare"]),
        ("to SL 2 via", "to SL 4 via", "cabling", ["~ mic 1,4", "was mic 1-2"]),
        ("to SL 2 via xlr 3 m", "to SL 2 via xlr 5 m", "cabling", ["~ ", "2 x xlr 3 to 5 m", "was 2 x xlr 3 m"]),
        ('SL "Left rack" is nw8', 'SL "Left rack" is nw16', "cabling", ["~ SL", "model nw16, was nw8"]),
        ("is nw8 in right", "is nw8 in foh", "cabling", ["~ SR", "zone foh, was right", "- SR", "now in Mixing place"]),
        ("via c6 30 m", "via c6 40 m", "cabling", ["~ C01", "was C01 c6 30 m"]),
        ("via c6 30 m", "via c6 40 m { ramp }", "cabling", ["~ C01", "was C01 c6 30 m"]),
        ("C02", "C07", "cabling", ["~ C07", "was C02"]),
        ("box SL", "box XL", "cabling", []),
        (SNARE, "", "cabling", ["- Snare", "was 2 x xlr 3 m"]),
    ],
)  # fmt: skip
def test_what_is_otherwise_says_what_it_was(old: str, new: str, which: str, words: list[str]) -> None:
    text = "".join(picture(STAGE, STAGE.replace(old, new), which).itertext())
    assert [word for word in words if word not in text] == []


def test_a_box_of_another_name_is_one_box() -> None:
    """Its cables and what is plugged into it only follow: nothing of them came or went."""
    renamed = STAGE.replace("SL", "XL")
    for which in ("flow", "cabling"):
        root = picture(STAGE, renamed, which)
        assert {mark.split()[0] for mark in marks(root).values()} == {"changed"}
        assert {"~ XL", "was SL"} <= {text.strip() for text in root.itertext()}


@pytest.mark.parametrize("which", ["flow", "cabling"])
def test_nothing_compared_with_itself_is_the_plain_drawing(which: str) -> None:
    """No class, no sign, nothing pale, no legend of signs."""
    root = picture(STAGE, STAGE, which)
    assert not [part for part in root.iter() if states(part)]
    assert not root.xpath("//*[starts-with(@id, 'sign--')]") + root.xpath("//*[@class='band']")
    text = " ".join(root.itertext())
    assert "nothing on it changed" in text
    assert not [look.means for look in LOOKS.values() if look.means in text]


@pytest.mark.parametrize("which", ["flow", "cabling"])
@pytest.mark.parametrize(
    ("old", "new"),
    [(SNARE, ""), (WEDGE, SX + WEDGE), ("snare", "sn"), ("via c6 30 m", "via c6 40 m"), ("to SL 2 via", "to SR 2 via")],
)
def test_the_legend_has_what_is_used_and_no_more(old: str, new: str, which: str) -> None:
    """A sign for each that stands in words, a band for each that a line lies on."""
    root = picture(STAGE, STAGE.replace(old, new), which)
    parts = [part for part in root.iter(f"{SVG}g") if states(part) & set(STATES)]
    lines = {state for part in parts if "edge" in part.get("class").split() for state in states(part)}
    worded = {state for part in parts if "edge" not in part.get("class").split() for state in states(part)}
    signs = {name.removeprefix("sign--") for name in root.xpath("//*[starts-with(@id, 'sign--')]/@id")}
    bands = {name.removeprefix("sample--") for name in root.xpath("//*[starts-with(@id, 'sample--')]/@id")}
    assert signs == worded
    assert bands & set(STATES) == lines
    assert all((part.find(f"{SVG}path[@class='band']") is not None) for part in parts if "edge" in part.get("class"))


@pytest.mark.parametrize("which", ["flow", "cabling"])
def test_only_what_changed(which: str) -> None:
    """The change with where its lines go; all marks of the whole drawing are on it."""
    new = STAGE.replace("to SR 1 via", "to SR 3 via")
    whole, part = (picture(STAGE, new, which, only_changed=only) for only in (False, True))
    assert set(marks(part).values()) == set(marks(whole).values())
    text = " ".join(part.itertext())
    assert "only what changed" in text
    assert f"`rigdsl compare --draw {which}` with a file in .txt" in part.findtext(f"{SVG}desc")
    assert "Vocal" in text
    assert "Kick" not in text


@pytest.mark.parametrize("which", ["flow", "cabling"])
@pytest.mark.parametrize("label", [one for one in HOSTILE if '"' not in one and "\n" not in one])
def test_labels_stay_data(which: str, label: str) -> None:
    root = picture(STAGE, STAGE.replace('"Snare"', f'"{label}"'), which)
    assert {"changed"} <= {state for part in root.iter() for state in states(part)}
    assert not {etree.QName(part).localname for part in root.iter()} & {"script", "b", "a", "image"}


@pytest.mark.parametrize(
    ("old", "new", "which", "said"),
    [
        ("vox -> DESK.ch 3", "vox -> DESK.ch 4", "flow", "before and after: 1 added, 1 removed"),
        ("vox -> DESK.ch 3", "vox -> DESK.ch 4", "cabling", "nothing on it changed, 2 not on this drawing"),
        ("to SL 2 via", "to SL 4 via", "cabling", "before and after: 1 otherwise"),
        (WEDGE, SX + "clock DESK\n" + WEDGE, "cabling", "before and after: 2 added, 1 more not on this drawing"),
    ],
)
def test_the_title_counts_what_changed(old: str, new: str, which: str, said: str) -> None:
    """A patch is seen where its source comes to; on the cabling it is not seen, and nothing else changed there."""
    facts = both(STAGE, STAGE.replace(old, new), which).facts
    assert said in facts


def test_a_rig_that_came_or_went() -> None:
    """Everything has the sign, and nothing is pale."""
    nothing = 'rig "Night" { rate 48 kHz }\n'
    for old, new, state in ((nothing, STAGE, "added"), (STAGE, nothing, "removed")):
        view = both(old, new, "cabling")
        assert {edge.state for edge in view.edges} == {state}
        assert {row.state for node in view.nodes for row in node.rows} == {state}
