"""A real browser: playwright (test extra) driving the Chromium that is installed."""

import os
import shutil

import pytest
from playwright.sync_api import sync_playwright

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")
QUIET = (
    "--no-sandbox",  # as root, in a container, it starts only without
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
"""It draws the page that it is given, and asks no one for anything."""


@pytest.fixture(scope="session")
def browser():
    """Skips where there is none, except on CI, which installs one (`.ci/run`)."""
    path = next(filter(None, map(shutil.which, NAMES)), None)
    if path is None:
        lacking = "no browser check: install Chromium to have it (on Debian: apt-get install chromium)"
        if os.environ.get("CI") == "true":
            pytest.fail(lacking)
        pytest.skip(lacking)
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=path, args=list(QUIET))
        yield browser
        browser.close()
