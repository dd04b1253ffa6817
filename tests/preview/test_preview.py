"""The preview: a page that follows its files, for this machine alone, that nothing half-written can end."""

from __future__ import annotations

import http.client
import json
import os
import re
import signal
import socket
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from queue import Queue
from threading import Event, Thread
from typing import Any

import pytest
from lxml import html
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait

from rigdsl.draw import Choice, NamedView, Node, View, Wanted, sheet
from rigdsl.draw import render as drawn_by_engine
from rigdsl.packs import Installed, Pack, Packs
from rigdsl.preview import Made, Maker, Preview, state_of, watched
from rigdsl.rig import Rig
from rigdsl.show import Show, load, typed
from tests.page.browser import browser

RIG = """rig "Test" { lead xlr }
zone wing "Wing" at (0, 0) m
model b { kind stage-box; inputs mic 1-4 { preamp }; outputs line 1-2 }
box SL "Rack" is b in wing
source kick "Kick" dynamic in wing to SL.mic 1 via xlr 3 m
"""


@pytest.fixture
def rig(tmp_path: Path) -> Path:
    (tmp_path / "rig.toml").write_text("")
    (tmp_path / "friday.rig").write_text(RIG)
    return tmp_path / "friday.rig"


def maker(rig: Path) -> Maker:
    return Maker(lambda: load(rig), lambda show: Wanted())


def note_of(made: Made) -> str:
    found = html.fromstring(made.page.decode("utf-8")).xpath("//*[@id='note']/text()")
    return found[0] if found else ""


def boxes_of(made: Made) -> list[str]:
    text = made.page.decode("utf-8")
    return sorted(set(re.findall(r'data-things="\[&quot;([A-Z]+)&quot;\]" data-zone', text)))


def views_of(made: Made) -> list[str]:
    """The views that have a tab."""
    return [str(view) for view in html.fromstring(made.page.decode("utf-8")).xpath("//*[@class='tab']/@data-view")]


def drawings_of(made: Made) -> list[str]:
    return re.findall("<svg.*?</svg>", made.page.decode("utf-8"), re.DOTALL)


# ---- states of the page


def test_a_saved_change_is_drawn(rig: Path) -> None:
    made = maker(rig)
    assert boxes_of(made.made()) == ["SL"]
    rig.write_text(RIG + "box SR is b in wing\nlink L1: SL.line 1 -- SR.mic 1 via xlr 5 m\n")
    again = made.made()
    assert (again.number, boxes_of(again), note_of(again)) == (2, ["SL", "SR"], "")


def test_a_broken_file_keeps_the_last_drawing_and_says_what_is_wrong(rig: Path) -> None:
    made = maker(rig)
    made.made()
    rig.write_text(RIG.replace("box SL", "bxo SL"))
    broken = made.made()
    assert boxes_of(broken) == ["SL"]
    assert "friday.rig:4:" in note_of(broken)
    assert note_of(broken).endswith("the drawings are of the last text that could be read")
    data = json.loads(html.fromstring(broken.page.decode("utf-8")).get_element_by_id("data").text)
    assert "syntax-error" in {finding["rule"] for finding in data["findings"]}
    rig.write_text(RIG)
    assert note_of(made.made()) == ""


def test_a_file_that_is_broken_from_the_start_shows_what_is_found(rig: Path) -> None:
    rig.write_text(RIG.replace("box SL", "bxo SL"))
    first = maker(rig).made()
    assert boxes_of(first) == []
    assert "friday.rig:4:" in note_of(first)


def test_a_file_that_vanishes_and_comes_back(rig: Path) -> None:
    made = maker(rig)
    made.made()
    rig.unlink()
    gone = made.made()
    assert "friday.rig" in gone.said
    assert boxes_of(gone) == ["SL"]
    assert note_of(gone).endswith("the drawings are of the last text that could be read")
    rig.write_text(RIG)
    assert boxes_of(made.made()) == ["SL"]


def test_no_fault_ends_it(rig: Path) -> None:
    def fault() -> Show:
        raise RuntimeError("<b>what nobody thought of</b>")

    made = Maker(fault, lambda show: Wanted()).made()
    assert b"&lt;b&gt;what nobody thought of" in made.page
    assert "what nobody thought of" in made.said


