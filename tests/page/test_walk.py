"""The page under the keys alone, over a reload, and with a festival on it."""

from __future__ import annotations

import base64
import io
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Literal

import pytest
from pypdf import PdfReader
from selenium.webdriver import Chrome, Keys
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import WebDriverWait

from rigdsl.draw import Wanted
from rigdsl.show import load
from tests.draw.made import EXAMPLES
from tests.page.browser import browser
from tests.page.test_browser import off_centre, opened, search
from tests.page.test_page import VIEWS, hostile, page_of, shown

MOST_MS = 200  # what a page may take to answer: our own figure
PLACE = (
    "const paper = [...document.querySelectorAll('.paper')].find((one) => one.offsetParent);"
    "const at = new DOMMatrix(getComputedStyle(paper).transform); return [at.a, at.e, at.f]"
)


@pytest.fixture(scope="module")
def driver(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Chrome]:
    with browser(tmp_path_factory.mktemp("profile")) as started:
        yield started


@pytest.fixture
def page(driver: Chrome, tmp_path: Path) -> Chrome:
    return opened(driver, page_of(shown("club/friday")), tmp_path)


def place(page: Chrome) -> list[float]:
    """Scale and place of the sheet that is shown, when it has come to rest."""

    def rested(driver: Chrome) -> list[float] | Literal[False]:
        first: list[float] = driver.execute_script(PLACE)
        driver.execute_async_script("setTimeout(arguments[0], 120)")
        return first if driver.execute_script(PLACE) == first else False

    return WebDriverWait(page, 5).until(rested)


def focused(page: Chrome) -> WebElement:
    return page.switch_to.active_element


def test_a_sheet_stands_in_the_middle(page: Chrome) -> None:
    place(page)
    left, right, above, below = page.execute_script(
        "const paper = [...document.querySelectorAll('.paper svg')].find((one) => one.getBoundingClientRect().width);"
        "const [a, b] = [paper, document.getElementById('stage')].map((one) => one.getBoundingClientRect());"
        "return [a.left - b.left, b.right - a.right, a.top - b.top, b.bottom - a.bottom]"
    )
    assert left == pytest.approx(right, abs=2)
    assert above == pytest.approx(below, abs=2)
    assert min(left, above) >= -1


def test_a_drawing_is_one_stop_of_tab_and_arrows_go_from_part_to_part(page: Chrome) -> None:
    for sheet in page.find_elements(By.CSS_SELECTOR, ".sheet svg"):
        assert len(sheet.find_elements(By.CSS_SELECTOR, "[tabindex='0']")) == 1
    page.execute_script("document.getElementById('stage').focus()")
    focused(page).send_keys(Keys.TAB)
    first = focused(page).get_attribute("id")
    assert focused(page).get_attribute("role") == "button"
    focused(page).send_keys(Keys.ARROW_DOWN)
    second = focused(page)
    assert second.get_attribute("id") != first
    assert second.accessible_name.strip()
    second.send_keys(Keys.ENTER)
    assert page.find_element(By.ID, "traced").is_displayed()
    second.send_keys(Keys.ARROW_UP)
    assert focused(page).get_attribute("id") == first
    focused(page).send_keys(Keys.ESCAPE)
    assert not page.find_element(By.ID, "traced").is_displayed()


def test_every_source_is_a_part_that_can_be_walked_to(page: Chrome) -> None:
    """The parts of the flow with a name for a screen reader are all its sources and outputs, and more."""
    said = page.execute_script(
        "return [...document.querySelectorAll('.view[data-view=flow] [role=button][aria-label]')]"
        ".map((part) => part.getAttribute('data-things')).filter(Boolean)"
    )
    rig = shown("club/friday").rig
    assert {*rig.sources, *rig.outputs} <= {thing for part in said for thing in json.loads(part)}


def test_place_and_theme_stay_over_a_reload(page: Chrome) -> None:
    page.find_element(By.ID, "theme").click()
    page.find_element(By.ID, "in").click()
    page.find_element(By.ID, "stage").send_keys(Keys.ARROW_RIGHT, Keys.ARROW_DOWN)
    before, theme = place(page), page.execute_script("return document.documentElement.dataset.theme")
    assert theme in ("light", "dark")
    page.refresh()
    assert place(page) == pytest.approx(before, abs=0.5)
    assert page.execute_script("return document.documentElement.dataset.theme") == theme


def test_what_was_lit_and_is_gone_from_the_rig_dims_nothing(driver: Chrome, tmp_path: Path) -> None:
    """A file was saved with another name for a source: the page that is loaded anew shows everything."""
    page = opened(driver, page_of(hostile(tmp_path, "Old hall")), tmp_path)
    search(page, "s")
    assert page.find_elements(By.CSS_SELECTOR, "svg.dim")
    rig = tmp_path / "bad.rig"
    rig.write_text(rig.read_text("utf-8").replace("source s ", "source harp "), "utf-8")
    (tmp_path / "index.html").write_bytes(page_of(load(rig)))
    page.refresh()
    assert page.find_elements(By.CSS_SELECTOR, "svg.dim") == []
    assert not page.find_element(By.ID, "traced").is_displayed()


