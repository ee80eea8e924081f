"""What a crew is told where panels hardly go in, and where the ground leaves no starter for the musts."""

from __future__ import annotations

from evencourse.layout.courses.planner import plan
from evencourse.layout.pieces.all_pieces import pieces
from evencourse.render.words.caution_words import tight_words
from tests.layout.walls import LAP, Elevation, job, missed_said, rectangle, window

EACH = "put one side's trim up on a single nail until the pieces are in, then put in the others"


def test_panels_between_two_verticals_nearer_than_three_feet() -> None:
    """A window 30 in from the corner, 36 wide, up to the eave, another wall of 66 in beyond it."""
    face = Elevation("Front", rectangle(132, 0, 95), openings=(window("A", 30, 31, 36, 48),))
    planned = plan(job(face, starter=(-1, -1)))
    (found,) = pieces(planned).faces
    # butt line 5 lies at 31 and butt line 11 at 79: courses 5 to 10 stand beside it, course 11 over it
    assert tight_words(found, planned) == (
        f'Tight place, courses 5 to 10, from 0" to 2\' 6": {EACH}; or slide them down from the top '
        "before the course over them is installed.",
    )


def test_under_an_eave_nothing_can_be_slid_down() -> None:
    face = Elevation("Front", rectangle(132, 0, 79), openings=(window("A", 30, 31, 36, 48),))
    planned = plan(job(face, starter=(-1, -1)))
    (found,) = pieces(planned).faces
    assert tight_words(found, planned) == (f'Tight place, courses 5 to 10, from 0" to 2\' 6": {EACH}.',)


def test_tight_places_that_are_dealt_with_alike_are_told_together() -> None:
    """Another window as far from the right corner: the same courses, between it and that corner."""
    holes = (window("A", 30, 31, 36, 48), window("B", 102, 31, 36, 48))
    planned = plan(job(Elevation("Front", rectangle(168, 0, 79), openings=holes), starter=(-1, -1)))
    (found,) = pieces(planned).faces
    # from 30 + 36 to 102 are 36 in: not tight; from 102 + 36 to 168 are 30
    assert tight_words(found, planned) == (
        'Tight places (courses 5 to 10, from 0" to 2\' 6"; courses 5 to 10, from 11\' 6" to 14\' 0"): '
        f"{EACH}.",
    )


def test_courses_between_two_windows_over_each_other_are_not_tight() -> None:
    """Sills at 31 and 127, heads at 79 and 175: courses 5 to 10 and 17 to 22; 11 to 16 run past both."""
    holes = (window("A", 30, 31, 36, 48), window("B", 30, 127, 36, 48))
    planned = plan(job(Elevation("Front", rectangle(132, 0, 191), openings=holes), starter=(-1, -1)))
    (found,) = pieces(planned).faces
    assert [caution.courses for caution in found.tight] == [(5, 10), (17, 22)]


def test_boards_have_no_tight_place() -> None:
    face = Elevation("Front", rectangle(132, 0, 95), openings=(window("A", 30, 31, 36, 48),))
    assert pieces(plan(job(face, cladding=LAP, starter=(-1, -1)))).faces[0].tight == ()


def house(ground: float, head: float) -> Elevation:
    """Base on the datum: the strip has wood behind it from -1-1/2 in up, a course covers 1/2 in at least."""
    hole = window("A", 60, head - 40, 36, 40, head_edge="must")
    return Elevation("Front", rectangle(240, 0, 100), openings=(hole,), grade=((0, ground), (240, ground)))


def test_the_ground_that_leaves_no_starter_for_a_must_says_what_to_write() -> None:
    """Clear by 6 in of ground at -7 the starter lies at -1 or higher; a head at 70-3/4 wants -1-1/4."""
    found = plan(job(house(-7, 70.75), tolerance=0.0625))
    assert missed_said(found)[-1].partition(": ")[2] == (
        "write starter = [-1.25, -1.25] under [limits], and the edge is met; the siding then hangs 5-3/4\" "
        "above the ground, where 6\" is wanted: only if the maker's instructions and the local code allow it"
    )  # fmt: skip
    assert found.course_sets["main"].missed[-1].amount == 0.25


def test_a_must_that_less_cover_meets_says_so() -> None:
    """A head at 71-3/4 wants a starter at -1/4: it covers the base by 1/4 in, 1/2 is wanted."""
    found = plan(job(house(-30, 71.75), tolerance=0.0625))
    assert missed_said(found)[-1].partition(": ")[2] == (
        'write starter = [-0.25, -0.25] under [limits], and the edge is met; the first course then covers '
        'the base by 1/4", where 1/2" is wanted'
    )  # fmt: skip


def test_a_must_that_no_starter_meets_is_not_promised() -> None:
    """A head at 75 wants -5 or 3: neither has a strip with wood behind it."""
    assert not [said for said in missed_said(plan(job(house(-30, 75)))) if "write starter" in said]


def test_ground_too_near_for_any_cover_says_which_starter_clears_it() -> None:
    """Ground at -6-1/4: clear of it by 6 in at -1/4 alone, 1/4 in below the base."""
    (said,) = missed_said(plan(job(house(-6.25, 71.5))))
    assert said.partition(": ")[2] == (
        'the siding must be 6" clear of the ground; lower the ground, or write starter = '
        '[-0.25, -0.25] under [limits]; the first course then covers the base by 1/4"'
    )
