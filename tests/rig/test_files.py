"""Which files a rig is made of, and what is said of those that cannot be read."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from rigdsl.rig import DictReader, DiskReader, Rig, Unread, load, project_root
from rigdsl.text import Source
from tests.rig.said import Said, clean, short


def disk(folder: Path, entry: str = "friday.rig", **files: str | bytes) -> Rig:
    """The rig of files in a project's folder; `_` in a name stands for `/`."""
    for name, content in files.items():
        path = folder / f"{name.replace('_', '/')}.rig"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content.encode("utf-8") if isinstance(content, str) else content)
    return load(entry, DiskReader(project_root(entry))).rig


def using(path: str) -> str:
    return f'rig "Friday" {{}}\nuse "{path}"\n'


# ---- what is read


def test_a_file_is_found_beside_the_one_that_uses_it(folder: Path) -> None:
    rig = disk(
        folder,
        "shows/friday.rig",
        shows_friday=using("../gear/house.rig"),
        gear_house='use "boxes/racks.rig"; zone wing',
        gear_boxes_racks="model nw16 { kind stage-box }; box SL is nw16 in wing",
    )
    assert short(rig.findings) == []
    assert rig.boxes["SL"].zone == "wing"
    assert rig.boxes["SL"].place.source.path == "gear/boxes/racks.rig"


def test_each_file_is_read_once_however_it_is_spelled(folder: Path) -> None:
    rig = disk(
        folder,
        friday=using("house.rig") + 'use "./house.rig"; use "gear/../house.rig"; use "gear/extra.rig"',
        house="zone wing",
        gear_extra='use "../house.rig"; zone foh',
    )
    assert short(rig.findings) == []
    assert list(rig.zones) == ["foh", "wing"]


def test_the_loaded_files_come_entry_first(folder: Path) -> None:
    for name, text in {"friday": using("house.rig"), "house": 'use "gear.rig"', "gear": "zone wing"}.items():
        (folder / f"{name}.rig").write_text(text)
    loaded = load("friday.rig", DiskReader(folder))
    assert [source.path for source in loaded.sources] == ["friday.rig", "house.rig", "gear.rig"]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
def test_line_ends_and_byte_order_marks(folder: Path, end: str, mark: str) -> None:
    text = 'rig "Bühne" {}\nzone wing "Seitenbühne"\t# ein\nbox SL is nw16 in wnig\nmodel nw16 { kind panel }'
    rig = disk(folder, friday=mark + text.replace("\n", end))
    assert rig.head.title == "Bühne"
    (finding,) = rig.findings
    assert (finding.place.text, finding.place.from_position) == ("wnig", (3, 19))


def test_the_project_is_the_nearest_folder_with_a_rig_toml_or_git(tmp_path: Path) -> None:
    inner = tmp_path / "tour" / "shows"
    inner.mkdir(parents=True)
    entry = str(inner / "friday.rig")
    # `tmp_path` itself may lie below some project: that is why the innermost folder is asked first.
    (tmp_path / ".git").mkdir()
    assert project_root(entry) == Path(os.path.realpath(tmp_path))
    (tmp_path / "tour" / "rig.toml").touch()
    assert project_root(entry) == Path(os.path.realpath(tmp_path / "tour"))


def test_a_library_of_a_pack_stands_between_the_users_files_and_the_standards() -> None:
    pack = Source("pack/gear.rig", "cable reel { lines 4 }; cable xlr { lines 3 }; model rack { kind panel }")
    entry = 'rig "x" {}\ncable reel { lines 8 }\nbox A is rack'
    rig = load("x.rig", DictReader({"x.rig": entry}), (pack,)).rig
    assert short(rig.findings) == []
    assert (rig.cables["reel"].lines, rig.cables["xlr"].lines, rig.cables["jack"].lines) == (8, 3, 1)
    assert rig.boxes["A"].model.place.source is pack


def test_the_gear_of_every_pack_is_there() -> None:
    packs = (Source("a.rig", "cable reel { lines 4 }"), Source("b.rig", "cable other { lines 5 }"))
    rig = load("x.rig", DictReader({"x.rig": 'rig "x" {}'}), packs).rig
    assert (rig.cables["reel"].lines, rig.cables["other"].lines) == (4, 5)


def test_deep_and_wide(folder: Path) -> None:
    """Three hundred files in a row, each of which uses the first one too."""
    count = 300
    files = {f"f{n}": f'use "f{n + 1}.rig"; use "common.rig"; zone z{n}' for n in range(count)}
    rig = disk(folder, friday=using("f0.rig"), common="zone all", **{f"f{count}": "zone last"}, **files)
    assert short(rig.findings) == []
    assert len(rig.zones) == count + 2


# ---- what is not


MISSING = "paths are relative to the file that uses them"


