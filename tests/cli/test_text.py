"""What a finding looks like on a terminal: GNU form, the line, the marks, the other places, the night, the way out."""

from __future__ import annotations

import re

import pytest

from rigdsl.finding import Finding, Level, Related
from rigdsl.lint import Verdict
from rigdsl.reports.excerpt import excerpt
from rigdsl.reports.look import Look, clean
from rigdsl.reports.report import Checked, Report
from rigdsl.reports.text import text
from rigdsl.rig import read
from rigdsl.text import Source, Span

RIG = """\
rig "Lantern Hall" { rate 48 kHz }
model nw4 { kind stage-box; inputs mic 1-4 { preamp } }
zone wing "Stage left wing"
box SL "Stage left rack" is nw4 in wing
box SR "Stage right rack" is nw4 in wing
"""
RIGS = {"friday.rig": read(RIG)}
FILE = Source("friday.rig", RIG)


def mark(part: str, source: Source = FILE) -> Span:
    """The place of some words."""
    start = source.text.index(part)
    return Span(source, start, start + len(part))


def report(*findings: Finding) -> Report:
    files = tuple(Checked(path, True, rig, Verdict(findings)) for path, rig in RIGS.items())
    return Report(files, (), "0")


def finding(place: Span, message: str, level: Level = Level.ERROR, **more: object) -> Finding:
    return Finding(place=place, subject=message, message=message, rule="some-rule", level=level, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(("places", "said"), [(8, ""), (9, "  and 1 more place\n"), (10, "  and 2 more places\n")])
def test_no_more_than_eight_other_places_are_written_out(places: int, said: str) -> None:
    whole = text(report(finding(mark("SL"), "much", related=(Related(mark("nw4"), "here"),) * places)), Look())
    assert whole.count(": here\n") == 8
    assert whole.endswith(f": here\n{said}\n1 error in 1 rig\n")


def test_a_finding_whole() -> None:
    said = finding(
        mark("SL"),
        "`SL` has no way to the desk",
        consequence="4 sources are silent: `kick`, `snare`, `hat`, `bass`",
        help="join `SL.A` to the desk",
        related=(Related(mark("nw4"), "its model is here"),),
    )
    assert text(report(said), Look()) == (
        "friday.rig:4:5: error: `SL` has no way to the desk [some-rule]\n"
        '  4 | box SL "Stage left rack" is nw4 in wing\n'
        "    |     ^^\n"
        "  friday.rig:2:7: its model is here\n"
        "  on the night: 4 sources are silent: `kick`, `snare`, `hat`, `bass`\n"
        "  to mend it: join `SL.A` to the desk\n"
        "\n"
        "1 error in 1 rig\n"
    )


def test_nothing_to_mend() -> None:
    assert text(report(), Look()) == "nothing to mend in 1 rig\n"


def test_worst_first_by_box_and_notes_last_in_one_line_each() -> None:
    told = text(
        report(
            finding(mark("Stage left wing"), "a note", Level.NOTE, help="take it out", box="SL"),
            finding(mark("nw4 in wing"), "a warning", Level.WARNING, box="SR"),
            finding(mark("SR"), "silences one", silent=("kick",), box="SR"),
            finding(mark("SL"), "silences two", silent=("snare", "hat"), box="SL"),
            finding(mark("wing"), "silences none", box="SR"),
        ),
        Look(),
    )
    heads = [line for line in told.splitlines() if "[some-rule]" in line or line.startswith("--")]
    assert heads == [
        "-- SL, Stage left rack --",
        "friday.rig:4:5: error: silences two [some-rule]",
        "-- SR, Stage right rack --",
        "friday.rig:5:5: error: silences one [some-rule]",
        "friday.rig:3:6: error: silences none [some-rule]",
        "friday.rig:4:29: warning: a warning [some-rule]",
        "friday.rig:3:12: note: a note [some-rule]",
    ]
    assert "take it out" not in told
    assert told.endswith("\n\n3 errors, 1 warning, 1 note in 1 rig\n")


def test_every_finding_begins_in_the_gnu_form() -> None:
    told = text(report(finding(mark("SL"), "one"), finding(mark("SR"), "two", Level.WARNING)), Look())
    gnu = re.compile(r"^[^:\s]+:\d+:\d+: (error|warning|note): .+ \[[a-z/-]+\]$", re.MULTILINE)
    assert len(gnu.findall(told)) == 2


@pytest.mark.parametrize(
    ("line", "part", "shown", "marks"),
    [
        ("box SL is nw16", "SL", "box SL is nw16", "    ^^"),
        ("\tbox SL", "SL", "        box SL", "            ^^"),
        ("box\tSL", "SL", "box     SL", "        ^^"),
        ('zone a "日本" b', "b", 'zone a "日本" b', "              ^"),
        ('zone "日本"\tb', "b", 'zone "日本"     b', "                ^"),
        ('zone a "日本"', "日本", 'zone a "日本"', "        ^^^^"),
        ("cafe\u0301 SL", "SL", "cafe\u0301 SL", "     ^^"),
        ("box \x1b[31mSL", "SL", "box ?[31mSL", "         ^^"),
        ('"\u202egnihton" SL', "SL", '"?gnihton" SL', "           ^^"),
        ("source kick", "", "source kick", "^"),
    ],
)
def test_marks_stand_under_what_they_mark(line: str, part: str, shown: str, marks: str) -> None:
    source = Source("a.rig", f"# first\n{line}\n")
    assert excerpt(mark(part, source) if part else Span(source, 8, 8), Look()) == (shown, marks)


def test_what_goes_over_lines_is_marked_to_the_end_of_the_first() -> None:
    source = Source("a.rig", "model nw {\n  kind x\n}\n")
    assert excerpt(Span(source, 6, 21), Look()) == ("model nw {", "      ^^^^")


def test_a_line_of_a_megabyte_is_cut_around_the_marks() -> None:
    source = Source("a.rig", "x" * 500_000 + "HERE" + "y" * 500_000)
    shown, marks = excerpt(mark("HERE", source), Look())
    assert len(shown) < 200
    assert shown[marks.index("^") : len(marks)] == "HERE"
    assert shown.startswith("...x")
    assert shown.endswith("y...")


def test_a_narrow_terminal_wraps_the_words_and_never_the_place() -> None:
    said = finding(mark("SL"), "a " * 50 + "message", help="word " * 30)
    lines = text(report(said), Look(columns=60)).splitlines()
    assert lines[0].endswith("[some-rule]")
    assert all(len(line) <= 60 for line in lines[1:])
    assert [line for line in lines if line.startswith(" " * 14 + "word")]


def test_colour_is_never_the_only_sign_of_a_level() -> None:
    said = report(finding(mark("SL"), "one"), finding(mark("SR"), "two", Level.NOTE))
    plain, coloured = text(said, Look()), text(said, Look(colour=True))
    assert plain != coloured
    assert re.sub(r"\x1b\[[0-9;]*m", "", coloured) == plain


def test_a_weak_console_gets_what_it_can_show() -> None:
    def weak(words: str) -> str:
        return words.encode("ascii", "replace").decode("ascii")

    source = Source("a.rig", 'zone a "日本" b\n')
    assert excerpt(mark("b", source), Look(encoded=weak)) == ('zone a "??" b', "            ^")


@pytest.mark.parametrize(
    ("raw", "shown"), [("a\nb", "a?b"), ("\x00", "?"), ("a\tb", "a\tb"), ("\u2066x", "?x"), ("é👩‍🎤", "é👩‍🎤")]
)
def test_nothing_steers_the_terminal(raw: str, shown: str) -> None:
    assert clean(raw) == shown
