"""What the rows of a list ask for, and what the rig says of each."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigdsl.papers import PAPERS, Facts
from rigdsl.paths import Paths
from rigdsl.rig import Rig
from rigdsl.start import band_list, sheet_of
from rigdsl.start.listed import ANSWERS
from rigdsl.start.names import folded
from rigdsl.start.quoted import read_cells, written_cells
from rigdsl.start.sheet import BROKEN
from tests.reports.told import HOSTILE
from tests.start.made import HEAD, as_csv, as_xlsx, band, rig_of, taken_in

TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), min_size=1)
NOBODY = {*ANSWERS["spare"].split(), *ANSWERS["blank"].split()}


def one(*row: object) -> str:
    """The lines of the one source of a list, without the remark of its row."""
    text = taken_in(band(row), "").text
    return "\n".join(line for line in text.splitlines() if line and not line.startswith("# listed"))


def listed(rig: Rig) -> list[tuple[str, str]]:
    """Channel and label of each row of the printed input list."""
    (table,) = PAPERS["input-list"].tables(Facts(rig, Paths(rig)))
    at = [table.columns.index(name) for name in ("channel", "label")]
    return [(str(row[at[0]]), str(row[at[1]])) for row in table.rows]


@pytest.mark.parametrize(
    ("row", "said"),
    [
        (("1", "Kick", "dynamic"), 'source kick "Kick" dynamic { mic "dynamic" }\npatch kick -> DESK.ch 1'),
        (
            ("2", "OH", "", "tall boom", "x", "own clip"),
            'source oh "OH" condenser { stand "tall boom"; note "own clip" }  # guessed: condenser, from "oh"\n'
            "patch oh -> DESK.ch 2",
        ),
        (
            ("3", "Hat", "Plum 52", "-", "no"),
            'source hat "Hat" condenser { phantom no; mic "Plum 52" }  # guessed: condenser, from "hat"\n'
            "patch hat -> DESK.ch 3",
        ),
        (
            ("4", "Gtr", "ribbon", "", "yes"),
            'source gtr "Gtr" ribbon { phantom; mic "ribbon" }\npatch gtr -> DESK.ch 4',
        ),
        (
            ("A", "Talk", "", "", "perhaps"),
            '# not understood: channel "A"; phantom "perhaps"\n'
            'source talk "Talk" talkback  # guessed: talkback, from "talk"',
        ),
        (("7/8", "Keys", "DI"), 'source keys "Keys" di { mic "DI" }\npatch keys -> DESK.ch 7-8'),
    ],
)
def test_a_row_becomes_a_source(row: tuple[str, ...], said: str) -> None:
    assert one(*row) == said
    rig_of(taken_in(band(row)).text)


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("7", "7"),
        ("007", "7"),
        ("7.0", "7"),
        ("Ch 7", "7"),
        ("CH7", "7"),
        ("#7", "7"),
        ("No. 7", "7"),
        ("7-8", "7-8"),
        ("7 – 8", "7-8"),
        ("7/8", "7-8"),
        ("7+8", "7-8"),
        ("7 & 8", "7-8"),
        ("7, 9", "7,9"),
        ("7 and 8", "7-8"),
        ("1-4", "1-4"),
        ("99999", "99999"),
        ("0", ""),
        ("100000", ""),
        ("8-7", ""),
        ("7,7", ""),
        ("1-500", ""),
        ("7.5", ""),
        ("A7", ""),
        ("seven", ""),
        ("-7", ""),
        ("1" * 200, ""),
    ],
)
def test_channels(text: str, numbers: str) -> None:
    said = one(text, "Kick")
    assert said.partition("patch kick -> DESK.ch ")[2] == numbers
    assert ("# not understood: channel" in said) == (not numbers)


@pytest.mark.parametrize(
    ("texts", "kept"),
    [
        (["x", "X", "yes", "Y", "48V", "+48V", "+48 v", "1", "1.0", "on", "✓", "TRUE", "ja"], "phantom"),
        (["", "no", "N", "-", "–", "0", "off", "none", "FALSE", "nein"], ""),
    ],
)
def test_phantom(texts: list[str], kept: str) -> None:
    for text in texts:
        said = one("1", "Kick", "dynamic", "", text)
        assert ("phantom" in said, "not understood" in said) == (bool(kept), False), text


def test_a_workbook_and_a_text_give_the_same_rig() -> None:
    rows = [HEAD, (1, "Kick", "dynamic", "short boom", "x", "a; b"), (2.0, "Größe 日本", None, None, True, '"')]
    text = [HEAD, ("1", "Kick", "dynamic", "short boom", "x", "a; b"), ("2", "Größe 日本", "", "", "yes", '"')]
    assert band_list(sheet_of(as_xlsx(rows))) == band_list(sheet_of(as_csv(text, ";")))


class TestPairs:
    @pytest.mark.parametrize(
        ("left", "right"),
        [
            ("Keys L", "Keys R"),
            ("keys l", "KEYS  R"),
            ("Keys Left", "Keys Right"),
            ("Keys (L)", "Keys (R)"),
            ("OH-L", "OH-R"),
            ("OH - left", "OH - right"),
        ],
    )
    def test_left_and_right_are_partners(self, left: str, right: str) -> None:
        sources = rig_of(taken_in(band(("1", left), ("2", "Kick"), ("3", right))).text).sources
        one, kick, other = sources.values()
        assert (one.partner, kick.partner, other.partner) == (other.name, "", one.name)

    @pytest.mark.parametrize(
        "labels",
        [("Keys L", "Synth R"), ("Keys L", "Keys L"), ("L", "R"), ("Keys L", "Keys R", "Keys R"), ("Tool", "Toor")],
    )
    def test_what_is_no_pair(self, labels: tuple[str, ...]) -> None:
        sources = rig_of(taken_in(band(*((str(at), label) for at, label in enumerate(labels, 1)))).text).sources
        assert [source.partner for source in sources.values()] == [""] * len(labels)


class TestNothingIsDropped:
    def test_rows_and_columns_that_are_not_understood(self) -> None:
        head = ("Ch", "Name", "Colour", "", "Mic")
        rows = (("1", "Kick", "red", "?", ""), ("2", "spare"), ("3", "", "", "", "dynamic"), ("DRUMS",), ("4", "-"))
        found = band(*rows, head=head)
        assert found.told == (
            'the column "Colour" is not known: it is kept in the remarks',
            "column 4 has no heading: it is kept in the remarks",
            "row 3 is spare: it is kept as a remark",
            "row 4 has no name: it is kept as a remark",
            "row 5 has no name: it is kept as a remark",
            "row 6 is spare: it is kept as a remark",
        )
        remarks = [line for line in taken_in(found).text.splitlines() if line.startswith("# listed ")]
        assert remarks == [
            '# listed kick: channel "1"; name "Kick"; "Colour" "red"; "" "?"',
            '# listed without a source: channel "2"; name "spare"',
            '# listed without a source: channel "3"; mic "dynamic"',
            '# listed without a source: channel "DRUMS"',
            '# listed without a source: channel "4"; name "-"',
        ]

    def test_headings_among_the_rows(self) -> None:
        found = band(("", "DRUMS"), ("1", "Kick"), HEAD, ("", "Talk", "talkback"))
        assert [(item.label, item.channels) for item in found.items] == [("Kick", (1,)), ("Talk", ())]
        assert taken_in(found).text.endswith('source talk "Talk" talkback { mic "talkback" }\n')
        assert found.told == (
            "row 2 has a name and nothing else, as a heading has: it is kept as a remark",
            "row 4 is the headings once more: it is kept as a remark",
        )

    def test_a_column_of_channels_with_nothing_in_it(self) -> None:
        found = band(("", "Kick"), ("", "Snare", "dynamic"))
        assert [item.channels for item in found.items] == [(1,), (2,)]

    def test_rows_above_the_headings(self) -> None:
        found = band_list(sheet_of(as_csv([("Peat Choir", "", 'the "quiet" one'), HEAD, ("1", "Kick")])))
        assert '# above the headings of the list: "Peat Choir"; "the \\"quiet\\" one"\n' in taken_in(found).text

    def test_a_channel_that_two_want_is_told_and_kept(self) -> None:
        found = band(("1", "Kick"), ("1", "Snare"))
        assert found.told == ('channel 1 is in the list more than once: "Kick", "Snare"',)
        assert listed(rig_of(taken_in(found).text)) == [("DESK.ch 1", "Kick"), ("DESK.ch 1", "Snare")]

    def test_without_a_column_of_channels_the_order_counts(self) -> None:
        found = band(("Snare",), ("spare",), ("Kick",), head=("Name",))
        assert found.told[0] == "it has no channels: the order of the rows counts"
        assert listed(rig_of(taken_in(found).text)) == [("DESK.ch 1", "Snare"), ("DESK.ch 2", "Kick")]

    def test_positions_and_monitors_stand_in_the_note(self) -> None:
        head = ("Ch", "Name", "Stage", "Comments", "Monitor")
        source = rig_of(taken_in(band(("1", "Vox", "SL", "own mic", "wedge 2"), head=head)).text).sources["vox"]
        assert source.note == "own mic; position: SL; monitor: wedge 2"


@given(st.lists(st.tuples(TEXT, TEXT), max_size=4))
def test_a_row_is_read_from_its_remark_as_it_was(cells: list[tuple[str, str]]) -> None:
    known = ("channel", "name", "note")
    assert read_cells(written_cells(cells, known)) == tuple(cells)


def law(labels: list[str]) -> None:
    """Any labels, to a rig and back: the same labels, in the same order, on their channels and in the printed list."""
    plain = [BROKEN.sub(" ", label.strip()).strip() for label in labels]
    wanted = [label for label in plain if label and folded(label) not in NOBODY]
    found = band(*((str(at), label, "", "", "", label) for at, label in enumerate(labels, 1)))
    made = taken_in(found)
    rig = rig_of(made.text)
    assert [source.label for source in rig.sources.values()] == wanted
    assert [source.note for source in rig.sources.values()] == wanted
    assert [label for _, label in listed(rig)] == wanted
    assert taken_in(found, made.text).text == made.text
    assert (made.new, len(found.items)) == (len(wanted), len(wanted))


@given(st.lists(TEXT, max_size=8))
def test_any_labels_come_back(labels: list[str]) -> None:
    law(labels)


def test_hostile_labels_come_back() -> None:
    words = [
        "source",
        "in",
        "with",
        "DESK",
        "x",
        '\\"',
        "\\",
        '"',
        "#",
        "{",
        "}",
        ";",
        "->",
        "=cmd|' /C calc'!A0",
        "@a",
    ]
    law(
        [
            *(label.replace("\0", "") for label in HOSTILE),
            *words,
            "# listed kick: name",
            "גיטרה",
            "日本",
            "日本",
            "İ",
            "ß",
        ]
    )
