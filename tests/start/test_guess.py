"""Guesses of types by the words of the trade. Common practice, no source."""

from __future__ import annotations

import pytest

from rigdsl.rig.words import SOURCE_TYPES
from rigdsl.start.guess import EQUIPMENT, PLAYED, SAID, guessed


def type_of(name: str, mic: str = "", type_: str = "", phantom: bool | None = None) -> str:
    return guessed(name, mic, type_, phantom).type


@pytest.mark.parametrize(
    ("type_", "names"),
    [
        ("dynamic", "Kick, Kick In, KICK out, BD, Bass Drum, Snare, SN top, Snare btm, Tom 1, Toms, Floor tom, Rack"),
        ("dynamic", "Vox, Lead Vocal, Vocals 2, BV 1, BVs, Bass vox, Vox Keys, MC, Gtr SL, Guitar, E-Gtr, Guitar amp"),
        ("dynamic", "Trumpet, Sax, Trombone, Bass amp, Bass cab, Conga hi, Congas, Cajón, Harmonica"),
        ("condenser", "Overhead L, OH, OHs, O/H?, Hat, Hi-Hat, HiHat, HH, Ride, Choir, Audience L, Ambience, Room mic"),
        ("condenser", "Grand piano, Violin 1, Violins, Cello, Strings, Flute, Percussion, Shaker"),
        (
            "di",
            "Bass, Bass DI, Bass D.I., Keys, Keys L/R, Keyboard 2, Synth L, Piano, Organ, Acoustic Gtr, DI",
        ),
        ("di", "Sample pad, Drum pad, Ukulele, Upright bass, Kick trigger"),
        ("playback", "Playback L, Play-back, Tracks, Click, Backing tracks L, Laptop, Intro music, Video sound"),
        ("wireless", "Radio mic 1, Wireless Vox, Headset, Vox (RF), Lavalier"),
        ("talkback", "Talkback, TB, Talk back mic, Shout, Guitar talkback"),
        ("line", "DJ, DJ L, DJ mixer, FX return, Line in"),
        ("active-di", "Bass active DI"),
        ("ribbon", "Guitar ribbon"),
    ],
)
def test_by_the_name(type_: str, names: str) -> None:
    told = {name: type_of(name) for name in names.split(", ") if not name.endswith("?")}
    assert told == dict.fromkeys(told, type_)


@pytest.mark.parametrize(
    ("name", "mic", "expected"),
    [
        ("Guitar", "ribbon", "ribbon"),
        ("Kick in", "boundary condenser", "condenser"),
        ("Hat", "any dynamic", "dynamic"),
        ("Acoustic", "small condenser", "condenser"),
        ("Bass", "DI", "di"),
        ("Bass", "Active D.I.", "active-di"),
        ("Lead vox", "radio handheld", "wireless"),
        ("Keys", "line", "line"),
        ("Kick", "Plum 52", "dynamic"),  # a model's name says nothing
        ("Hat", "Plum 52", "condenser"),
    ],
)
def test_the_microphone_says_more_than_the_name(name: str, mic: str, expected: str) -> None:
    assert type_of(name, mic) == expected


@pytest.mark.parametrize(
    ("name", "phantom", "expected"),
    [
        ("Bass DI", True, "active-di"),
        ("Bass DI", False, "di"),
        ("Vox", True, "condenser"),
        ("Vox", None, "dynamic"),
        ("Fnord", True, "condenser"),
        ("Hat", False, "condenser"),
        ("Gtr ribbon", True, "ribbon"),  # that one is for a person to look at
    ],
)
def test_phantom_counts_where_the_type_is_a_guess(name: str, phantom: bool | None, expected: str) -> None:
    assert type_of(name, phantom=phantom) == expected


def test_what_the_list_says_is_no_guess() -> None:
    assert guessed("Hat", "dynamic", "", True).remark == ""
    assert guessed("Bass", "Plum 7", "active di", None).remark == ""
    assert type_of("Hat", "dynamic", phantom=True) == "dynamic"


@pytest.mark.parametrize(
    ("name", "phantom", "remark"),
    [
        ("OHs 2", None, '# guessed: condenser, from "oh"'),
        ("Fnord", None, "# guessed: dynamic, nothing in the row says more"),
        ("Fnord", True, "# guessed: condenser, from its phantom"),
        ("Vox", True, '# guessed: condenser, from "vox" and its phantom'),
        ("Gtr ribbon", None, '# guessed: ribbon, from "ribbon"; phantom can ruin a passive ribbon'),
    ],
)
def test_a_guess_says_what_it_is_from(name: str, phantom: bool | None, remark: str) -> None:
    assert guessed(name, "", "", phantom).remark == remark


def test_every_type_is_one_of_the_language_and_every_word_is_found() -> None:
    assert {*SAID.values(), *(type_ for type_, _ in EQUIPMENT + PLAYED)} <= set(SOURCE_TYPES)
    for type_, words in EQUIPMENT:
        assert {word: type_of("", f"fnord {word} 2") for word in words.split(", ")} == dict.fromkeys(
            words.split(", "), type_
        )
    for _, words in PLAYED:
        assert [word for word in words.split(", ") if guessed(word, "", "", None).because.startswith("nothing")] == []
