"""The shopping list as one HTML page for a phone: nothing to load, no scripts, light or dark as the phone is.

HTML as in the WHATWG living standard; the boxes are ticked by the browser itself.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from html import escape
from typing import Final

from nesting.estimate.overview.shopping import ShoppingLine, ShoppingList
from nesting.words.cloth import width_words
from nesting.words.shopping import (
    CAUTION,
    ask_words,
    margin_words,
    price_words,
    remarks,
    rests_on,
    shares_words,
    totals,
)

__all__ = ["DARK", "LIGHT", "shopping_html"]

LIGHT: Final = {
    "ground": "#fbfaf6",
    "card": "#ffffff",
    "ink": "#1c1b18",
    "quiet": "#4c4a43",
    "line": "#85817a",
}
DARK: Final = {
    "ground": "#161512",
    "card": "#24221e",
    "ink": "#f4f1ea",
    "quiet": "#c9c4b8",
    "line": "#8f8a80",
}
"""Colours by what they are for; the same names in both."""

_MEASURE = re.compile(r"(\d) (?=(?:mm|cm|m|in|yd)\b|%)")
_STYLE = """
*{box-sizing:border-box}
html{-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0;padding:1rem;background:var(--ground);color:var(--ink);font:1.0625rem/1.45 system-ui,sans-serif;
overflow-wrap:anywhere}
main{max-width:34rem;margin:0 auto}
h1{font-size:1.35rem;line-height:1.25;margin:0 0 .25rem}
p{margin:.25rem 0}
.quiet{color:var(--quiet);font-size:.9375rem}
ul.cloths{list-style:none;margin:1rem 0;padding:0}
ul.cloths>li{background:var(--card);border:1px solid var(--line);border-radius:.6rem;margin:0 0 .75rem;
padding:.25rem .9rem .75rem}
label{display:flex;gap:.75rem;align-items:center;min-height:3rem;padding:.4rem 0}
input{flex:none;width:1.6rem;height:1.6rem;margin:0;accent-color:var(--ink)}
label:has(:checked) .what{text-decoration:line-through}
.amount{display:block;font-size:1.5rem;font-weight:700;line-height:1.2}
.price{margin-left:auto;font-weight:600;flex:none;max-width:40%;text-align:right}
dl{margin:0;font-size:.9375rem}
dt{color:var(--quiet);margin-top:.4rem}
dd{margin:0}
.total{font-weight:700;font-size:1.125rem}
.caution{border-left:.3rem solid var(--line);padding-left:.75rem;margin-top:1rem}
@media print{body{background:#fff;color:#000}ul.cloths>li{break-inside:avoid}}
""".strip()


def shopping_html(shopping: ShoppingList) -> str:
    """The whole page; what people wrote is shown as it is and never taken for HTML."""
    titles = ", ".join(_bdi(title) for title in shopping.titles)
    sums = "".join(
        f'<p class="{"total" if k == 0 else "quiet"}">{escape(text)}</p>\n'
        for k, text in enumerate(totals(shopping))
    )
    remarked = "".join(f'<p class="quiet">{_bdi(remark)}</p>\n' for remark in remarks(shopping))
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="color-scheme" content="light dark">\n'
        f"<title>To buy: {escape(', '.join(shopping.titles))}</title>\n"
        f"<style>\n:root{{{_colours(LIGHT)}}}\n"
        f"@media (prefers-color-scheme: dark){{:root{{{_colours(DARK)}}}}}\n{_STYLE}\n</style>\n"
        f'</head>\n<body>\n<main>\n<h1>To buy</h1>\n<p class="quiet">for {titles}</p>\n'
        f'<ul class="cloths">\n{"".join(_card(line) for line in shopping.lines)}</ul>\n'
        f'{sums}{remarked}<p class="caution">{escape(CAUTION)}</p>\n</main>\n</body>\n</html>\n'
    )


def _colours(colours: dict[str, str]) -> str:
    return "".join(f"--{name}:{value};" for name, value in colours.items())


def _text(text: str) -> str:
    """Words of ours, numbers and their units kept in one line."""
    return _MEASURE.sub(r"\1&nbsp;", escape(text))


def _bdi(text: str) -> str:
    """A name whose letters may run the other way than those around it."""
    return f"<bdi>{escape(text)}</bdi>"


def _card(line: ShoppingLine) -> str:
    facts = "".join(f"<dt>{name}</dt><dd>{fact}</dd>\n" for name, fact in _facts(line))
    return (
        f'<li><label><input type="checkbox"><span class="what">'
        f'<span class="amount">{_text(ask_words(line))}</span>'
        f"{_bdi(line.cloth.name)}, {_text(width_words(line.cloth, line.unit))}</span>"
        f'<span class="price">{escape(price_words(line))}</span></label>\n<dl>\n{facts}</dl></li>\n'
    )


def _facts(line: ShoppingLine) -> Iterator[tuple[str, str]]:
    for use in line.uses:
        whose = f", for {_bdi(use.title)}" if len(line.uses) > 1 else ""
        yield f"rests on{whose}", _text(rests_on(use))
    if shares := shares_words(line):
        yield "bought", _text(shares)
    yield "margin", _text(margin_words(line))
