"""The page in a browser: what a click lights, what keys do, what stays over a reload, what is printed."""

from __future__ import annotations

import base64
import io
import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader
from selenium.webdriver import Chrome, Keys
from selenium.webdriver.common.by import By
from selenium.webdriver.support.ui import WebDriverWait

from rigdsl.show import Show, load
from tests.draw.made import EXAMPLES
from tests.page.browser import browser
from tests.page.test_page import hostile, page_of


@pytest.fixture(scope="module")
def show() -> Show:
    return load(EXAMPLES / "faulty" / "shows" / "friday.rig")


@pytest.fixture(scope="module")
def driver(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("profile")) as started:
        yield started


@pytest.fixture
def page(driver: Chrome, show: Show, tmp_path: Path) -> Chrome:
    """The page of a faulty rig, opened from its file."""
    return opened(driver, page_of(show), tmp_path)


def opened(driver: Chrome, data: bytes, folder: Path) -> Chrome:
    target = folder / "index.html"
    target.write_bytes(data)
    driver.get(target.as_uri())
    logged(driver, "performance")
    driver.execute_script("sessionStorage.clear()")
    driver.refresh()
    return driver


def logged(driver: Chrome, what: str) -> list[dict[str, str]]:
    """What the browser has noted since it was last asked: of its console, or of its network."""
    return list(driver.get_log(what))  # type: ignore[no-untyped-call]


def search(page: Chrome, text: str) -> None:
    box = page.find_element(By.ID, "search")
    box.clear()
    box.send_keys(text, Keys.ENTER)


def lit(page: Chrome, view: str) -> set[str]:
    """The sockets, sources and outputs that are lit in a view."""
    rows = page.execute_script(
        "return [...document.querySelectorAll(`.view[data-view=${arguments[0]}] .socket.lit`)]"
        ".map((row) => row.getAttribute('data-things'))",
        view,
    )
    return {thing for row in rows for thing in json.loads(row)}


def test_it_opens_without_a_word_of_trouble_and_without_a_network(page: Chrome) -> None:
    """Nothing in the console, and no request but for the file itself."""
    assert logged(page, "browser") == []
    sent = [json.loads(entry["message"])["message"] for entry in logged(page, "performance")]
    asked = {one["params"]["request"]["url"] for one in sent if one["method"] == "Network.requestWillBeSent"}
    assert {url for url in asked if not url.startswith(("file:", "data:"))} == set()


def test_a_name_lights_its_whole_way_in_every_view(page: Chrome, show: Show) -> None:
    """All that `rigdsl trace` goes through is lit in the flow and, cable ends and plugs, in the cabling."""
    search(page, "fiddle")
    (path,) = show.trace("fiddle")
    way = {str(hop.right) for hop in path.hops} | {"fiddle"}
    sockets = {name for name in way if show.rig.boxes.get(name.split(".")[0]) is not None}
    assert way - lit(page, "flow") <= {str(path.end)}
    assert {"fiddle"} <= lit(page, "cabling")
    assert sockets
    assert page.find_element(By.ID, "traced-name").text.startswith("fiddle")
    assert len(page.find_elements(By.CSS_SELECTOR, "#traces li")) == len(path.hops)


def test_a_click_on_a_socket_and_escape(page: Chrome) -> None:
    page.execute_script(
        "document.querySelector(`.view[data-view=flow] .socket[data-things*='SL.mic 14'] text`)"
        ".dispatchEvent(new MouseEvent('click', {bubbles: true}))"
    )
    assert page.find_element(By.ID, "traced").is_displayed()
    assert page.find_element(By.ID, "traced-name").text.startswith("SL.mic 14")
    page.find_element(By.TAG_NAME, "body").send_keys(Keys.ESCAPE)
    assert not page.find_element(By.ID, "traced").is_displayed()
    assert page.find_elements(By.CSS_SELECTOR, "svg.dim") == []


def test_a_finding_jumps_to_its_place(page: Chrome) -> None:
    """It is in the middle of the stage, and its mark leads back to the list."""
    page.find_element(By.CSS_SELECTOR, ".finding-line[data-number='3']").click()
    found = WebDriverWait(page, 5).until(lambda d: d.find_element(By.CSS_SELECTOR, ".finding.found"))
    assert found.get_attribute("data-finding") == "3"
    WebDriverWait(page, 5).until(lambda d: off_centre(d) < 60)
    page.execute_script("arguments[0].dispatchEvent(new MouseEvent('click', {bubbles: true}))", found)
    assert page.switch_to.active_element.get_attribute("data-number") == "3"


def off_centre(page: Chrome) -> float:
    return float(
        page.execute_script(
            "const box = (at) => document.querySelector(at).getBoundingClientRect();"
            "const [a, b] = [box('.finding.found'), box('#stage')];"
            "return Math.hypot(a.x + a.width / 2 - b.x - b.width / 2, a.y + a.height / 2 - b.y - b.height / 2)"
        )
    )


