"""Fonts in a PDF hold the shapes of letters and none of the tables that only setting type reads."""

from io import BytesIO

from fontTools.ttLib import TTFont
from pypdf import PdfReader

from nesting.drawing.ink.embedding import shapes_alone
from nesting.drawing.ink.look import drawing_settings
from nesting.drawing.ink.papers import A4
from nesting.drawing.ink.sheet import Book


def test_a_page_keeps_its_words_and_its_fonts_hold_shapes_alone():
    with drawing_settings():
        book = Book(A4)
        book.turn()
        book.paragraph("AVATAR fit, שמלה")
        page = PdfReader(BytesIO(book.pdf("test"))).pages[0]
    assert "AVATAR fit" in page.extract_text()
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].values()]
    files = [
        (font.get("/FontDescriptor") or font["/DescendantFonts"][0].get_object()["/FontDescriptor"])[
            "/FontFile2"
        ]
        for font in fonts
    ]
    assert files
    for file in files:
        tables = set(TTFont(BytesIO(file.get_data())).keys())
        assert "glyf" in tables
        assert not tables & {"GSUB", "GPOS", "GDEF", "kern"}


def test_what_others_ask_of_fonttools_is_as_before():
    from fontTools import subset

    before = subset.Options
    with shapes_alone():
        assert "GSUB" in subset.Options().drop_tables
    assert subset.Options is before
    assert "GSUB" not in subset.Options().drop_tables
