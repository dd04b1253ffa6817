"""What is wrong in a `rig.toml`, beside what is said of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from rigdsl.packs import Refused

from .made import FESTIVAL, config, packs, told

REFUSED = Refused("moss", "0.3", "`moss:pack` is not a pack")
ALL = packs(FESTIVAL, refused=(REFUSED,))
LEVELS = '`"error"` or `"warning"` or `"note"` or `"on"` or `"off"`'


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (
            'fail_on = "note"',
            "1:1: there is no key of `rig.toml` called `fail_on`;"
            " there is a key of `rig.toml` with a similar name: `fail-on`",
        ),
        (
            'fail-on = "warn"',
            '1:11: `fail-on` takes `"error"` or `"warning"` or `"note"` or `"never"`, and not `"warn"`;'
            " there is a word with a similar name: `warning`",
        ),
        (
            "papers = 3",
            '1:1: `papers` is no block; write `[papers]`, and under it a line for each, as in `paper = "letter"`',
        ),
        (
            "[papers]\nsize = 4",
            "2:1: there is no key of papers called `size`; there are: `language`, `paper`, `joins`, `spares-percent`,"
            " `colours`, `columns`",
        ),
        ('[papers]\nlanguage = "fr"', '2:12: `language` takes `"en"` or `"de"`, and not `"fr"`; '),
        ("[papers]\njoins = 9", "2:9: `joins` takes a whole number from 0 to 3, and not `9`; "),
        (
            '[papers.columns]\ninput-list = "mic"',
            "1:9: `columns` takes a table of names, each with a list of one or more in square brackets, each a text in"
            ' quotation marks, and not `{ input-list = "mic" }`; write `[papers.columns]`, and under it a line for each'
            ' paper: `input-list = ["channel", "source", "mic"]`',
        ),
        ("edition = 0", "1:11: `edition` takes a whole number of 1 or more, and not `0`; "),
        ("edition = true", "1:11: `edition` takes a whole number of 1 or more, and not `true`; "),
        (
            "edition = 99",
            "1:11: there is no edition 99 of the rules yet: the newest is 2;"
            " write `edition = 2`, or install a later rigdsl",
        ),
        (
            'requires = "1.2"',
            '1:12: `requires` takes a text in quotation marks, and not `"1.2"`;'
            ' a version is `">=0.1"` or `">=0.1, <1"`',
        ),
        (
            'requires = ">=99"',
            "1:12: this project needs rigdsl >=99, and this is rigdsl 0.1.0; install rigdsl >=99, or change `requires`",
        ),
        (
            'rigs = "shows/*.rig"',
            "1:8: `rigs` takes a list of one or more in square brackets, each a text in quotation marks, and not "
            '`"shows/*.rig"`; ',
        ),
        (
            '[packs]\nfestivl = ">=1"',
            "2:1: the pack `festivl` is not installed; there is a pack with a similar name: `festival`",
        ),
        (
            '[packs]\nquarry = ">=1"',
            "2:1: the pack `quarry` is not installed; install the pack `quarry` >=1 beside rigdsl",
        ),
        (
            '[packs]\nfestival = ">=2"',
            "2:12: the pack `festival` is installed as 1.4, and >=2 is asked for; install the pack `festival` >=2",
        ),
        (
            '[packs.moss]\nversion = ">=0"',
            "1:8: the pack `moss` 0.3 is installed and cannot be used: `moss:pack` is not a pack;"
            " install the pack `moss` >=0 in a version that can be used",
        ),
        (
            '[packs]\nports = ">=0"',
            "2:1: `ports` is a pack of rigdsl's own;"
            " take the line out; `requires` at the top says which version of rigdsl is needed",
        ),
        ("[packs.festival]\nvers = 3", "2:1: there is no key of a pack called `vers`;"),
        (
            "[rules.chanel-taken]",
            "1:8: there is no rule called `chanel-taken`; there is a rule with a similar name: `channel-taken`",
        ),
        (
            "[rules.syntax-error]",
            "1:8: `syntax-error` belongs to no pack, is always on, and has no level or options to be set;",
        ),
        (
            '[rules."festival/loud"]',
            "1:8: `festival/loud` is a rule of a pack that is not in use; list the pack `festival` under `[packs]`",
        ),
        (
            '[rules."quarry/loud"]',
            "1:8: `quarry/loud` is a rule of a pack that is not installed;"
            " install the pack `quarry` and list it under `[packs]`, or take this block out",
        ),
        (
            '[packs]\nfestival = ">=1"\n[rules."festival/lod"]',
            "3:8: there is no rule called `festival/lod`; there is a rule with a similar name: `festival/loud`",
        ),
        ('[rules]\nunused-port = "off"', "2:1: `unused-port` is set like a level; a rule has a block of its own"),
        (
            '[rules.unused-port]\nlevel = "of"',
            f'2:9: `level` takes {LEVELS}, and not `"of"`; there is a word with a similar name: `off`',
        ),
        ("[rules.run-near-limit]\nshare = 1.5", "2:9: `share` takes a number from 0 to 1, and not `1.5`; "),
        (
            "[rules.run-near-limit]\nshar = 0.5",
            "2:1: `run-near-limit` has no option called `shar`; there is an option with a similar name: `share`",
        ),
        (
            "[rules.run-near-limit]\nedition = 1",
            "2:1: `run-near-limit` has no option called `edition`;"
            " `edition` of the whole project belongs above the first line in square brackets",
        ),
        (
            "[rules.lost-patch]\nzzz = 1",
            "2:1: `lost-patch` has no option called `zzz`; it has `level` and nothing else",
        ),
        ('rules = { run-near-limit = { share = "x" } }', '1:38: `share` takes a number from 0 to 1, and not `"x"`; '),
        ("[[for]]\n", "1:1: this `[[for]]` has no `rigs`; say which rigs it is for"),
        ('[[for]]\nrigs = ["a"]\nrule = 1', "3:1: there is no key of `[[for]]` called `rule`;"),
        (
            '[for]\nrigs = ["a"]',
            "1:2: `for` is a list of blocks; a block for some of the rigs begins with `[[for]]`, in double brackets",
        ),
        (
            '[[for]]\nrigs = ["a"]\n[for.rules.hi-z-run]\nmost_m = -1',
            "4:10: `most_m` takes a number of 0 or more, and not `-1`; ",
        ),
        ("# edition\nedition 1", "2:9: there is no `=` behind the name; a line is `name = value`"),
        ("edition = ", "1:9: there is no value here; a text stands in quotation marks"),
        ("fail-on = never", "1:11: there is no value here; a text stands in quotation marks"),
        ("edition = 1\nedition = 2", "2:11: this is set twice; take one of the two lines out"),
        ("[rules.a]\n[rules.a]", "2:9: this block is here twice; put the lines of both under one"),
        ("rigs = [", "1:8: there is no value here;"),
        (
            "[rules.festival/loud]",
            '1:16: a name with `/` in it stands bare; put it in quotation marks: `[rules."pack/rule"]`',
        ),
    ],
)
def test_wrong(folder: Path, text: str, said: str) -> None:
    read = config(folder, text, ALL)
    (line,) = told(read)
    assert line.startswith(said)
    (finding,) = read.findings
    assert (finding.rule, str(finding.level), finding.place.source.path) == ("wrong-config", "error", "rig.toml")
    assert finding.consequence


def test_a_missing_pack_is_told_once(folder: Path) -> None:
    """Not again for each of its rules that is set."""
    text = '[packs]\nquarry = ">=1"\n[rules."quarry/loud"]\nlevel = "off"\n'
    assert len(config(folder, text).findings) == 1


def test_what_is_right_beside_it_is_followed(folder: Path) -> None:
    read = config(folder, 'fail-on = "note"\nedtion = 1\n[rules.hi-z-run]\nmost = 3\nmost_m = 9\nlevel = "note"\n')
    assert len(read.findings) == 2
    assert read.fail_on is not None
    assert (read.fail_on.value, read.fail_on.by) == ("note", "rig.toml:1")
    setting = read.settings("friday.rig")["hi-z-run"]
    assert (setting.level.value, setting.values) == ("note", {"most_m": 9})


@pytest.mark.parametrize("data", [b"\xff\xfe", b"rigs = \xe9", b"\0"])
def test_no_text(folder: Path, data: bytes) -> None:
    (folder / "rig.toml").write_bytes(data)
    from rigdsl.config import config_of

    (finding,) = config_of(folder, ALL).findings
    assert finding.rule == "wrong-config"


def test_a_file_of_comments_sets_nothing(folder: Path) -> None:
    read = config(folder, "# nothing\n\n   # [rules.x]\n")
    assert (read.findings, read.rigs, read.fail_on) == ((), None, None)
