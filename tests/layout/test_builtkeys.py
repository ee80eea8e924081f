"""The ``[as_built]`` table of the job file: what is read, and every fault with its place."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencourse.layout.courses.crept import crept_courses
from evencourse.layout.jobfile.job_file import parse_job, read_job
from evencourse.layout.jobfile.job_text import job_text
from evencourse.layout.model.as_built import AsBuilt, BuiltCourse
from evencourse.layout.model.errors import JobError
from evencourse.layout.model.job import Job

SAMPLE = Path(__file__).resolve().parents[2] / "samples" / "carried-on.toml"
#: Panels of 8 in from -1, and boards of 5-1/2 to 7 in from 0.
PANELS = """\
[job]
name = "Test"
[cladding]
profile = "double-4"
[limits]
starter = ["-1", "-1"]
[[elevation]]
name = "Front"
width = "20'"
base = "0"
eave = "7' 11"
  [[elevation.opening]]
  mark = "A"
  left = "60"
  sill = "31"
  width = "36"
  height = "48"
  [[elevation.opening]]
  mark = "D"
  kind = "door"
  left = "120"
  width = "36"
  height = "82"
  [[elevation.opening]]
  mark = "R"
  shape = "round"
  left = "180"
  sill = "40"
  width = "24"
  [[elevation.fixture]]
  mark = "S"
  left = "40"
  bottom = "20"
  width = "4"
  height = "6"
