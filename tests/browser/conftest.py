"""A real browser, where one can be had: playwright (test extra) driving a Chromium that is installed."""

import shutil

import pytest

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")


@pytest.fixture(scope="session")
def browser():
    playwright = pytest.importorskip(
        "playwright.sync_api", reason="no browser check: pip install playwright to have it"
    )
    path = next(filter(None, map(shutil.which, NAMES)), None)
    if path is None:
        pytest.skip("no browser check: install Chromium to have it (on Debian: apt-get install chromium)")
    with playwright.sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=["--no-sandbox"])
        yield browser
        browser.close()
