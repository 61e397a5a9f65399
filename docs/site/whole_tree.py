"""Brings what lies outside this folder into the site: two pages, and links to files of the tree."""

from __future__ import annotations

import re
from pathlib import Path, PurePosixPath
from posixpath import normpath, relpath
from typing import Any

from mkdocs.structure.files import File

ROOT = Path(__file__).parents[2]
FROM_ABOVE = {"README.md": "begin.md", "DEVELOPERS.md": "developers.md"}
"""Pages beside the folder of documents, by what they are called in the site."""

LINK = re.compile(r"(!?)\[([^\]]*)\]\(([^)#:\s]+)(#[^)\s]*)?\)")


def on_files(files: Any, config: Any) -> Any:
    """Add the pages from above, read as if they lay among the documents."""
    for name, page in FROM_ABOVE.items():
        text = (ROOT / name).read_text(encoding="utf-8")
        files.append(File.generated(config, page, content=in_site(text, PurePosixPath(name))))
    return files


def on_page_markdown(markdown: str, page: Any, **_: Any) -> str:
    """Turn the links of a page that lead out of the folder of documents."""
    if page.file.src_uri in FROM_ABOVE.values():
        return markdown
    return in_site(markdown, "docs" / PurePosixPath(page.file.src_uri))


def in_site(text: str, source: PurePosixPath) -> str:
    """Links as they are in the site, from a page at `source` in the tree.

    A file that is in the tree but not in the site is named, not linked. What leads nowhere stays as it is, so
    that building finds it.
    """

    def turned(match: re.Match[str]) -> str:
        picture, words, link, anchor = match.groups()
        target = normpath(source.parent / link)
        if target in FROM_ABOVE:
            return f"[{words}]({FROM_ABOVE[target]}{anchor or ''})"
        if target.startswith("docs/"):
            return f"{picture}[{words}]({relpath(target, 'docs')}{anchor or ''})"
        return f"{words} (`{target}`)" if (ROOT / target).exists() else match[0]

    return LINK.sub(turned, text)
