"""The Python face: `rigdsl.load` and what a show can do."""

from __future__ import annotations

from pathlib import Path

import pytest

import rigdsl
from rigdsl.show import Show, today, typed

RIG = """\
rig "Lantern Hall" { rate 48 kHz }
model nw4 { kind stage-box; inputs mic 1-4 { preamp }; digital A { protocol aes50 } }
model desk8 { kind console; channels ch 1-8; digital stage { protocol aes50 } }
zone wing "Stage left wing"
box SL "Stage left rack" is nw4 in wing
box DESK "Desk" is desk8 in wing
link C01: SL.A -- DESK.stage via cat6 30 m
source kick "Kick in" dynamic in wing to SL 1 via xlr 6 m
source hat "Hi-hat" dynamic in wing
patch SL.mic 1 -> DESK.ch 1
keep SL.mic 2-4 for "support act"
"""


@pytest.fixture
def show(folder: Path) -> Show:
    (folder / "friday.rig").write_text(RIG)
    return rigdsl.load("friday.rig")


def test_findings(show: Show) -> None:
    (finding,) = show.findings()
    assert (finding.rule, finding.subject) == ("unplugged-source", "hat")
    assert str(finding.level) == "error"
    assert finding.place.text == "hat"


def test_trace(show: Show) -> None:
    (path,) = show.trace("kick")
    assert path.complete
    assert str(path.end) == "DESK.ch 1"
    assert show.trace("SL.mic 1") == (path,)
    with pytest.raises(LookupError, match="there is no source, output, cable or box called `kcik`"):
        show.trace("kcik")


def test_the_rig_is_frozen(show: Show) -> None:
    assert show.rig.boxes["SL"].title == "Stage left rack"
    with pytest.raises(AttributeError):
        show.rig.head = show.rig.head  # type: ignore[misc]


def test_drawings(show: Show, tmp_path: Path) -> None:
    drawing = show.draw("cabling")
    drawing.save(tmp_path / "cabling.svg")
    assert (tmp_path / "cabling.svg").read_bytes() == drawing.data
    assert "<svg" in str(drawing._repr_html_())
    assert show.draw("flow", "png").data.startswith(b"\x89PNG")
    assert show.draw("flow", "png")._repr_html_() is None


def test_errors_that_have_no_place_on_a_drawing(folder: Path, show: Show) -> None:
    assert (show.errors_off("flow"), show.errors_off("cabling")) == (0, 0)
    (folder / "friday.rig").write_text(f"{RIG}suorce tom\n")
    broken = rigdsl.load("friday.rig")
    assert (broken.errors_off("flow"), broken.errors_off("cabling")) == (1, 1)


def test_a_show_draws_itself_in_a_notebook(show: Show) -> None:
    assert show._repr_html_() == show.draw("flow")._repr_html_()


def test_a_path_object_will_do(folder: Path, show: Show) -> None:
    again = rigdsl.load(folder / "friday.rig")
    assert again.path == "friday.rig"
    assert [finding.subject for finding in again.findings()] == [finding.subject for finding in show.findings()]


@pytest.mark.parametrize("name", ["nothing.rig", "."])
def test_a_file_that_cannot_be_read(folder: Path, name: str) -> None:
    with pytest.raises(OSError, match="`"):
        rigdsl.load(name)


def test_paths_are_said_from_the_current_folder(folder: Path) -> None:
    assert typed(str(folder / "shows" / "friday.rig")) == "shows/friday.rig"
    assert typed("./shows/../friday.rig") == "friday.rig"


@pytest.mark.parametrize(("epoch", "day"), [("0", "1970-01-01"), ("1796083200", "2026-12-01")])
def test_today_may_be_set(monkeypatch: pytest.MonkeyPatch, epoch: str, day: str) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", epoch)
    assert today() == day