[[elevation]]
name = "Back"
width = "20'"
base = "0"
eave = "7' 11"
"""
BOARDS = PANELS.replace("double-4", "fiber-cement-8.25").replace('["-1", "-1"]', '["0", "0"]')


def course(number: object, left: str, right: str, where: str = 'face = "Front"') -> str:
    return f'[[as_built.course]]\n{where}\ncourse = {number}\nleft = "{left}"\nright = "{right}"\n'


def opening(*lines: str, face: str = "Front", mark: str = "A") -> str:
    return "\n".join(["[[as_built.opening]]", f'face = "{face}"', f'mark = "{mark}"', *lines, ""])


def faults(text: str) -> list[str]:
    with pytest.raises(JobError) as caught:
        parse_job(text)
    lines = text.splitlines()
    for fault in caught.value.faults:
        assert fault.line is not None
        assert lines[fault.line - 1].strip()
    return [str(fault).partition(": ")[2] for fault in caught.value.faults]


def read(text: str) -> AsBuilt:
    return parse_job(text).as_built


def test_a_line_is_read_with_its_face_and_the_faces_course_set() -> None:
    assert read(PANELS + course(5, "31-1/8", "31")).courses == (
        BuiltCourse("Front", "main", 5, 31.125, 31.0),
    )


def test_a_line_of_a_whole_course_set_is_one_on_each_of_its_faces() -> None:
    found = read(PANELS + course(5, "31", "31", 'courses = "main"')).courses
    assert [line.face for line in found] == ["Front", "Back"]


def test_an_upper_zone_is_named_by_its_course_set() -> None:
    zones = (
        '  [[elevation.zone]]\n  cladding = "low"\n  top = "4\'"\n'
        '  [[elevation.zone]]\n  cladding = "high"\n'
    )  # fmt: skip
    text = PANELS.replace("[cladding]", "[claddings.low]").replace(
        "[limits]", '[claddings.high]\nprofile = "double-5"\n[limits]'
    )
    text = text.replace('name = "Back"', 'name = "Back"\ncladding = "low"')
    text = text.replace("  [[elevation.fixture]]", zones + "  [[elevation.fixture]]")
    line = course(2, "58", "58", 'face = "Front"\ncourses = "main/high"')
    assert read(text + line).courses[0].courses == "main/high"
    assert read(text + course(2, "7", "7")).courses[0].courses == "main"
    assert faults(text + course(2, "58", "58", 'face = "Back"\ncourses = "main/high"')) == [
        'as_built, course 2 of "Back", courses: found "main/high"; wanted "main"'
    ]


def test_an_opening_found_elsewhere_keeps_what_was_not_measured_again() -> None:
    (found,) = read(PANELS + opening('left = "61"')).openings
    assert (found.face, found.opening.left, found.opening.width, found.opening.bottom) == (
        "Front",
        61,
        36,
        31,
    )
    (found,) = read(PANELS + opening('right = "142"', 'width = "40"', 'sill = "30"')).openings
    assert (found.opening.left, found.opening.width, found.opening.bottom) == (58, 40, 30)


def test_a_door_stays_on_the_base_and_a_round_window_round() -> None:
    (door,) = read(PANELS + opening('left = "119"', mark="D")).openings
    assert door.opening.on_base
    assert door.opening.sill_edge == "ignore"
    (raised,) = read(PANELS + opening('sill = "4"', mark="D")).openings
    assert not raised.opening.on_base
    assert raised.opening.sill_edge == "want"
    for line in ('width = "26"', 'height = "26"'):
        (found,) = read(PANELS + opening(line, mark="R")).openings
        assert (found.opening.width, found.opening.height) == (26, 26)


def test_unknown_names_are_told_with_the_nearest() -> None:
    text = PANELS + course(5, "31", "31", 'face = "Frunt"') + course(5, "31", "31", 'courses = "mian"')
    text += opening('left = "61"', face="Side") + opening('left = "61"', mark="B")
    text += opening('left = "61"', face="Back", mark="A")
    assert faults(text) == [
        'as_built, course 5 of "Frunt", face: found "Frunt"; wanted "Front"',
        'as_built, course 5 of "mian", courses: found "mian"; wanted "main"',
        'as_built, opening "A", face: found "Side"; wanted one of "Front", "Back"',
        'as_built, opening "B", mark: found "B"; wanted one of "A", "D", "R"',
        'as_built, opening "A", mark: found "A"; wanted an opening of "Back": it has none',
    ]


def test_what_is_left_out_or_makes_no_sense_is_told_at_once() -> None:
    text = PANELS + '[as_built]\nhung = 5\n[[as_built.course]]\ncourse = 0\nleft = "31"\n'
    text += course(2.5, "31", "up", 'face = "Front"') + opening()
    assert faults(text) == [
        'as_built, hung: found the unknown key "hung"; wanted one of course, opening',
        "as_built, course 1, right: found nothing; wanted its height at the right corner",
        "as_built, course 1, face: found nothing; wanted the face it was measured on, or courses",
        "as_built, course 1, course: found 0; wanted the number of a course, from 1 up",
        "as_built, course 2, course: found 2.5; wanted a whole number: "
        "number of the course whose bottom it is, from 1",
        'as_built, course 2, right: found "up"; wanted a length such as 36-1/2, 14\' 3-1/2" or 4356 mm',
        'as_built, opening "A": found nothing measured again; wanted any of left, right, sill, width, height',
    ]


def test_a_line_in_the_wrong_table_is_sent_to_its_own() -> None:
    """Keys that what hangs shares with what was measured at first belong to the latter."""
    assert faults(PANELS + 'course = 5\nmark = "X"\n') == [
        'elevation "Back", course: found the unknown key "course"; wanted "courses"',
        'elevation "Back", mark: found the unknown key "mark"; '
        "wanted it in its own table, opening, fixture or roof",
    ]


def test_a_second_line_or_opening_is_told() -> None:
    text = PANELS + course(5, "31", "31") * 2 + opening('left = "61"') * 2
    assert faults(text) == [
        'as_built, course 5 of "Front": found a second line for course 5 of "Front"; '
        "wanted one line for each course of a face",
        'as_built, opening "A", mark: found a second "A" of "Front"; wanted one for each opening',
    ]


def test_a_height_off_the_wall_is_told() -> None:
    where, wanted = 'as_built, course 5 of "Front"', 'wanted a height on "Front", from -4\' 0" to 7\' 11"'
    assert faults(PANELS + course(5, "9'", "-50")) == [
        f"{where}, left: found 9' 0\"; {wanted}",
        f"{where}, right: found -4' 2\"; {wanted}",
    ]


def test_panels_give_in_their_locks_by_the_tolerance_and_no_more() -> None:
    """By hand: 4 courses of 8 in from -1 end at 31; 1/8 a course makes 1/2: to 31-1/2, not to 31-9/16."""
    assert read(PANELS + course(5, "31-1/2", "30-1/2"))
    assert faults(PANELS + course(5, "31-9/16", "31")) == [
        'as_built, course 5 of "Front", left: found 4 courses in 2\' 8-9/16", 8-9/64" each; '
        'wanted 4 courses of 8" above the starter line, or course 1 as installed: 2\' 8"'
    ]


def test_boards_whose_laps_crept_are_no_fault() -> None:
    """Boards show 5-1/2 to 7 in; a tape's mark of 1/16 is forgiven: 2 courses take 10-15/16 to 14-1/16.
    By hand: 14-1/8 is 1/16 a course over, 10-7/8 as much under; the worse corner counts, each way.
    """
    fits = parse_job(BOARDS + course(3, "14-1/16", "10-15/16"))
    assert list(crept_courses(fits)) == []
    over, under = crept_courses(parse_job(BOARDS + course(3, "14-1/8", "10-7/8")))
    assert (over.face, over.course_set, over.first, over.last) == ("Front", "main", 1, 2)
    assert (over.exposure, over.beyond) == (7.0625, 0.0625)
    assert (under.exposure, under.beyond) == (5.4375, -0.0625)


def test_laps_between_two_lines_in_whatever_order_they_stand() -> None:
    """By hand: course 4 shows 7-1/2 at the left, 1/2 over, and 7 at the right; 3 courses in 20-1/2 fit."""
    (found,) = crept_courses(parse_job(BOARDS + course(5, "28", "28") + course(4, "20-1/2", "21")))
    assert (found.first, found.last, found.beyond) == (4, 4, 0.5)


def test_where_course_1_was_not_measured_the_whole_range_of_the_starter_counts() -> None:
    """By hand: from -1/2, the highest, 2 courses in 15 show 7-1/2; from -2, as it hangs, 8 in 16."""
    ranged = BOARDS.replace('["0", "0"]', '["-1", "-1/2"]')
    (found,) = crept_courses(parse_job(ranged + course(3, "14-1/2", "14-1/2")))
    assert (found.exposure, found.beyond) == (7.5, 0.5)
    (found,) = crept_courses(parse_job(ranged + course(1, "-2", "-2") + course(3, "14", "14")))
    assert (found.exposure, found.beyond) == (8.0, 1.0)


def test_what_boards_cannot_have_been_hung_at_is_a_fault() -> None:
    """By hand: a board 8-1/4 in wide, from 0: course 3 at 16-1/2 at most; none below the one under it."""
    assert read(BOARDS + course(3, "16-1/2", "16-1/2"))
    assert faults(BOARDS + course(3, "16-9/16", "0")) == [
        'as_built, course 3 of "Front", left: found 2 courses in 1\' 4-9/16", 8-9/32" each; '
        'wanted no more than 8-1/4", its whole width, a course above the starter line, '
        "or course 1 as installed",
        'as_built, course 3 of "Front", right: found level with the starter line, or course 1 as installed; '
        "wanted a height above the starter line, or course 1 as installed",
    ]
    assert faults(BOARDS + course(4, "21", "21") + course(5, "20", "22")) == [
        'as_built, course 5 of "Front", left: found 1" below course 4; wanted a height above course 4'
    ]


def test_lines_that_do_not_rise_from_face_to_face_are_a_fault() -> None:
    back = course(5, "20", "20", 'face = "Back"')
    assert faults(BOARDS + course(4, "21", "21") + back) == [
        'as_built, course 5 of "Back": found course 5 at 1\' 8", halfway between its corners; '
        "wanted a height above course 4, which is installed at 1' 9\""
    ]


def test_a_first_course_as_it_hangs_frees_the_others_from_the_planned_starter() -> None:
    """By hand: from -1, the first course hangs 3 in low; 4 courses of 8 in from -4 end at 28."""
    assert read(PANELS + course(1, "-4", "-4") + course(5, "28", "28"))
    assert faults(PANELS + course(5, "28", "28"))


def test_an_opening_found_off_its_wall_or_over_another_is_told_where_it_was_found() -> None:
    text = PANELS + opening('left = "230"', mark="D") + opening('sill = "16"', 'left = "40"', mark="R")
    told = faults(text)
    assert told[0].startswith('as_built, opening "D": found 19\' 2" to 22\' 2" across')
    assert [fault.partition(";")[0] for fault in told[1:]] == [
        'as_built, opening "R": found it lies over opening "A"',
        'as_built, opening "R": found it lies over fixture "S"',
    ]


def test_a_face_with_faults_of_its_own_brings_no_more() -> None:
    text = PANELS.replace(
        'width = "20\'"\nbase = "0"\neave = "7\' 11"\n  [[', 'base = "0"\neave = "7\' 11"\n  [['
    )
    assert faults(text + course(5, "31", "31") + opening('left = "61"')) == [
        'elevation "Front", width: found nothing; wanted the wall\'s width, or an outline'
    ]


def test_the_job_written_out_reads_back_the_same() -> None:
    for found in (read_job(SAMPLE), _odd()):
        assert parse_job(job_text(found)) == found


def _odd() -> Job:
    text = (
        PANELS
        + course(5, "31-1/8", "31")
        + opening('sill = "4"', mark="D")
        + opening('width = "26"', mark="R")
    )
    return parse_job(text)


def test_a_job_without_the_table_has_nothing_built() -> None:
    assert not read(PANELS)
    assert not read(PANELS + "[as_built]\n")


def test_a_face_with_courses_of_its_own_is_measured_in_those() -> None:
    text = PANELS.replace('name = "Back"', 'name = "Back"\ncourses = "back"')
    assert read(text + course(2, "7", "7", 'face = "Back"')).courses[0].courses == "back"
    assert read(text + course(2, "7", "7")).courses[0].courses == "main"


def test_metric_heights_are_read_in_millimetres() -> None:
    """By hand: panels of 203.2 mm from -25: course 5 begins at 787.8; 4 ft below the base is -1219."""
    text = PANELS.replace('name = "Test"', 'name = "Test"\nunits = "mm"').replace(
        '["-1", "-1"]', "[-25, -25]"
    )
    millimetres = {
        '"20\'"': "6000", '"7\' 11"': "2400", 'left = "60"': "left = 1500", 'sill = "31"': "sill = 800",
        '"36"': "900", '"48"': "1200", '"120"': "3000", '"82"': "2000", '"180"': "4500", '"24"': "600",
        'sill = "40"': "sill = 1000", '"40"': "1000", '"20"': "500", '"4"': "100", '"6"': "150",
    }  # fmt: skip
    for old, new in millimetres.items():
        text = text.replace(old, new)
    assert read(text + course(5, "788", "788")).courses[0].left == 788
    assert read(text + course(1, "-1200", "-1200"))
    assert faults(text + course(1, "-1220", "0"))[0].startswith(
        'as_built, course 1 of "Front", left: found -1220'
    )