def test_a_fault_keeps_the_last_drawing(rig: Path) -> None:
    made = maker(rig)
    made.made()

    def fault() -> Show:
        raise RuntimeError("what nobody thought of")

    made.opened = fault
    assert boxes_of(made.made()) == ["SL"]


def test_a_part_that_is_gone_keeps_the_last_drawing(rig: Path) -> None:
    made = Maker(lambda: load(rig), lambda show: Wanted(choice=Choice(around=(("SL", 1),))))
    made.made()
    rig.write_text(RIG.replace("SL", "SR"))
    gone = made.made()
    assert boxes_of(gone) == ["SL"]
    assert "no box called `SL`" in note_of(gone)
    assert note_of(gone).endswith("the drawings are of the last text that could be drawn")


def test_a_view_that_has_nothing_of_a_part_leaves_the_others(rig: Path) -> None:
    """As `draw --out` does: an empty zone has its place on the plan, and nothing on the others."""
    rig.write_text(RIG + 'zone far "Far" at (9, 9) m\n')
    only = Maker(lambda: load(rig), lambda show: Wanted(choice=Choice(zones=("far",)))).made()
    assert views_of(only) == ["plan"]
    assert "nothing of that is on the drawing `flow`" in note_of(only)


def test_a_packs_view_is_shown_and_may_break_down(rig: Path) -> None:
    """The other drawings stay; what the pack did is said."""

    def rack(rig: Rig, *_: object) -> View:
        return sheet(rig, (), "fest/racks", "racks", ((Node("box-SL", "box", "SL"),), ()), "left to right")

    def breaks(*_: object) -> View:
        raise RuntimeError("out of tape")

    def opened(make: Callable[..., View]) -> Show:
        pack = Pack("fest", views=(NamedView("fest/racks", "racks", make),))
        return replace(load(rig), packs=Packs((Installed(pack, "1.0"),)))

    made = Maker(lambda: opened(rack), lambda show: Wanted())
    assert views_of(made.made()) == ["flow", "cabling", "plan", "fest/racks"]
    made.opened = lambda: opened(breaks)
    broken = made.made()
    assert views_of(broken) == ["flow", "cabling", "plan"]
    assert "out of tape" in note_of(broken)


