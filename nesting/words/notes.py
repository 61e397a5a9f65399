"""How it is said how something written was understood, and what is of no use."""

from __future__ import annotations

from nesting.estimate.estimate import ProjectEstimate, Tally
from nesting.pattern.cut_count import JoinedByFold, PartedBySeam, ReadAsPairs, ReadAsSingles
from nesting.project import Project
from nesting.words.counts import count_note
from nesting.words.remarks import tally_remark

__all__ = ["notes_to_show", "project_notes"]


def project_notes(project: Project) -> tuple[str, ...]:
    """Its notes, which remnants of a cloth in hand are not needed, and which cloths are left out."""
    spare = (f"{name} is not needed: nothing is cut from it" for name in project.not_needed)
    asked = (f"{name} is not in these sheets: it was not asked for" for name in project.not_asked)
    short = (f"{name} is not in these sheets: there is too little of it" for name in project.too_short)
    return (*project.notes, *spare, *asked, *short)


def notes_to_show(result: ProjectEstimate) -> tuple[str, ...]:
    """Notes of the project, then remarks on counts that they do not hold already; each once."""
    notes = project_notes(result.project)
    pieces: dict[str, list[str]] = {}
    for estimate in result.estimates:
        for tally in estimate.tallies:
            if tally.remarks and not _told(tally, notes):
                pieces.setdefault(tally_remark(tally), []).append(
                    f"{tally.piece} ({estimate.lay.cloth.name})"
                )
    remarks = [f"{', '.join(named)}: {remark}" for remark, named in pieces.items()]
    return tuple(dict.fromkeys((*notes, *remarks)))


def _told(tally: Tally, notes: tuple[str, ...]) -> bool:
    """Whether all there is to remark is how its count was read, and a note says so already."""
    match tally.remarks:
        case (ReadAsPairs() | ReadAsSingles() | JoinedByFold() | PartedBySeam() as reading,):
            return count_note(reading) in notes
    return False
