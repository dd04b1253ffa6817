"""A newer list on top of what a person has made of the first one."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rigdsl.start import HEADER, Updated
from tests.start.made import band, rig_of, taken_in

Row = tuple[str, ...]
FIRST: tuple[Row, ...] = (
    ("1", "Kick", "large dynamic", "short boom", "", ""),
    ("2", "OH L", "", "tall boom", "x", ""),
    ("3", "OH R", "", "tall boom", "x", ""),
    ("4", "Bass", "DI", "", "", "own box"),
    ("5", "spare"),
    ("6", "Vox", "", "", "", ""),
)


KICK = 'source kick "Kick" dynamic { stand "short boom"; mic "large dynamic" }  # guessed: dynamic, from "dynamic"'


def start(*rows: Row) -> str:
    return taken_in(band(*(rows or FIRST))).text


def on_top(text: str, *rows: Row) -> Updated:
    """A list on a text; the same again changes nothing."""
    made = taken_in(band(*rows), text)
    rig_of(made.text)
    again = taken_in(band(*rows), made.text)
    assert again.text == made.text
    assert (again.new, again.changed, again.gone) == (0, 0, 0)
    return made


def counts(made: Updated) -> tuple[int, int, int, int]:
    return made.new, made.changed, made.gone, made.unchanged


def edited(text: str, old: str, new: str) -> str:
    assert text.count(old) == 1, old
    return text.replace(old, new)


def changed_lines(before: str, after: str) -> tuple[list[str], list[str]]:
    """The lines that went, and those that came."""
    old, new = before.splitlines(), after.splitlines()
    return [line for line in old if line not in new], [line for line in new if line not in old]


def rows(**changes: Row) -> tuple[Row, ...]:
    """The first list, some rows changed, by the word that begins their label."""
    return tuple(changes.get(row[1].partition(" ")[0].lower(), row) for row in FIRST)


def test_the_same_list_changes_nothing() -> None:
    made = on_top(start(), *FIRST)
    assert (made.text, counts(made), made.told) == (start(), (0, 0, 0, 5), ())


@pytest.mark.parametrize(
    ("row", "line", "after"),
    [
        (
            ("1", "Kick", "any dynamic", "short boom"),
            KICK,
            KICK.replace("large", "any"),
        ),
        (
            ("1", "Kick", "", ""),
            KICK,
            'source kick "Kick" dynamic  # guessed: dynamic, from "kick"',
        ),
        (
            ("1", "Kick", "condenser", "short boom"),
            KICK,
            'source kick "Kick" condenser { stand "short boom"; mic "condenser" }',
        ),
        (("9", "Kick", "large dynamic", "short boom"), "patch kick -> DESK.ch 1", "patch kick -> DESK.ch 9"),
        (("9-10", "Kick", "large dynamic", "short boom"), "patch kick -> DESK.ch 1", "patch kick -> DESK.ch 9-10"),
    ],
)
def test_a_changed_row_changes_its_source_alone(row: Row, line: str, after: str) -> None:
    made = on_top(start(), *rows(kick=row))
    went, came = changed_lines(start(), made.text)
    assert (went[1:], came[1:]) == ([line], [after])
    assert went[0].startswith("# listed kick: ")
    assert counts(made) == (0, 1, 0, 4)


def test_a_new_row_stands_behind_the_row_before_it() -> None:
    made = on_top(start(), FIRST[0], ("11", "Snare"), *FIRST[1:])
    went, came = changed_lines(start(), made.text)
    assert (went, counts(made)) == ([], (1, 0, 0, 5))
    assert came[1] == 'source snare "Snare" dynamic  # guessed: dynamic, from "snare"'
    assert [*rig_of(made.text).sources] == ["kick", "snare", "oh-l", "oh-r", "bass", "vox"]


def test_a_new_first_row() -> None:
    assert next(iter(rig_of(on_top(start(), ("11", "Snare"), *FIRST).text).sources)) == "snare"


def test_a_row_that_is_gone_is_marked_and_its_channel_is_free() -> None:
    made = on_top(start(), *FIRST[:3], *FIRST[4:], ("4", "Banjo"))
    assert made.told == ('`bass` is called "Banjo" now: its name in the rig stays',)  # the same channel: the same line
    made = on_top(start(), *FIRST[:3], *FIRST[4:])
    went, came = changed_lines(start(), made.text)
    assert went == ["patch bass -> DESK.ch 4"]
    assert came == ["# gone bass: not in the list any more", "# gone bass: patch bass -> DESK.ch 4"]
    assert counts(made) == (0, 0, 1, 4)
    assert made.told == ("`bass` is not in the list any more: it is marked, not taken out",)
    assert "bass" in rig_of(made.text).sources


def test_a_row_that_comes_back_is_as_it_was() -> None:
    made = on_top(start(), *FIRST[:3], *FIRST[4:])
    back = on_top(made.text, *FIRST)
    assert (back.text, counts(back)) == (start(), (0, 1, 0, 4))


def test_a_row_that_comes_back_on_another_channel() -> None:
    made = on_top(start(), *FIRST[:3], *FIRST[4:], ("7", "Banjo"))
    back = on_top(made.text, *FIRST[:3], ("8", *FIRST[3][1:]), *FIRST[4:], ("7", "Banjo"))
    assert "\npatch bass -> DESK.ch 8\n" in back.text
    assert "# gone" not in back.text


def test_half_of_a_pair_that_goes_takes_the_pair_along() -> None:
    made = on_top(start(), *(row for row in FIRST if row[1] != "OH R"))
    assert 'source oh-l "OH L" condenser { stand "tall boom" }' in made.text
    assert on_top(made.text, *FIRST).text == start()


def test_rows_without_a_source_come_and_go() -> None:
    made = on_top(start(), *(row for row in FIRST if row[1] != "spare"), ("7", ""), ("8", "spare"))
    assert '# listed without a source: channel "5"' not in made.text
    assert made.text.endswith(
        '\n# listed without a source: channel "7"\n\n# listed without a source: channel "8"; name "spare"\n'
    )
    assert on_top(made.text, *FIRST).text == start()


HANDS = [
    ('source kick "Kick" dynamic {', 'source kick "Kick" condenser in stage to DESK.local 3 via xlr 6 m {'),
    ('{ stand "short boom"', '{ stand "clip"; current 3 mA'),
    ('  # guessed: dynamic, from "dynamic"', "  # yes, it is"),
    ('source vox "Vox" dynamic', 'source vox "Lead vocal" ribbon { phantom; note "in the middle" }'),
    ("patch bass -> DESK.ch 4", "patch bass -> DESK.ch 14  # side by side with keys"),
    ("patch vox -> DESK.ch 6\n", ""),
    ('; note "own box" }', '; note "our box"\n  # behind the amplifier\n  pad 20 dB }'),
    (HEADER, "# my own words\n"),
]


@pytest.mark.parametrize(("old", "new"), HANDS)
def test_what_a_person_has_changed_is_kept(old: str, new: str) -> None:
    text = edited(start(), old, new)
    made = taken_in(band(*FIRST), text)
    assert (made.text, counts(made)) == (text, (0, 0, 0, 5))


@given(st.sets(st.sampled_from(range(len(HANDS)))), st.permutations(FIRST), st.sets(st.sampled_from(FIRST)))
def test_hands_and_lists_do_not_get_into_each_others_way(hands: set[int], order: list[Row], without: set[Row]) -> None:
    """Whatever was changed by hand stands there still, after rows have moved, gone and come back."""
    text = start()
    for at in sorted(hands):
        text = edited(text, *HANDS[at])
    some = taken_in(band(*(row for row in order if row not in without)), text).text
    assert all(HANDS[at][1] in some for at in hands)
    back = taken_in(band(*order), some).text
    assert all(HANDS[at][1] in back for at in hands)
    assert sorted(back.splitlines()) == sorted(text.splitlines())
    assert taken_in(band(*order), back).text == back


@pytest.mark.parametrize(
    ("old", "new", "row", "what"),
    [
        ('"Kick" dynamic', '"Kick" ribbon', ("1", "Kick", "condenser", "short boom"), "type"),
        ('mic "large dynamic" }', 'mic "ours" }', ("1", "Kick", "any dynamic", "short boom"), "`mic`"),
        ("DESK.ch 1\n", "DESK.ch 31\n", ("9", "Kick", "large dynamic", "short boom"), "channel"),
    ],
)
def test_where_both_have_changed_something_the_person_wins_and_is_told(old: str, new: str, row: Row, what: str) -> None:
    made = on_top(edited(start(), old, new), *rows(kick=row))
    assert new in made.text
    assert made.told == (
        f"`kick`: its {what} has changed in the list, and was changed here by hand: it stays as it is",
    )


def test_a_guess_that_was_looked_at_is_a_guess_again_where_the_list_gives_another_type() -> None:
    text = edited(start(), '  # guessed: dynamic, from "dynamic"', "")
    made = on_top(text, *rows(kick=("1", "Kick", "boundary", "short boom")))
    assert 'mic "boundary" }  # guessed: condenser, from "boundary"\n' in made.text


def test_a_label_is_changed_where_the_channel_is_the_same() -> None:
    made = on_top(start(), *rows(vox=("6", "Lead vox")))
    assert 'source vox "Lead vox" dynamic' in made.text
    assert made.told == ('`vox` is called "Lead vox" now: its name in the rig stays',)


def test_a_source_with_a_new_name_is_known_by_the_remark_above_it() -> None:
    text = (
        start()
        .replace("vox ", "singer ")
        .replace("# listed singer", "# listed vox")
        .replace("listed vox:", "listed vox:")
    )
    made = on_top(text.replace("source singer", "source singer"), *rows(vox=("6", "Vox", "dynamic")))
    assert 'source singer "Vox" dynamic { mic "dynamic" }' in made.text
    assert counts(made) == (0, 1, 0, 4)


def test_a_source_with_a_new_name_is_marked_once_and_comes_back() -> None:
    text = start().replace("source vox", "source singer").replace("patch vox", "patch singer")
    gone = on_top(text, *FIRST[:-1])
    assert gone.text.count("# gone singer: ") == 2
    assert on_top(gone.text, *FIRST).text == text


def test_a_source_that_was_taken_out_stays_out() -> None:
    text = edited(start(), 'source vox "Vox" dynamic  # guessed: dynamic, from "vox"\npatch vox -> DESK.ch 6\n', "")
    made = on_top(text, *FIRST)
    assert (made.text, made.told) == (text, ("`vox` is in the list and was taken out by hand: it stays out",))


def test_a_source_that_was_written_by_hand_gets_what_it_lacks() -> None:
    text = start() + 'source banjo "Banjo" condenser { mic "ours" }\n'
    made = on_top(text, *FIRST, ("7", "banjo", "theirs", "round base"))
    assert made.text.endswith(
        '# listed banjo: channel "7"; name "banjo"; mic "theirs"; stand "round base"\n'
        'source banjo "Banjo" condenser { mic "ours"; stand "round base" }\npatch banjo -> DESK.ch 7\n'
    )
    assert counts(on_top(text, *FIRST)) == (0, 0, 0, 5)  # as long as no list has it, it is nobody's business


def test_new_patches_go_to_the_desk_of_the_others() -> None:
    text = start().replace("DESK.ch", "FOH.input")
    assert "patch snare -> FOH.input 7\n" in taken_in(band(*FIRST, ("7", "Snare")), text).text


def test_lines_that_were_moved_are_found() -> None:
    head, *entries = start().split("\n\n")
    text = "\n\n".join([head, *(entry.strip("\n") for entry in reversed(entries))]) + "\n"
    made = on_top(text, *rows(kick=("9", "Kick", "large dynamic", "short boom")))
    assert changed_lines(text, made.text)[1][1:] == ["patch kick -> DESK.ch 9"]
    assert counts(made) == (0, 1, 0, 4)


def test_several_of_one_label_go_by_their_channels() -> None:
    text = start(("1", "Vox"), ("2", "Vox"), ("3", "Vox"))
    made = on_top(text, ("3", "Vox", "radio"), ("1", "Vox"))
    assert 'source vox-3 "Vox" wireless { mic "radio" }' in made.text
    assert counts(made) == (0, 1, 1, 1)


def test_a_file_that_cannot_be_read_whole_is_left_alone() -> None:
    with pytest.raises(ValueError, match=r"`band\.rig` cannot be read whole"):
        taken_in(band(*FIRST), start() + "source { } {\n")


@pytest.mark.parametrize("end", ["", "\n", "\n\n"])
def test_however_the_file_ends(end: str) -> None:
    text = start().rstrip("\n") + end
    assert taken_in(band(*FIRST), text).text == text
    assert on_top(text, *FIRST, ("7", "Snare")).new == 1


def test_ten_thousand_rows_take_seconds_at_most() -> None:
    many = [(str(number), f"Vox {number % 100}", "dynamic") for number in range(1, 10_000)]
    made = taken_in(band(*many))
    assert (made.new, taken_in(band(*many), made.text).unchanged) == (9_999, 9_999)
