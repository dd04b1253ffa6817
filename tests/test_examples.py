"""The example projects: each loads, is of the size of a real show, and says only what is meant."""

from __future__ import annotations

import os
import re
from functools import cache
from pathlib import Path

import pytest

from rigdsl.finding import Level
from rigdsl.lint import Verdict, lint
from rigdsl.packs import discover
from rigdsl.paths import Paths
from rigdsl.rig import DiskReader, Rig, load, project_root

ROOT = Path(__file__).parents[1] / "examples"
SHOWS = sorted(str(path.relative_to(ROOT)) for path in ROOT.glob("*/shows/*.rig"))
FAULTY = "faulty/shows/friday.rig"
COPPER = "faulty/shows/saturday.rig"

# level, rule, subject: the tables of the faulty rigs' README
EXPECTED = sorted(
    [
        ("error", "too-many-channels", "C01"),
        ("error", "protocol-mismatch", "C04"),
        ("error", "not-an-audio-port", "C05"),
        ("error", "run-too-long", "C06"),
        ("error", "control-mismatch", "KEY.mic"),
        ("error", "port-taken", "SL.mic 14"),
        ("error", "channel-taken", "DESK.ch 5"),
        ("error", "unplugged-source", "spoons"),
        ("error", "lost-source", "harp"),
        ("error", "silent-output", "wdg-2"),
        ("error", "link-too-short", "flute"),
        ("warning", "split-pair", "organ"),
        ("warning", "dead-end-line", "LOOSE.tail"),
        ("warning", "hi-z-run", "bass"),
        ("warning", "speaker-loss", "S02"),
    ]
)
EXPECTED_COPPER = sorted(
    [
        ("error", "phantom-missing", "hat"),
        ("error", "phantom-blocked", "vox"),
        ("error", "level-mismatch", "WA.in"),
        ("error", "amp-overload", "AMP.out 1"),
        ("error", "address-taken", "10.0.0.5"),
        ("error", "frequency-taken", "606.5 MHz"),
        ("warning", "level-mismatch", "DESK.mic 3"),
        ("warning", "circuit-load", "D1"),
        ("warning", "over-stock", "lead-xlr 40 m"),
        ("warning", "shared-fate", "C01+C02"),
        ("warning", "latency-over-budget", "ears"),
        ("warning", "walkway", "crowd"),
    ]
)

each_show = pytest.mark.parametrize("show", SHOWS)
each_good_show = pytest.mark.parametrize("show", [show for show in SHOWS if show not in (FAULTY, COPPER)])


@cache
def rig_of(show: str) -> Rig:
    path = os.path.relpath(ROOT / show)
    return load(path, DiskReader(project_root(path))).rig


@cache
def verdict_of(show: str) -> Verdict:
    rig = rig_of(show)
    return lint(rig, Paths(rig), [packed for packed in discover().rules if packed.rule.on])


def bad(show: str) -> list[tuple[str, str, str]]:
    """Errors and warnings: level, rule, subject."""
    findings = verdict_of(show).findings
    return sorted((str(item.level), item.rule, item.subject) for item in findings if item.level != Level.NOTE)


@each_good_show
def test_nothing_is_wrong(show: str) -> None:
    assert bad(show) == []
    assert not verdict_of(show).crashed


def test_the_faulty_rig_says_what_its_readme_says() -> None:
    assert bad(FAULTY) == EXPECTED
    assert bad(COPPER) == EXPECTED_COPPER


def test_the_readme_of_the_faulty_rig_names_every_finding() -> None:
    text = (ROOT / "faulty" / "README.md").read_text("utf-8")
    named = re.findall(r"^\| `([a-z-]+)` \| `([^`]+)` \| (error|warning) \|", text, re.MULTILINE)
    assert sorted((level, rule, subject) for rule, subject, level in named) == sorted(EXPECTED + EXPECTED_COPPER)


@pytest.mark.parametrize(
    ("show", "sources", "outputs", "boxes"),
    [
        ("club/shows/friday.rig", 18, 8, 6),
        ("hall/shows/winter-concert.rig", 32, 6, 12),
        ("festival/shows/saturday-day.rig", 48, 12, 30),
        ("festival/shows/saturday-night.rig", 45, 10, 30),
        ("stage-core/shows/cabaret.rig", 20, 10, 8),
        ("analogue/shows/dance.rig", 14, 1, 10),
    ],
)
def test_it_is_as_big_as_a_real_one(show: str, sources: int, outputs: int, boxes: int) -> None:
    rig = rig_of(show)
    assert len(rig.sources) >= sources
    assert len(rig.outputs) >= outputs
    assert len(rig.boxes) >= boxes


@each_show
def test_it_is_marked_as_invented(show: str) -> None:
    assert rig_of(show).head.demo


@each_show
def test_every_cable_has_a_name(show: str) -> None:
    assert [link.name for link in rig_of(show).links.values() if not link.id] == []


@each_good_show
def test_sound_goes_all_the_way(show: str) -> None:
    rig = rig_of(show)
    paths = Paths(rig)
    heard = [name for name, source in rig.sources.items() if source.type != "talkback"]
    assert [name for name in heard if not paths.arrives(name)] == []
    assert [name for name in rig.outputs if not paths.sounds(name)] == []


def test_the_night_is_the_day_with_changes() -> None:
    """The night's file has a few lines of its own; all else is the day's."""
    day, night = rig_of("festival/shows/saturday-day.rig"), rig_of("festival/shows/saturday-night.rig")
    gone, new = day.sources.keys() - night.sources.keys(), night.sources.keys() - day.sources.keys()
    assert gone == {"conga-lo", "conga-hi", "timbales", "perc-oh", "gtr-3", "pad", "mando"}
    assert new == {"str-1", "str-2", "str-3", "str-4"}
    assert day.outputs.keys() - night.outputs.keys() == {"ear-3"}
    assert [str(port) for port in day.sources["squeeze"].ports] == ["BL.panel 12"]
    assert [str(port) for port in night.sources["squeeze"].ports] == ["FR.panel 2"]
    assert night.head.rate_hz == day.head.rate_hz
    assert (day.head.revision, night.head.revision) == ("4", "5")


@pytest.mark.parametrize("folder", sorted(path.name for path in ROOT.iterdir() if (path / "shows").is_dir()))
def test_a_project_has_its_files(folder: str) -> None:
    assert (ROOT / folder / "rig.toml").is_file()
    assert "Demo data" in (ROOT / folder / "README.md").read_text("utf-8")