def test_only_what_has_changed_is_laid_out_again(rig: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is kept gives the same page, and what was never asked for again is not kept."""
    laid: list[str] = []

    def render(text: str, *rest: Any, **more: Any) -> bytes:
        laid.append(text)
        return drawn_by_engine(text, *rest, **more)

    monkeypatch.setattr("rigdsl.draw.plates.render", render)
    made = maker(rig)
    first = made.made()
    assert laid
    laid.clear()
    rig.write_text("# a comment\n" + RIG)
    again = made.made()
    assert laid == []
    assert drawings_of(again) == drawings_of(first)
    rig.write_text(RIG.replace('"Kick"', '"Bass drum"'))
    made.made()
    assert any("Bass drum" in text for text in laid)
    made.made()
    assert not any("Kick" in text for _, text in made.layouts.now | made.layouts.before)


def test_a_file_that_a_rig_uses_is_awaited(rig: Path) -> None:
    """It is watched before it is there: who writes `use` first saves the other file next."""
    rig.write_text('rig "Test" { lead xlr }\nuse "gear/club.rig"\n')
    assert typed(str(rig.parent / "gear/club.rig")) in maker(rig).made().files


# ---- the server


@pytest.fixture
def server(rig: Path) -> Iterator[Preview]:
    served = Preview(0, maker(rig).made())
    thread = Thread(target=served.serve_forever, daemon=True)
    thread.start()
    yield served
    served.shutdown()
    served.server_close()
    thread.join(5)
    assert not thread.is_alive()


def ask(server: Preview, path: str = "/", method: str = "GET", host: str = "") -> tuple[int, str]:
    return asked_of(server.server_port, path, method, host)


def asked_of(port: int, path: str = "/", method: str = "GET", host: str = "") -> tuple[int, str]:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
    connection.putrequest(method, path, skip_host=True)
    connection.putheader("Host", host or f"127.0.0.1:{port}")
    connection.endheaders()
    answer = connection.getresponse()
    text = answer.read().decode("utf-8")
    connection.close()
    return answer.status, text


def test_it_is_on_loopback_only(server: Preview) -> None:
    """Bound to 127.0.0.1; a machine's other addresses do not answer there."""
    assert server.server_address[0] == "127.0.0.1"
    others = {info[4][0] for info in socket.getaddrinfo(socket.gethostname(), None, socket.AF_INET)}
    for address in (address for address in others if not str(address).startswith("127.")):
        with pytest.raises(OSError, match="refused"):
            socket.create_connection((str(address), server.server_port), timeout=2)


@pytest.mark.parametrize(
    ("path", "method", "host", "status"),
    [
        ("/", "GET", "", 200),
        ("/?x=1", "GET", "", 200),
        ("/changes?seen=0", "GET", "", 200),
        ("/changes?seen=²", "GET", "", 200),
        ("/changes?seen=" + "9" * 5000, "GET", "", 200),
        ("/../../etc/passwd", "GET", "", 404),
        ("/friday.rig", "GET", "", 404),
        ("/", "POST", "", 501),
        ("/", "DELETE", "", 501),
        ("/", "GET", "evil.example", 403),
        ("/changes?seen=0", "GET", "127.0.0.1:1", 403),
    ],
)
def test_what_it_answers(server: Preview, path: str, method: str, host: str, status: int) -> None:
    """One page and one question; a foreign name (DNS rebinding) is refused, and nothing comes from the disk."""
    from urllib.parse import quote

    answered, text = ask(server, quote(path, safe="/?=&."), method, host)
    assert answered == status
    assert "x:0:0" not in text
    assert ("Kick" in text) == (status == 200 and "changes" not in path)


def test_who_waits_hears_of_the_next_page(server: Preview, rig: Path) -> None:
    answers: list[tuple[int, str]] = []
    waiting = Thread(target=lambda: answers.append(ask(server, "/changes?seen=1")))
    waiting.start()
    second = maker(rig)
    second.number = 1
    server.show(second.made())
    waiting.join(10)
    assert answers == [(200, "2")]


# ---- the whole command


class Started:
    """The command as a process; what it says is read line by line, with an end to waiting."""

    def __init__(self, rig: Path, *options: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "rigdsl", "preview", str(rig), *options],
            cwd=rig.parent,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            env={**os.environ, "PYTHONUNBUFFERED": "1"},
            preexec_fn=lambda: signal.signal(signal.SIGINT, signal.default_int_handler),
        )
        self.lines: Queue[str] = Queue()
        self.reader = Thread(target=self._read, daemon=True)
        self.reader.start()
        first = self.line()
        found = re.search(r"http://127\.0\.0\.1:\d+/", first)
        assert found, first
        self.address = found[0]

    def _read(self) -> None:
        assert self.process.stdout is not None
        with self.process.stdout as said:
            for line in said:
                self.lines.put(line.strip())

    def line(self) -> str:
        """The next line."""
        return re.sub(r"\([\d.]+ s\)", "(t)", self.lines.get(timeout=60))

    def ended(self) -> int:
        """Stop it as Ctrl-C does; how it ended."""
        self.process.send_signal(signal.SIGINT)
        status = self.process.wait(30)
        self.reader.join(10)
        return status


def test_it_follows_the_files_and_ends_when_it_is_stopped(rig: Path) -> None:
    """Saved in place, saved by a rename, broken and mended: a line for each; Ctrl-C is a clean end."""
    preview = Started(rig)
    try:
        assert preview.line().startswith("drawn: 1 error")
        rig.write_text(RIG + "source hat dynamic in wing\n")
        assert preview.line().startswith("drawn again: 2 errors")
        other = rig.with_suffix(".tmp")
        other.write_text(RIG)
        other.replace(rig)
        assert preview.line().startswith("drawn again: 1 error")
        rig.write_text("rig {")
        assert "friday.rig:1:" in preview.line()
    finally:
        status = preview.ended()
    assert (status, preview.lines.qsize()) == (0, 0)


def test_what_is_saved_while_it_is_read_is_a_change(rig: Path) -> None:
    """Between reading a file and watching it nothing is missed."""
    before = state_of([str(rig)])
    rig.write_text(RIG + "# saved meanwhile\n")
    stop = Event()
    turns = watched(lambda: [str(rig)], before, stop)
    next(turns)
    stop.set()
    assert list(turns) == []