def test_a_finding_is_not_left_dim(page: Chrome) -> None:
    search(page, "kick-in")
    assert page.find_elements(By.CSS_SELECTOR, "svg.dim")
    page.find_element(By.CSS_SELECTOR, ".finding-line").click()
    assert page.find_elements(By.CSS_SELECTOR, ".finding.found")
    assert page.find_elements(By.CSS_SELECTOR, "svg.dim") == []


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_paper_is_white(page: Chrome, theme: str) -> None:
    """Whatever the screen shows: a page from a dark wing prints on white, in the colours of print, nothing dim."""
    search(page, "kick-in")
    page.execute_script("document.documentElement.dataset.theme = arguments[0]", theme)
    made = page.execute_cdp_cmd("Page.printToPDF", {"landscape": True, "printBackground": True})
    reader = PdfReader(io.BytesIO(base64.b64decode(made["data"])))
    assert len(reader.pages) > len(page.find_elements(By.CSS_SELECTOR, ".sheet"))  # each its own, then the list
    page.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    try:
        ground, ink, opacity = page.execute_script(
            "const of = (at) => getComputedStyle(document.querySelector(at));"
            "return [of('body').backgroundColor, of('.finding-line').color, of('.node:not(.lit)').opacity]"
        )
        rows = page.execute_script(
            "return [...new Set([...document.querySelectorAll('.socket.lit polygon')]"
            ".map((row) => getComputedStyle(row).fill))]"
        )
    finally:
        page.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
    assert (ground, ink, opacity) == ("rgb(255, 255, 255)", "rgb(0, 0, 0)", "1")
    assert "rgb(255, 255, 255)" in rows
    assert "rgb(92, 71, 0)" not in rows  # what lights a row on the dark screen


@pytest.mark.parametrize("view", ["cabling", "plan"])
def test_a_jump_into_a_view_that_was_not_open_yet_arrives(page: Chrome, view: str) -> None:
    """By the first mark of that view, asked for at once after the view is."""
    place(page)
    page.execute_script(
        "const mark = document.querySelector(`.view[data-view=${arguments[0]}] .finding`);"
        "document.querySelector(`.tab[data-view=${arguments[0]}]`).click();"
        "document.querySelector(`.finding-line[data-number='${mark.dataset.finding}']`).click();",
        view,
    )
    place(page)
    assert off_centre(page) < 60


def test_on_a_phone_a_search_leads_to_words_that_can_be_read(tmp_path: Path) -> None:
    """The source that was looked for is in the middle, and no smaller than on the sheet by much."""
    with browser(tmp_path / "profile", (390, 844)) as phone:
        opened(phone, page_of(shown("club/friday")), tmp_path)
        search(phone, "kick-in")
        assert place(phone)[0] >= 0.8
        off = phone.execute_script(
            "const [a, b] = [[...document.querySelectorAll('.view[data-view=flow] .socket')].find((row) =>"
            " JSON.parse(row.getAttribute('data-things') || '[]').includes('kick-in')),"
            " document.getElementById('stage')].map((one) => one.getBoundingClientRect());"
            "return Math.hypot(a.x + a.width / 2 - b.x - b.width / 2, a.y + a.height / 2 - b.y - b.height / 2)"
        )
        assert off < 60


def test_a_festival_answers_at_once(driver: Chrome, tmp_path: Path) -> None:
    """From a click to the next picture, for the box that most goes through."""
    show = load(EXAMPLES / "festival" / "shows" / "saturday-night.rig")
    drawings = {name: show.draw(Wanted(name, paper="a3")) for name in VIEWS}
    page = opened(driver, show.page(drawings, Wanted(paper="a3")), tmp_path)
    took = page.execute_async_script(
        "const done = arguments[0];"
        "const index = JSON.parse(document.getElementById('data').textContent).index;"
        "const most = Object.keys(index).sort((a, b) => index[b].length - index[a].length)[0];"
        "const goal = [...document.querySelectorAll('.node')].find((node) =>"
        " JSON.parse(node.getAttribute('data-things') || '[]').includes(most));"
        "requestAnimationFrame(() => { const start = performance.now();"
        " goal.dispatchEvent(new MouseEvent('click', { bubbles: true }));"
        " requestAnimationFrame(() => setTimeout(() => done(performance.now() - start))); })"
    )
    assert page.find_element(By.ID, "traced").is_displayed()
    assert took < MOST_MS
