"""Edges not met: what the cover counts of each face is what is listed there and on the cover."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

import pytest

from evencourse.layout.courses.planner import plan
from evencourse.layout.language.speech import speaking
from evencourse.layout.model.course_plan import Plan
from evencourse.layout.model.job import Elevation
from evencourse.render.crew_set.cover import Contents, cover
from evencourse.render.crew_set.sheet_set import sheet_set
from evencourse.render.drawing.drawing import Sheet, Text
from evencourse.render.drawing.numbering import numbered
from evencourse.render.drawing.placement import ELLIPSIS, Box
from evencourse.render.sheets.notes import face_notes, face_words
from evencourse.render.words.edge_counts import flush_words, result_words, rips_in, score_words
from evencourse.render.words.instructions import FaceInstructions, NotMet
from evencourse.render.words.result import Result
from tests.layout.walls import PLAIN, job, rectangle, window
from tests.samples import SAMPLES, planned


def lettered(sheet: Sheet) -> list[str]:
    return [mark.text for mark in sheet.marks if isinstance(mark, Text)]


def not_flush(words: str) -> int:
    """What a line like ``7 flush, 3 notches, 1 sliver`` counts of edges that are not met."""
    parts = (part.split(" ", 1) for part in words.split(", "))
    return sum(int(number) for number, what in parts if number.isdigit() and what != "flush")


def left_out(said: str) -> int:
    found = re.search(r"and (\d+) more edges?:", said)
    return int(found.group(1)) if found else 0


def listed(said: str, faces: Iterable[tuple[str, FaceInstructions]], named: bool) -> int:
    """How many edges a list tells of whole: which they are, and why they are not met."""
    count = 0
    for name, one in faces:
        for edge in one.not_met:
            subject = f"{name} {edge.subject}" if named else f"{edge.subject}: {edge.outcome}"
            why = edge.fate if named else edge.why
            count += edge.count if subject in said and why in said else 0
    return count


def check(found: Plan) -> None:
    result = Result(found)
    every = [face.elevation.name for face in found.elevations]
    contents = Contents((), (0,) * len(every), ("siding",))
    (sheet,) = numbered([cover(result, contents, "letter")])
    texts = lettered(sheet)
    said = " ".join(texts)
    faces = list(zip(every, result.instructions.faces, strict=True))
    whole = 0
    for face, (name, told) in zip(found.elevations, faces, strict=True):
        cut = sum(edge.result != "flush" for edge in face.edges) + face.thin_ends
        words = result_words(face.edges, face.thin_ends)
        whole += cut
        assert not_flush(words) == cut == sum(one.count for one in told.not_met), name
        notes = " ".join(line for line, _ in face_notes(face_words(told), Box(0, 0, 260, 190)).left)
        assert listed(notes, [(name, told)], False) + left_out(notes) == cut, name
    heading = said.index("Edges not met, worst first")
    assert listed(said[heading:], faces, True) + left_out(said[heading:]) == whole


def test_a_notch_that_need_not_be_and_a_ripped_base_are_counted_and_listed() -> None:
    """Courses of 8 in from -1: the sills at 36 and 35 are cut, 5 and 4 in left; the second need not be
    flush. The base at 11 lies 4 in up course 2, ripped, 4 in left. Heads at 79 and eave at 95 are lines.
    """
    outline = ((0, 0), (120, 0), (120, 11), (240, 11), (240, 95), (0, 95))
    holes = (window("A", 40, 36, 36, 43), window("B", 160, 35, 36, 44, sill_edge="ignore"))
    found = plan(job(Elevation("Front", outline, openings=holes), cladding=PLAIN, starter=(-1, -1)))
    (face,) = found.elevations
    assert result_words(face.edges) == "3 flush, 1 notch, 1 base not met, 1 need not be flush"
    (told,) = Result(found).instructions.faces
    assert [(one.subject, one.count) for one in told.not_met] == [("Base", 1), ("A sill", 1), ("B sill", 1)]
    assert told.not_met[-1].why == "need not be flush"
    check(found)


def test_a_ripped_eave_is_no_notch_in_any_count() -> None:
    """Courses of 8 in from -1: head at 79 and sill at 31 are lines; the eave at 92 cuts course 12, 5 in left.

    Its sign is the only open step of the set: the key calls it a rip."""
    holes = (window("A", 40, 31, 36, 48),)
    found = plan(
        job(Elevation("Front", rectangle(240, 0, 92), openings=holes), cladding=PLAIN, starter=(-1, -1))
    )
    (face,) = found.elevations
    assert result_words(face.edges) == "2 flush, 1 rip"
    assert score_words(found.course_sets["main"].lines.score, rips_in(found.course_sets["main"], found)) == (
        "2 flush, 1 rip, 0 notches, 0 slivers"
    )
    (sheet,) = numbered([cover(Result(found), Contents((), (0,), ("siding",)), "letter")])
    texts = lettered(sheet)
    assert "2 flush, 1 rip" in texts and "rip" in texts and "flush" in texts
    assert not any(text.startswith(("notch", "sliver")) for text in texts)
    check(found)


def test_slivers_at_the_ends_of_a_base_out_of_level_are_listed_too() -> None:
    """Panels of 8 from -1 on a base from 6.1 down to 0: line 2 is at 7, 0.9 of course 1 is left."""
    outline = ((0, 6.1), (240, 0), (240, 95), (0, 95))
    found = plan(job(Elevation("Front", outline), cladding=PLAIN, starter=(-1, -1)))
    (told,) = Result(found).instructions.faces
    assert [one.words for one in told.not_met][:1] == [
        'Base out of level: sliver 7/8", 0" from the left; courses are ripped along it'
    ]
    (sheet,) = numbered([cover(Result(found), Contents((), (0,), ("siding",)), "letter")])
    assert any(text.startswith("sliver: a strip under") for text in lettered(sheet))
    check(found)


def test_more_than_there_is_room_for_is_counted_in_edges() -> None:
    """Twenty windows at heights of their own, hardly one on a line: some 40 edges, few lines."""
    holes = tuple(window(f"W{k}", 12 + 40 * k, 20 + k / 8, 20, 45 + k / 16) for k in range(20))
    check(plan(job(Elevation("Front", rectangle(40 * 22, 0, 97), openings=holes), starter=(-1, -1))))


def test_worst_first_holds_on_a_face_where_reasons_alternate() -> None:
    """Strips of 2, 3, 4 and 5 in: the second has a reason of its own, and still stands between the others."""
    edges = [
        NotMet(f"{mark} sill", f"notch, strip {strip}", why, 1, False, (1.0, 1.0, strip))
        for mark, strip, why in (
            ("A", 2, "why one"),
            ("B", 3, "why two"),
            ("C", 4, "why one"),
            ("D", 5, "why one"),
        )
    ]
    nothing = FaceInstructions((), {}, (), (), (), (), tuple(edges), (), ())
    assert [line for line, _ in face_notes(face_words(nothing), Box(0, 0, 2600, 1900)).left] == [
        "Edges not met, worst first",
        "A sill: notch, strip 2; why one",
        "B sill: notch, strip 3; why two",
        "C sill: notch, strip 4; D sill: notch, strip 5; each: why one",
    ]


def test_few_words_count_what_many_count() -> None:
    """Courses of 8 from -1: of sill 31, head 79 and eave 97 the eave lies 2 over butt line 13 at 95."""
    found = plan(
        job(
            Elevation("Front", rectangle(132, 0, 97), openings=(window("A", 30, 31, 36, 48),)),
            starter=(-1, -1),
        )
    )
    (face,) = found.elevations
    assert result_words(face.edges) == "2 flush, 1 rip"
    assert flush_words(face.edges) == "2 of 3 flush"


@pytest.mark.long
@pytest.mark.parametrize("name", ["de", "es", "fr-CA"])
def test_no_count_is_cut_on_a_crowded_cover(name: str) -> None:
    """A house of many faces: its counts took more than three lines in these languages, and were cut."""
    found = Result(planned(7))
    with speaking(name):
        document = sheet_set(found, "letter")
    assert not [text for sheet in document.sheets for text in lettered(sheet) if ELLIPSIS in text]


@pytest.mark.long
@pytest.mark.parametrize("house", [*SAMPLES, *range(10)], ids=lambda one: getattr(one, "stem", str(one)))
def test_samples_and_houses_count_what_they_list(house: Path | int) -> None:
    check(planned(house))