def test_a_folder_that_goes_and_comes_back_is_followed(rig: Path) -> None:
    folder = rig.parent / "shows"
    folder.mkdir()
    moved = folder / rig.name
    rig.replace(moved)
    preview = Started(moved)
    try:
        preview.line()
        away = rig.parent / "away"
        folder.rename(away)
        assert "friday.rig" in preview.line()
        away.rename(folder)
        assert preview.line().startswith("drawn again")
        moved.write_text(RIG + "source hat dynamic in wing\n")
        assert preview.line().startswith("drawn again: 2 errors")
    finally:
        assert preview.ended() == 0


def test_a_folder_that_cannot_be_watched_is_looked_at(rig: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that goes at this moment, or a system that has no more watches to give."""

    def watch(*folders: str, **more: Any) -> Iterator[None]:
        raise OSError("no space left on device")

    monkeypatch.setattr("rigdsl.preview.watch.watch", watch)
    before = state_of([str(rig)])
    rig.write_text(RIG + "# saved\n")
    stop = Event()
    turns = watched(lambda: [str(rig)], before, stop)
    next(turns)
    stop.set()
    assert list(turns) == []


def test_a_pack_is_read_anew(rig: Path) -> None:
    pack = rig.parent / "house.py"
    pack.write_text('from rigdsl.packs import Pack\npack = Pack("house")\n')
    preview = Started(rig, "--pack", str(pack))
    try:
        preview.line()
        pack.write_text('raise RuntimeError("half written")\n')
        assert "half written" in preview.line()
        assert preview.line().startswith("drawn again")
    finally:
        assert preview.ended() == 0


def test_the_same_port_serves_the_next_preview_at_once(rig: Path) -> None:
    """A page that waited for the first one turns to that of the second, whichever number it had."""
    first = Started(rig)
    port = int(first.address.split(":")[2].strip("/"))
    _, page = asked_of(port)
    seen = int(re.findall(r"const SEEN = (\d+);", page)[0])
    assert first.ended() == 0
    second = Started(rig, "--port", str(port))
    try:
        assert asked_of(port, f"/changes?seen={seen}")[1] != str(seen)
    finally:
        assert second.ended() == 0


def test_a_port_that_is_taken_is_said_in_one_line(rig: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        ran = subprocess.run(
            [sys.executable, "-m", "rigdsl", "preview", str(rig), "--port", str(port)],
            capture_output=True,
            text=True,
            timeout=60,
            check=False,
        )
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr == f"rigdsl: the port {port} is taken: another `--port`, or none, takes a free one\n"


PLACED = "return [...document.querySelectorAll('.paper')].find((paper) => paper.offsetParent)?.style.transform"


def test_a_browser_turns_to_the_new_page_and_keeps_what_was_lit(rig: Path, tmp_path: Path) -> None:
    """The same view, the same path lit, as near as before; and it says so when the preview has ended."""
    with browser(tmp_path / "profile") as driver:
        preview = Started(rig)
        try:
            driver.get(preview.address)
            driver.execute_script("document.querySelectorAll('.tab')[1].click()")
            box = driver.find_element(By.ID, "search")
            box.send_keys("kick\n")
            far = driver.execute_script(PLACED)
            driver.find_element(By.ID, "in").click()
            WebDriverWait(driver, 20).until(lambda d: d.execute_script(PLACED) != far)
            near = driver.execute_script(PLACED)
            rig.write_text(RIG.replace('"Rack"', '"Other rack"'))
            WebDriverWait(driver, 20).until(lambda d: "Other rack" in d.page_source)
            WebDriverWait(driver, 20).until(lambda d: d.find_elements(By.CSS_SELECTOR, "#traced-name"))
            shown = WebDriverWait(driver, 20).until(lambda d: d.find_element(By.ID, "traced-name").text)
            assert shown == "kick, Kick"
            pressed = driver.find_elements(By.CSS_SELECTOR, ".tab[aria-pressed=true]")
            assert [tab.get_attribute("data-view") for tab in pressed] == ["cabling"]
            WebDriverWait(driver, 20).until(lambda d: d.execute_script(PLACED) == near)
        finally:
            preview.ended()
        told = "//p[contains(., 'the preview has ended')]"
        WebDriverWait(driver, 20).until(lambda d: d.find_elements(By.XPATH, told))