@pytest.mark.parametrize(
    ("used", "rule", "message", "help"),
    [
        ("hose.rig", "file-missing", "there is no file `hose.rig`", "there is a file with a similar name: `house.rig`"),
        ("house", "file-missing", "there is no file `house`", "there is a file with a similar name: `house.rig`"),
        ("gear/xyz.rig", "file-missing", "there is no file `gear/xyz.rig`", MISSING),
        ("no/such/folder.rig", "file-missing", "there is no file `no/such/folder.rig`", MISSING),
        ("house.rig/more.rig", "file-missing", "there is no file `house.rig/more.rig`", MISSING),
        ("gear", "unreadable-file", "`gear` is a folder, not a file", "name the file inside it"),
        (".", "unreadable-file", "`.` is a folder, not a file", "name the file inside it"),
        ("../out.rig", "outside-project", "`../out.rig` lies outside the project", ""),
        ("/etc/hostname", "outside-project", "`/etc/hostname` lies outside the project", ""),
        ("gear/../../out.rig", "outside-project", "`../out.rig` lies outside the project", ""),
        ("link.rig", "outside-project", "`link.rig` lies outside the project", ""),
        ("linked/out.rig", "outside-project", "`linked/out.rig` lies outside the project", ""),
        ("picture.rig", "unreadable-file", "`picture.rig` is no text file", "a rig is a plain text, saved as UTF-8"),
        (
            "latin.rig",
            "unreadable-file",
            "`latin.rig` is not in UTF-8: line 2 has a character in another encoding",
            "save it as UTF-8 in your text editor",
        ),
        (
            "utf-16.rig",
            "unreadable-file",
            "`utf-16.rig` is in UTF-16, not in UTF-8",
            "save it as UTF-8 in your text editor",
        ),
        (
            "huge.rig",
            "unreadable-file",
            "`huge.rig` is larger than 64 MiB",
            "a rig is a text of some kilobytes",
        ),
        ("pipe.rig", "unreadable-file", "`pipe.rig` is no ordinary file", "a rig is a plain text file"),
        ("round.rig", "file-missing", "there is no file `round.rig`", ""),
        (
            "n" * 400 + ".rig",
            "unreadable-file",
            f"`{'n' * 197}...` cannot be read: file name too long",
            "check the disk and the path",
        ),
    ],
)
def test_a_file_that_cannot_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, used: str, rule: str, message: str, help: str
) -> None:
    folder = tmp_path / "project"
    folder.mkdir()
    monkeypatch.chdir(folder)
    Path("rig.toml").touch()
    (tmp_path / "out.rig").write_text("zone secret")
    Path("gear").mkdir()
    Path("link.rig").symlink_to(tmp_path / "out.rig")
    Path("linked").symlink_to(tmp_path)
    Path("round.rig").symlink_to("round.rig")
    Path("house.rig").write_text("zone wing")
    Path("picture.rig").write_bytes(b"\x89PNG\r\n\x1a\n\0\0\0")
    Path("latin.rig").write_bytes('zone a\nzone b "Bühne"\n'.encode("latin-1"))
    Path("utf-16.rig").write_bytes("zone a".encode("utf-16"))
    with Path("huge.rig").open("wb") as file:
        file.truncate(64 * 1024 * 1024 + 1)
    os.mkfifo("pipe.rig")
    rig = disk(folder, friday=using(used) + "box A is nw16 in wing; clock B")
    # One cause, one finding: what the file would have defined is not missed by itself.
    ((found_rule, place, found_message, found_help),) = short(rig.findings)
    assert (found_rule, place, found_message) == (rule, f'"{used}"', message)
    assert rig.findings[0].consequence == "all that this file defines is missing"
    if help:
        assert found_help == help


def test_a_file_of_exactly_64_mib_is_read(tmp_path: Path) -> None:
    """And as it has nothing but zeros, it is no text."""
    path = tmp_path / "huge.rig"
    with path.open("wb") as file:
        file.truncate(64 * 1024 * 1024)
    got = DiskReader(Path(os.path.realpath(tmp_path))).read(str(path))
    assert isinstance(got, Unread)
    assert got.message.endswith("is no text file")


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_no_permission(folder: Path) -> None:
    (folder / "house.rig").write_text("zone wing")
    (folder / "house.rig").chmod(0)
    assert short(disk(folder, friday=using("house.rig")).findings) == [
        (
            "unreadable-file",
            '"house.rig"',
            "`house.rig` may not be read",
            "ask its owner for permission to read it",
        )
    ]


@pytest.mark.parametrize(
    ("error", "message"),
    [
        (PermissionError(13, "Permission denied"), "`house.rig` may not be read"),
        (OSError(5, "Input/output error"), "`house.rig` cannot be read: input/output error"),
    ],
)
def test_a_disk_that_refuses(folder: Path, monkeypatch: pytest.MonkeyPatch, error: OSError, message: str) -> None:
    """As whoever runs it, root too."""
    whole = Path.read_bytes

    def refused(path: Path) -> bytes:
        if path.name == "house.rig":
            raise error
        return whole(path)

    monkeypatch.setattr(Path, "read_bytes", refused)
    (finding,) = disk(folder, friday=using("house.rig"), house="zone wing").findings
    assert (finding.rule, finding.message) == ("unreadable-file", message)


