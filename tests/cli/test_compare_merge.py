"""`rigdsl compare --merge`: two branches that are each well, and clash when they are merged."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from tests.cli.club import CLEAN, GEAR
from tests.cli.repository import commit, git, start
from tests.cli.test_compare import SCHEMA
from tests.conftest import Run

KICK = 'source kick "Kick in" dynamic in wing to SL 1 via xlr 6 m\n'
OUTPUT = 'output wedge "Wedge"'
HAT = 'source hat "Hat" dynamic in wing to SL 3 via xlr 6 m\n'
GTR = 'source gtr "Guitar" dynamic in wing to SL 3 via xlr 6 m\n'
NARROW = GEAR.replace("protocol aes50", "protocol pair") + "protocol pair { carries 3 at 48 kHz; over cat6 50 m }\n"
OPEN = CLEAN.replace('keep SL.mic 3-4 for "support act"\n', "")  # two inputs that a branch may take


def after(text: str, anchor: str, line: str) -> str:
    """A text with a line behind another: the branches write at different places, so that git merges them."""
    assert anchor in text
    return text.replace(anchor, anchor + line)


@pytest.fixture
def branches(club: Path) -> Path:
    """Two branches of one rig, `main` and `brass`; the first is checked out, and nothing is merged yet."""
    (club / "rig.toml").write_text("")
    start(club)
    return club


def split(folder: Path, base: dict[str, str], ours: dict[str, str], theirs: dict[str, str]) -> tuple[str, str]:
    """The two commits that the branches end in."""
    commit(folder, "the hall", **base)
    git(folder, "checkout", "-q", "-b", "brass")
    second = commit(folder, "a guitar joins", **theirs)
    git(folder, "checkout", "-q", "main")
    return commit(folder, "a hat joins", **ours), second


def same_socket(folder: Path) -> tuple[str, str]:
    base = {"friday": OPEN, "gear": GEAR}
    hat, guitar = after(OPEN, KICK, HAT), OPEN.replace(OUTPUT, GTR + OUTPUT)
    return split(folder, base, {"friday": hat}, {"friday": guitar})


def merged(folder: Path, *words: str) -> None:
    git(folder, "merge", "-q", "brass", "-m", "both", *words)


def test_one_socket_taken_by_both(branches: Path, run: Run) -> None:
    ours, theirs = same_socket(branches)
    for state in ("main", "brass"):
        git(branches, "checkout", "-q", state)
        assert "port-taken" not in run("check", "friday.rig").out, "each branch is well alone"
    git(branches, "checkout", "-q", "main")
    merged(branches)
    ran = run("compare", "--merge", "friday.rig", "--fail-on", "error")
    assert (ran.status, ran.err) == (1, "")
    lines = [line.strip() for line in ran.out.splitlines()]
    assert lines[0] == "main and brass together: 1 finding that neither of them has alone"
    assert "two plugs are meant for `SL.mic 3`: `gtr`, `hat` [port-taken]" in ran.out.replace(
        "`hat`, `gtr`", "`gtr`, `hat`"
    )
    (hat,) = (line for line in lines if line.startswith("main: source hat added"))
    (guitar,) = (line for line in lines if line.startswith("brass: source gtr added"))
    assert hat.endswith(f'(friday.rig:8, commit {ours[:9]} "a hat joins")')
    assert guitar.endswith(f'(friday.rig:10, commit {theirs[:9]} "a guitar joins")')


def test_a_trunk_that_both_fill(branches: Path, run: Run) -> None:
    """The trunk carries 3 channels: 2 and 1 are well, 2 and 2 are not, though no line that both have was touched."""
    hat = HAT + "patch SL.mic 3 -> DESK.ch 3\n"
    guitar = GTR.replace("SL 3", "SL 4") + "patch SL.mic 4 -> DESK.ch 4\n"
    split(
        branches,
        {"friday": OPEN, "gear": NARROW},
        {"friday": after(OPEN, KICK, hat)},
        {"friday": OPEN.replace(OUTPUT, guitar + OUTPUT)},
    )
    merged(branches)
    ran = run("compare", "--merge", "friday.rig", "--as", "json")
    document = json.loads(ran.out)
    jsonschema.Draft202012Validator(SCHEMA).validate(document)
    (over,) = (one for one in document["findings"] if one["finding"]["rule"] == "too-many-channels")
    assert over["finding"]["subject"] == "C01"
    assert {part["branch"] for part in over["parts"]} == {"main", "brass"}
    assert {part["summary"] for part in over["parts"]} == {"a hat joins", "a guitar joins"}


def test_gear_and_band_clash_over_two_files(branches: Path, run: Run) -> None:
    """One takes phantom out of the box, the other brings a condenser: the origins lie in two files."""
    singer = HAT.replace("dynamic", "condenser") + "patch SL.mic 3 -> DESK.ch 3\n"
    less = GEAR.replace("; phantom 48 V 10 mA", "")
    calm = OPEN.replace("condenser", "dynamic")
    split(branches, {"friday": calm, "gear": GEAR}, {"friday": after(calm, KICK, singer)}, {"gear": less})
    merged(branches)
    ran = run("compare", "--merge", "HEAD", "--as", "md")
    assert "phantom-missing" in ran.out
    assert "  - main: source hat added" in ran.out
    assert "  - brass: model nw4 changed" in ran.out
    assert "(gear.rig:1, commit" in ran.out


def test_fewer_sockets_here_and_the_last_one_there(branches: Path, run: Run) -> None:
    """The line writes its socket short, `SL 4`: both branches are named all the same, by the line that it stands on."""
    small = GEAR.replace("inputs mic 1-4", "inputs mic 1-3")
    open_ = OPEN.replace('keep SL.line 2 for "support act"\n', "")
    last = after(open_, KICK, HAT.replace("SL 3", "SL 4"))
    split(branches, {"friday": open_, "gear": GEAR}, {"friday": last}, {"gear": small})
    merged(branches)
    lines = [line.strip() for line in run("compare", "--merge").out.splitlines()]
    assert any("`SL.mic` has sockets 1 to 3, and `4` is not among them" in line for line in lines)
    assert any(line.startswith("main: source hat added: ") and "a hat joins" in line for line in lines)
    assert any(line.startswith("brass: model nw4 changed: mic number 3, was 4 (gear.rig:1, ") for line in lines)


def test_what_goes_together(branches: Path, run: Run) -> None:
    commit(branches, "the hall", friday=OPEN, gear=GEAR)
    git(branches, "checkout", "-q", "-b", "brass")
    commit(branches, "a guitar joins", friday=OPEN.replace(OUTPUT, GTR + OUTPUT))
    git(branches, "checkout", "-q", "main")
    commit(branches, "another label", friday=OPEN.replace("Kick in", "Kick"))
    merged(branches)
    ran = run("compare", "--merge", "--fail-on", "note")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out == "main and brass go together: nothing new is wrong in 1 rig\n"


def test_a_fault_that_a_branch_has_alone_is_not_of_the_merge(branches: Path, run: Run) -> None:
    commit(branches, "the hall", friday=OPEN, gear=GEAR)
    git(branches, "checkout", "-q", "-b", "brass")
    commit(branches, "a loose guitar", friday=OPEN.replace(OUTPUT, "source gtr dynamic in wing\n" + OUTPUT))
    git(branches, "checkout", "-q", "main")
    commit(branches, "another label", friday=OPEN.replace("Kick in", "Kick"))
    merged(branches)
    assert "go together" in run("compare", "--merge").out


def test_a_merge_that_is_under_way(branches: Path, run: Run) -> None:
    ours, theirs = same_socket(branches)
    merged(branches, "--no-commit", "--no-ff")
    out = run("compare", "--merge").out
    assert out.startswith("main and brass together: 1 finding")
    assert f"commit {ours[:9]}" in out
    assert f"commit {theirs[:9]}" in out
    assert "friday.rig" in git(branches, "status", "--porcelain"), "the merge is still under way"


def test_trouble(branches: Path, run: Run) -> None:
    commit(branches, "the hall", friday=OPEN, gear=GEAR)
    assert run("compare", "--merge").err == (
        "rigdsl: the last commit is no merge, and none is under way: name the commit of a merge;"
        " after a rebase, `rigdsl compare ORIG_HEAD HEAD` tells what has changed\n"
    )
    assert "`HEAD` is no merge" in run("compare", "--merge", "HEAD").err
    git(branches, "checkout", "-q", "-b", "brass")
    commit(branches, "one label", friday=OPEN.replace("Kick in", "Bass drum"))
    git(branches, "checkout", "-q", "main")
    commit(branches, "another label", friday=OPEN.replace("Kick in", "Kick"))
    git(branches, "merge", "brass", check=False)
    ran = run("compare", "--merge")
    assert (ran.status, ran.out) == (2, "")
    assert "the merge is not settled yet: `friday.rig` still holds both texts" in ran.err
    for words in (["--merge", "HEAD", "friday.rig", "gear.rig"], ["--merge", "--as", "changeover"]):
        assert run("compare", *words).status == 2
