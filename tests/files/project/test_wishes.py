"""Wishes in the project file."""

from nesting.files.project.reading import parse_project
from nesting.pattern.wish import FromEnd, Pin, Together

COAT = """
units = "cm"
[cloth.main]
width = 150
spread = "open"
[piece.front]
points = { A = [0, 0], B = [30, 0], C = [30, 60], D = [0, 60], M = [12, 40] }
cut = { main = 2 }
marks = [ { name = "rose", through = "M" } ]
edges = { low = "A B", right = "B C", top = "C D", left = "D A" }
[piece.back]
points = { A = [0, 0], B = [40, 0], C = [40, 60], D = [0, 60] }
cut = { main = 1 }
edges = { low = "A B", right = "B C", top = "C D", left = "D A" }
[[wish]]
together = ["front", "back"]
within = 90
[[wish]]
piece = "back"
from_end = 20
[[wish]]
piece = "front"
pin = [60, "0.5 m"]
point = "rose"
turned = true
"""


def test_three_kinds_of_wishes():
    assert parse_project(COAT).wishes == (
        Together(("front", "back"), 900.0),
        FromEnd(("back",), 200.0),
        Pin(("front",), 600.0, 500.0, "rose", turned=True),
    )


def test_how_they_are_understood_is_said():
    notes = parse_project(COAT).notes
    assert "wish 1: 'front' and 'back' lie within 90 cm of the cloth's length" in notes
    assert "wish 2: 'back' lies at least 20 cm from the cut end" in notes
    assert "wish 3: 'rose' of 'front' lies 60 cm along the cloth and 50 cm across it" in notes


def test_in_an_order_they_are_wished_of_every_size():
    text = COAT.replace('units = "cm"', 'units = "cm"\nbase_size = "10"')
    text += '[size."12"]\npiece.back.points.B = [42, 0]\npiece.back.points.C = [42, 60]\n'
    project = parse_project(text + '[order]\nsizes = { "10" = 1, "12" = 1 }\n')
    together = [wish.pieces for wish in project.wishes if isinstance(wish, Together)]
    assert together == [("front 10", "back 10"), ("front 12", "back 12")]