@pytest.mark.parametrize(
    ("entry", "rule", "message"),
    [
        ("frday.rig", "file-missing", "there is no file `frday.rig`"),
        ("gear", "unreadable-file", "`gear` is a folder, not a file"),
    ],
)
def test_an_entry_that_cannot_be_read(folder: Path, entry: str, rule: str, message: str) -> None:
    (folder / "gear").mkdir()
    rig = disk(folder, entry, friday="")
    (finding,) = rig.findings
    assert (finding.rule, finding.message, finding.place.source.path) == (rule, message, entry)


CIRCLE = "let one file use the other, and put what both need into a third"


@pytest.mark.parametrize(
    ("files", "place", "path", "message"),
    [
        ({"friday": using("friday.rig")}, '"friday.rig"', "friday.rig", "`friday.rig` uses itself"),
        (
            {"friday": using("a.rig"), "a": 'use "friday.rig"'},
            '"friday.rig"',
            "a.rig",
            "these files use each other in a circle: `friday.rig` uses `a.rig` uses `friday.rig`",
        ),
        (
            {"friday": using("a.rig"), "a": 'use "b.rig"', "b": 'use "friday.rig"'},
            '"friday.rig"',
            "b.rig",
            "these files use each other in a circle: `friday.rig` uses `a.rig` uses `b.rig` uses `friday.rig`",
        ),
        # A circle that the entry only leads to begins where it begins.
        (
            {"friday": using("a.rig"), "a": 'use "b.rig"', "b": 'use "a.rig"'},
            '"a.rig"',
            "b.rig",
            "these files use each other in a circle: `a.rig` uses `b.rig` uses `a.rig`",
        ),
        ({"friday": using("a.rig"), "a": 'use "a.rig"'}, '"a.rig"', "a.rig", "`a.rig` uses itself"),
    ],
)
def test_files_that_use_each_other(folder: Path, files: dict[str, str], place: str, path: str, message: str) -> None:
    rig = disk(folder, **{name: text + "\nzone z-" + name for name, text in files.items()})
    assert short(rig.findings) == [("file-loop", place, message, CIRCLE)]
    assert rig.findings[0].place.source.path == path
    # All of them are read all the same.
    assert set(rig.zones) == {f"z-{name}" for name in files}


def test_a_circle_says_where_it_begins(folder: Path) -> None:
    rig = disk(folder, friday=using("x.rig") + 'use "a.rig"', x="", a='use "b.rig"', b='use "friday.rig"')
    (finding,) = (one for one in rig.findings if one.rule == "file-loop")
    assert [(other.place.text, other.place.from_position.line) for other in finding.related] == [('"a.rig"', 3)]


# ---- far too much of something


@pytest.mark.parametrize(
    ("text", "rules"),
    [
        (f"zone {'z' * 1_000_000}", []),
        (f"box A is {'m' * 1_000_000}", ["unknown-name"]),
        (f"zone a {{ {'f' * 1_000_000} }}", ["unknown-name"]),
        (f'zone a "{"x" * 1_000_000}"', []),
        (f'use "{"n" * 1_000_000}.rig"', ["file-missing"]),
        (f"zone a at ({'9' * 100_000}, 0) m", ["wrong-number"]),
        (f"stock xlr {'9' * 100_000} m x 1", ["wrong-number"]),
        (f"stock xlr 1 m x {'9' * 100_000}", ["wrong-number"]),
        (f"model m {{ kind panel; digital p 1-{'9' * 100_000} }}", ["no-such-port"]),
        (f'model m {{ kind panel; inputs i 1-8 }}; box A is m; keep A.i 1-{"9" * 100_000} for "x"', ["no-such-port"]),
        (f'model m {{ kind panel; inputs i 1-8 }}; box A is m; keep A.i {"1," * 20_000}1 for "x"', ["range-length"]),
    ],
)
def test_a_megabyte_in_one_word(text: str, rules: list[str]) -> None:
    started = time.perf_counter()
    rig = load("x.rig", DictReader({"x.rig": 'rig "x" {}\n' + text})).rig
    assert [finding.rule for finding in rig.findings] == rules
    # Nobody reads a megabyte in a message.
    assert all(len(finding.message) + len(finding.help) < 1000 for finding in rig.findings)
    assert time.perf_counter() - started < 5


def test_said_is_what_a_user_reads_first() -> None:
    found: list[Said] = short(load("x.rig", DictReader({})).rig.findings)
    assert found == [("file-missing", "", "there is no file `x.rig`", MISSING)]
    assert clean("").findings == ()