def test_it_works_with_the_keys_alone(page: Chrome) -> None:
    body = page.find_element(By.TAG_NAME, "body")
    body.send_keys("2")
    assert pressed(page) == ["cabling"]
    whole = scale(page)
    body.send_keys("/")
    page.switch_to.active_element.send_keys("harp", Keys.ARROW_DOWN, Keys.ARROW_UP, Keys.ENTER)
    assert page.find_element(By.ID, "traced-name").text.startswith("harp")
    before = scale(page)
    page.find_element(By.ID, "stage").send_keys("+")
    WebDriverWait(page, 5).until(lambda d: scale(d) > before)
    page.find_element(By.ID, "stage").send_keys("0")
    WebDriverWait(page, 5).until(lambda d: abs(scale(d) - whole) < 0.01)


def pressed(page: Chrome) -> list[str | None]:
    return [tab.get_attribute("data-view") for tab in page.find_elements(By.CSS_SELECTOR, ".tab[aria-pressed=true]")]


def scale(page: Chrome) -> float:
    return float(
        page.execute_script(
            "const paper = [...document.querySelectorAll('.paper')].find((one) => one.offsetParent);"
            "return new DOMMatrix(getComputedStyle(paper).transform).a"
        )
    )


def test_it_comes_back_as_it_was_left(page: Chrome) -> None:
    """View, zoom and what is lit stay over a reload."""
    page.find_element(By.TAG_NAME, "body").send_keys("2")
    search(page, "harp")
    page.find_element(By.ID, "in").click()
    WebDriverWait(page, 5).until(lambda d: scale(d) > 0)
    before, view = lit(page, "cabling"), pressed(page)
    WebDriverWait(page, 5).until(lambda d: still(d))
    zoom = scale(page)
    page.refresh()
    assert (lit(page, "cabling"), pressed(page)) == (before, view)
    assert scale(page) == pytest.approx(zoom, rel=0.01)


def still(page: Chrome) -> bool:
    """A zoom that was animated has come to its end."""
    first = scale(page)
    page.execute_async_script("setTimeout(arguments[0], 120)")
    return scale(page) == first


def test_every_control_has_a_name(page: Chrome) -> None:
    """W3C, WCAG 2.2, success criterion 4.1.2."""
    shown = [one for one in page.find_elements(By.CSS_SELECTOR, "button, input") if one.is_displayed()]
    assert shown
    for control in shown:
        assert control.accessible_name.strip(), control.get_attribute("outerHTML")


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_text_of_the_page_can_be_read(page: Chrome, theme: str) -> None:
    """4.5:1 (W3C, WCAG 2.2, success criterion 1.4.3) for the ink and the quiet ink on both grounds."""
    import wcag_contrast_ratio

    page.execute_script("document.documentElement.dataset.theme = arguments[0]", theme)
    names = ("--ink", "--quiet", "--ground", "--raised", "--accent", "--rule")
    script = "return arguments[0].map((n) => getComputedStyle(document.documentElement).getPropertyValue(n).trim())"
    ink, quiet, ground, raised, accent, rule = map(rgb, page.execute_script(script, list(names)))
    for text in (ink, quiet):
        assert min(wcag_contrast_ratio.rgb(text, under) for under in (ground, raised)) >= 4.5
    assert wcag_contrast_ratio.rgb(accent, ground) >= 3
    assert wcag_contrast_ratio.rgb(rule, ground) >= 3


def rgb(colour: str) -> tuple[float, float, float]:
    red, green, blue = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return red, green, blue


def test_it_prints_every_sheet_and_what_is_found(page: Chrome, show: Show) -> None:
    made = page.execute_cdp_cmd("Page.printToPDF", {"landscape": True, "printBackground": True})
    text = "\n".join(sheet.extract_text() for sheet in PdfReader(io.BytesIO(base64.b64decode(made["data"]))).pages)
    for view in ("signal flow", "cabling", "plan"):
        assert view in text
    assert "is plugged into nothing" in text
    assert "how to get about" not in text


def test_it_fits_a_phone(show: Show, tmp_path: Path) -> None:
    with browser(tmp_path / "profile", (390, 844)) as phone:
        opened(phone, page_of(show), tmp_path)
        wide, room = phone.execute_script(
            "const root = document.documentElement; return [root.scrollWidth, root.clientWidth]"
        )
        assert wide <= room
        small = phone.execute_script(
            "return [...document.querySelectorAll('#bar button')].filter((b) => b.offsetParent)"
            ".map((b) => b.getBoundingClientRect()).filter((b) => b.width < 24 || b.height < 24).length"
        )
        assert small == 0  # W3C, WCAG 2.2, success criterion 2.5.8: targets of at least 24 by 24


@pytest.mark.parametrize(
    "label", ["<img src=x onerror=alert(1)>", "</script><script>alert(1)</script>", "'\"><svg onload=alert(1)>"]
)
def test_a_label_starts_nothing(driver: Chrome, tmp_path: Path, label: str) -> None:
    page = opened(driver, page_of(hostile(tmp_path, label)), tmp_path)
    search(page, "B")
    assert page.find_element(By.TAG_NAME, "h1").text == label
    assert label in page.find_element(By.ID, "traced-name").text
    assert logged(page, "browser") == []
