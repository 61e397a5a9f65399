"""Makes the pictures and tables of ``docs/before-the-shop.md`` anew, by the commands that the page names.

Run from the folder of the project: ``python -m benchmarks.shop_pictures``. The phone is a real browser: it
needs the test extra and an installed Chromium, without which its pictures are left as they are.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

from benchmarks.parts import DOCS, listing, write_parts
from nesting.drawing.ink.look import drawing_settings
from nesting.drawing.pages.shopping import shopping_book
from nesting.estimate.many.jobs import lay_figures
from nesting.estimate.overview.shopping import shopping_list
from nesting.files.project.reading import read_project
from nesting.files.results.kept import KeptResults

HERE = Path(__file__).parent


def said(folder: Path, *command: str) -> str:
    """What the program prints."""
    full = [sys.executable, "-m", "nesting.cli", *command]
    done = subprocess.run(full, cwd=folder, stdout=subprocess.PIPE, text=True, check=True)
    return done.stdout


def phone(html: Path, pictures: Path) -> None:
    """The page in a browser of the size of a phone, light and dark."""
    try:
        from playwright.sync_api import sync_playwright
    except ImportError:
        print("no playwright: the pictures of the phone are left as they are")
        return
    chromium = shutil.which("chromium") or shutil.which("google-chrome")
    if chromium is None:
        print("no Chromium: the pictures of the phone are left as they are")
        return
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        for scheme in ("light", "dark"):
            context = browser.new_context(
                viewport={"width": 360, "height": 700}, is_mobile=True, has_touch=True, color_scheme=scheme
            )
            page = context.new_page()
            page.goto(html.as_uri())
            page.locator("input").first.check()
            page.screenshot(path=pictures / f"shopping-phone-{scheme}.png")
        browser.close()


def main(docs: Path = DOCS) -> None:
    """Write pictures and tables."""
    pictures = docs / "pictures"
    blocks: dict[str, str] = {}
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        said(folder, "new", "jacket.toml")
        said(folder, "new", "chorus.toml", "--example", "jacket-sizes")
        shutil.copy(HERE / "tunic.toml", folder)
        blocks["shopping"] = said(folder, "shopping", "jacket.toml", "tunic.toml")
        phone(folder / "shopping" / "shopping.html", pictures)
        figures = [
            lay_figures(read_project(folder / file), store=KeptResults())
            for file in ("jacket.toml", "tunic.toml")
        ]
        with drawing_settings():
            sheet = shopping_book(shopping_list(figures)).sheet
            sheet.figure.savefig(pictures / "shopping-page.png", dpi=75, metadata={"Software": None})
        blocks["compare"] = said(folder, "compare", "jacket.toml", "--width", "115", "--nap", "one way")
        said(folder, "widths", "jacket.toml", "--cloth", "lining")
        shutil.copy(folder / "jacket-widths" / "jacket-lining-widths.png", pictures / "widths.png")
        blocks["chart"] = said(folder, "chart", "chorus.toml", "--cloth", "main")
        shutil.copy(folder / "chorus-chart" / "chorus-chart.png", pictures / "chart.png")
    printed = {key: re.sub(r"\n(?:On paper|Plotted).*", "", block) for key, block in blocks.items()}
    write_parts(docs / "before-the-shop.md", {key: listing(block) for key, block in printed.items()})


if __name__ == "__main__":
    main()
