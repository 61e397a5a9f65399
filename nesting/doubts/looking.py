"""All that looks like a slip: in one piece, and in a project with its sizes and alternatives."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from nesting.doubts.bends import far_curves, sharp_bends
from nesting.doubts.kinds import Doubt, DoubtKind, FarPoint, LowAllowance
from nesting.doubts.points import far_points
from nesting.doubts.sizes import allowance_doubts, large_piece, odd_cloths, slight_shrinkages, small_pieces
from nesting.doubts.slits import slits
from nesting.pattern.piece import Piece
from nesting.project import Project

__all__ = ["piece_doubts", "project_doubts", "version_doubts"]


FEW_PIECES = 2
"""Where more pieces than these have allowances too narrow, it is told once."""


@lru_cache(maxsize=1024)  # alternatives share the pieces that they leave as they are
def piece_doubts(piece: Piece) -> tuple[DoubtKind, ...]:
    """What looks like a slip in a piece without faults; of what comes of one cause, the likeliest is told."""
    found: list[DoubtKind] = []
    if piece.draft is not None:
        far = list(far_points(piece.draft))
        # A point that lies far out bends its curve and makes it bulge: that is told by the point.
        out = {one.edge for one in far} | {
            walk.edge for walk in piece.draft.walks if _passes(far, walk.through)
        }
        bends = [one for one in sharp_bends(piece.draft) if one.edge not in out]
        bent = out | {one.edge for one in bends}
        found += [*far, *bends, *(one for one in far_curves(piece.draft) if one.edge not in bent)]
        if not any(isinstance(one, FarPoint) for one in found):
            found += slits(piece.edges, piece.draft)
    found += allowance_doubts(piece)
    large = None if piece.draft is not None and piece.draft.large else large_piece(piece)
    return tuple(found if large is None else [*found, large])


def project_doubts(project: Project) -> tuple[Doubt, ...]:
    """What looks like a slip in a project, its sizes and alternatives; each once, where it is first so."""
    seen: set[object] = set()
    doubts: list[Doubt] = []
    for one in _versions(project):
        for doubt in version_doubts(one):
            key = (doubt.kind, doubt.piece, doubt.cloth)
            if key not in seen:
                seen.add(key)
                doubts.append(doubt)
    return tuple(doubts)


def version_doubts(project: Project) -> tuple[Doubt, ...]:
    """The same of this one version: of the pieces and cloths that it lays."""
    return tuple(_own_doubts(project))


def _versions(project: Project) -> Iterator[Project]:
    """The versions in which a piece has a name of its own: not an order, which has the same piece by size."""
    if not any(piece.size for piece in project.pieces):
        yield project
        yield from project.alternatives
    for size in project.sizes:
        yield size
        yield from size.alternatives


def _own_doubts(project: Project) -> Iterator[Doubt]:
    told = {"size": project.size, "version": project.version}
    for key, odd in odd_cloths(tuple(project.cloths.values())).items():
        yield Doubt(odd, cloth=key, **told)
    for key, slight in slight_shrinkages(tuple(project.cloths.values())).items():
        yield Doubt(slight, cloth=key, **told)
    small = small_pieces(project.pieces)
    if small is not None:
        yield Doubt(small, **told)
    found = [(piece.name, kind) for piece in project.pieces for kind in piece_doubts(piece)]
    low = [kind for _, kind in found if isinstance(kind, LowAllowance)]
    together = len({name for name, kind in found if isinstance(kind, LowAllowance)}) > FEW_PIECES
    if together:
        yield Doubt(LowAllowance("", min(kind.allowance_mm for kind in low)), **told)
    for name, kind in found:
        if not (together and isinstance(kind, LowAllowance)):
            yield Doubt(kind, piece=name, **told)


def _passes(far: list[FarPoint], through: tuple[str, ...]) -> bool:
    return any(one.point in through for one in far)
