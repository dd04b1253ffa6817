"""A browser for the tests of the page: the machine's own Chromium, without a window and without a network.

Where there is none the tests say so and are left out; with RIGDSL_CHROMIUM=required a missing one is a failure.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.chrome.service import Service

__all__ = ["browser", "needs_browser"]

FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
DRIVER = shutil.which("chromedriver")


def needs_browser() -> None:
    """Leave a test out where there is no browser, unless one is required."""
    if CHROMIUM and DRIVER:
        return
    said = "no `chromium` with `chromedriver` on this machine: the page is not tested in a browser"
    if os.environ.get("RIGDSL_CHROMIUM") == "required":
        pytest.fail(said)
    pytest.skip(said)


@contextmanager
def browser(folder: Path, size: tuple[int, int] = (1400, 900)) -> Iterator[webdriver.Chrome]:
    """A browser with a profile of its own in `folder`."""
    needs_browser()
    options = webdriver.ChromeOptions()
    options.binary_location = str(CHROMIUM)
    for flag in (*FLAGS, f"--window-size={size[0]},{size[1]}", f"--user-data-dir={folder}"):
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    driver = webdriver.Chrome(options=options, service=Service(str(DRIVER)))
    try:
        yield driver
    finally:
        driver.quit()
