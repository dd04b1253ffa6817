"""The page as a file: what is in it, and that nothing in it can run or load but its own script."""

from __future__ import annotations

import base64
import hashlib
import json
import re
from pathlib import Path

import pytest
from lxml import html

from rigdsl.draw import Wanted
from rigdsl.page.data import dumped
from rigdsl.show import Show, load
from tests.draw.made import EXAMPLES, SHAPES

VIEWS = ("flow", "cabling", "plan")


def page_of(show: Show, note: str = "") -> bytes:
    drawings = {name: show.draw(name) for name in VIEWS}
    return show.page(drawings, Wanted(), note=note)


def shown(name: str) -> Show:
    venue, _, rig = name.partition("/")
    return load(EXAMPLES / venue / "shows" / f"{rig}.rig")


def hostile(tmp_path: Path, label: str) -> Show:
    quoted = label.replace("\\", "\\\\").replace('"', '\\"')
    (tmp_path / "rig.toml").write_text("")
    rig = tmp_path / "bad.rig"
    rig.write_text(
        f'rig "{quoted}" {{ lead xlr }}\nzone z "{quoted}" at (0, 0) m\n'
        "model b { kind stage-box; inputs mic 1-4 { preamp }; outputs line 1-2 }\n"
        f'box B "{quoted}" is b in z\nsource s "{quoted}" dynamic in z to B.mic 1 via xlr 3 m\n',
        "utf-8",
    )
    return load(rig)


@pytest.mark.parametrize("name", SHAPES)
def test_every_view_finding_and_list_is_on_it(name: str) -> None:
    show = shown(name)
    tree = html.fromstring(page_of(show).decode("utf-8"))
    data = json.loads(tree.get_element_by_id("data").text)
    assert [tab.get("data-view") for tab in tree.find_class("tab")] == list(VIEWS)
    assert len(tree.findall(".//svg")) >= len(VIEWS)
    assert len(data["findings"]) == len(show.findings())
    assert len(data["paths"]) == len(show.paths.all_paths)
    assert len(tree.findall(".//table")) == 2
    ids = [element.get("id") for element in tree.iter() if element.get("id")]
    assert len(ids) == len(set(ids))


def test_each_name_knows_the_paths_that_a_trace_gives() -> None:
    """The index of the page against `rigdsl trace`, for every source, output, cable and box."""
    show = shown("club/friday")
    data = json.loads(html.fromstring(page_of(show).decode("utf-8")).get_element_by_id("data").text)
    for name in (*show.rig.sources, *show.rig.outputs, *show.rig.links, *show.rig.boxes):
        starts = sorted(str(path.start) + str(path.end) for path in show.trace(name))
        mine = [show.paths.all_paths[index] for index in data["index"].get(name, [])]
        assert sorted(str(path.start) + str(path.end) for path in mine) == starts, name


def test_no_script_runs_but_its_own() -> None:
    """The policy names the hash of each script that is there, and lets nothing be loaded from anywhere."""
    text = page_of(shown("club/friday")).decode("utf-8")
    tree = html.fromstring(text)
    policy = tree.xpath("//meta[@http-equiv='Content-Security-Policy']/@content")[0]
    scripts = re.findall(r"<script>(.*?)</script>", text, re.DOTALL)
    assert scripts
    for script in scripts:
        assert base64.b64encode(hashlib.sha256(script.encode()).digest()).decode() in policy
    assert "default-src 'none'" in policy
    assert not tree.xpath("//@src | //@href | //@onclick | //link | //iframe | //object")
    assert not re.search(r"url\(|@import|\beval\(", "".join(tree.xpath("//style/text()")) + scripts[1])


@pytest.mark.parametrize(
    "label",
    [
        "<script>alert(1)</script>",
        "</script><b>",
        "\"&quot;'",
        "]]> <!--",
        "\u202eabc",
        "🎸 舞台",
        "x" * 200,
        "\\",
    ],
)
def test_labels_are_data(label: str, tmp_path: Path) -> None:
    """They come out as written, in the drawings, the lists and what the script knows, and start nothing."""
    show = hostile(tmp_path, label)
    text = page_of(show).decode("utf-8")
    tree = html.fromstring(text)
    data = json.loads(tree.get_element_by_id("data").text)
    assert data["labels"]["B"] == data["labels"]["s"] == label
    assert len(tree.xpath("//script")) == 1 + text.count("<script>")
    assert text.count("<script>") == page_of(hostile(tmp_path, "plain")).decode("utf-8").count("<script>")
    assert not tree.xpath("//b")


def test_json_in_a_page_cannot_be_ended() -> None:
    said = dumped({"a": "</script><!--\u2028&"})
    assert not set("<>&\u2028") & set(said)
    assert json.loads(said) == {"a": "</script><!--\u2028&"}


def test_the_same_rig_gives_the_same_bytes() -> None:
    assert page_of(shown("club/friday")) == page_of(shown("club/friday"))


def test_a_note_stands_at_the_top() -> None:
    text = page_of(shown("club/friday"), note="the drawing is of <before>").decode("utf-8")
    assert html.fromstring(text).get_element_by_id("note").text == "the drawing is of <before>"
