"""The preview: a page that follows its files, for this machine alone, that nothing half-written can end."""

from __future__ import annotations

import http.client
import os
import re
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from queue import Queue
from threading import Event, Thread
from typing import Any

import pytest
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait

from rigdsl.preview import Preview, state_of, watched
from tests.page.browser import browser
from tests.preview.made import RIG, maker


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
