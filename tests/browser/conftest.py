"""A real browser, where one can be had: playwright (test extra) driving a Chromium that is installed."""

import shutil

import pytest
from playwright.sync_api import sync_playwright

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")


@pytest.fixture(scope="session")
def browser():
    path = next(filter(None, map(shutil.which, NAMES)), None)
    if path is None:
        pytest.skip("no browser check: install Chromium to have it (on Debian: apt-get install chromium)")
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield browser
        browser.close()
