"""Job files read into jobs: walls, openings, zones and defaults worked out by hand."""

from __future__ import annotations

from math import hypot, pi
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evencourse.layout.jobfile.job_file import parse_job, read_job
from evencourse.layout.model.job import Elevation, Limits, Opening, Trim, Zone
from evencourse.layout.model.lengths import show_length
from tests.samples import SAMPLES, each_sample

TOP = '[job]\nname = "Test"\n[cladding]\nprofile = "fiber-cement-8.25"\n'
TWO = (
    '[job]\nname = "Test"\n'
    '[claddings.boards]\nprofile = "bevel-8"\n[claddings.shakes]\nprofile = "shingle-18"\n'
)
METRIC = TOP.replace('"Test"', '"Test"\nunits = "mm"')


def face(*lines: str, top: str = TOP) -> Elevation:
    (only,) = parse_job(top + '[[elevation]]\nname = "Front"\n' + "\n".join(lines)).elevations
    return only


def hole(*lines: str, wall: tuple[str, ...] = ("width = 240", "eave = 120"), top: str = TOP) -> Opening:
    (only,) = face(*wall, "[[elevation.opening]]", 'mark = "A"', *lines, top=top).openings
    return only


def area(points: tuple[tuple[float, float], ...]) -> float:
    return (
        sum(x0 * y1 - x1 * y0 for (x0, y0), (x1, y1) in zip(points, points[1:] + points[:1], strict=True)) / 2
    )


@each_sample
def test_every_sample_reads_without_fault(path: Path) -> None:
    job = read_job(path)
    assert job.elevations
    assert all(area(elevation.outline) > 0 for elevation in job.elevations)


def test_the_job_and_its_defaults() -> None:
    job = parse_job(TOP + '[[elevation]]\nname = "Front"\nwidth = "20\'"\neave = "8\'"\n')
    assert (job.name, job.units, job.round, job.temperature, job.author) == ("Test", "in", 1 / 16, None, "")
    assert job.limits == Limits(starter=None, tolerance=0.125, strip_min=1.5, jump=0.5)
    assert (job.framing.spacing, job.framing.offset) == (16, 0)
    assert (job.seams.shortest, job.seams.apart) == (24, 24)
    assert (job.order.spare, dict(job.order.prices), job.order.currency) == (0, {}, "")
    assert list(job.claddings) == ["main"]
    front = job.elevations[0]
    assert (front.left, front.right, front.grade, front.weight) == (
        "outside corner",
        "outside corner",
        None,
        1,
    )
    assert (front.courses, front.entrance, front.zones) == ("main", None, (Zone("main"),))


def test_the_defaults_of_a_metric_job_are_the_same_lengths_in_millimetres() -> None:
    job = parse_job(METRIC + '[[elevation]]\nname = "Front"\nwidth = 6000\neave = 2400\n')
    assert (job.units, job.round) == ("mm", 1)
    assert job.limits.tolerance == pytest.approx(0.125 * 25.4)
    assert job.framing.spacing == pytest.approx(406.4)
    assert job.claddings["main"].width == pytest.approx(8.25 * 25.4)


def test_everything_that_a_job_may_say_is_taken() -> None:
    text = """
[job]
name = " Lot 4 "
round = "1/32"
datum = "laser line"
author = "the crew"
[cladding]
profile = "double-4"
[limits]
starter = ["-4", "-1"]
tolerance = "1/4"
strip_min = "2"
jump = "3/8"
[framing]
spacing = "24"
offset = "7-1/2"
[seams]
shortest = "18"
apart = "30"
[order]
spare = "5 %"
currency = "$"
prices = { panel = 12.5 }
[[elevation]]
name = "Front"
width = "20'"
eave = "8'"
left = "butts"
right = "inside corner"
grade = ["-10", "-16"]
weight = 2
courses = "street"
entrance = "14'"
[[elevation.fixture]]
mark = "S1"
left = "10'"
bottom = "12"
width = "4"
height = "6"
block = false
"""
    job = parse_job(text)
    assert (job.name, job.round, job.datum, job.author) == ("Lot 4", 1 / 32, "laser line", "the crew")
    assert job.limits == Limits(starter=(-4, -1), tolerance=0.25, strip_min=2, jump=0.375)
    assert (job.framing.spacing, job.framing.offset) == (24, 7.5)
    assert (job.seams.shortest, job.seams.apart) == (18, 30)
    assert (job.order.spare, dict(job.order.prices), job.order.currency) == (0.05, {"panel": 12.5}, "$")
    front = job.elevations[0]
    assert (front.left, front.right, front.grade) == ("butts", "inside corner", ((0, -10), (240, -16)))
    assert (front.weight, front.courses, front.entrance) == (2, "street", 168)
    (spigot,) = front.fixtures
    assert (spigot.mark, spigot.left, spigot.right, spigot.bottom, spigot.top) == ("S1", 120, 124, 12, 18)
    assert not spigot.block


@pytest.mark.parametrize(
    ("written", "units", "fahrenheit"),
    [
        ('"55 F"', "in", 55),
        ('"40°F"', "mm", 40),
        ('"13 C"', "in", 55.4),
        ('"-5 c"', "mm", 23),
        ("50", "in", 50),
        ("10", "mm", 50),
    ],
)  # 13 C x 9/5 + 32 = 55.4 F; a bare number is F in an inch job, C in a metric one
def test_temperature_in_both_scales(written: str, units: str, fahrenheit: float) -> None:
    top = f'[job]\nname = "x"\nunits = "{units}"\ntemperature = {written}\n[cladding]\nprofile = "double-4"\n'
    job = parse_job(top + '[[elevation]]\nname = "Front"\nwidth = "20\'"\neave = "8\'"\n')
    assert job.temperature == pytest.approx(fahrenheit)


def test_level_wall() -> None:
    assert face('width = "32\'"', 'base = "-1"', 'eave = "8\' 11"').outline == (
        (0, -1),
        (384, -1),
        (384, 107),
        (0, 107),
    )


def test_a_base_that_is_not_given_lies_on_the_datum() -> None:
    assert face("width = 240", "eave = 96").outline == ((0, 0), (240, 0), (240, 96), (0, 96))


def test_sloping_base_and_eave() -> None:
    outline = face("width = 240", "base = [-10, -22]", "eave = [96, 94]").outline
    assert outline == ((0, -10), (240, -22), (240, 94), (0, 96))


@pytest.mark.parametrize(
    ("gable", "peak"),
    [
        ('{ pitch = "6/12" }', (192, 203)),  # half of 32 ft is 16 ft: 16 x 6 in = 96 in over an eave at 107
        ('{ pitch = "6 in 12" }', (192, 203)),
        ("{ pitch = 6 }", (192, 203)),
        ('{ pitch = "4.5:12" }', (192, 179)),  # 16 x 4-1/2 in = 72
        ('{ peak = "17\'" }', (192, 204)),
        ('{ peak = "17\'", at = "12\'" }', (144, 204)),
        ('{ pitch = "6/12", at = "16\'" }', (192, 203)),
        ('{ pitch = "6/12", at = "16\' 1" }', (193, 203)),  # a tape's slip from the middle
    ],
)
def test_gable_by_pitch_and_by_peak(gable: str, peak: tuple[float, float]) -> None:
    outline = face('width = "32\'"', 'base = "-1"', 'eave = "8\' 11"', f"gable = {gable}").outline
    assert outline == ((0, -1), (384, -1), (384, 107), pytest.approx(peak), (0, 107))


def test_gable_by_pitch_over_unequal_eaves_has_one_pitch_on_both_slopes() -> None:
    # 240 wide, eaves at 96 and 108: the peak moves 12 / (2 x 6/12) = 12 in toward the higher eave, to 132,
    # and lies 132 x 6/12 = 66 over the left eave, 108 x 6/12 = 54 over the right one
    outline = face("width = 240", "eave = [96, 108]", 'gable = { pitch = "6/12" }').outline
    assert outline[3] == (132, 162)


def test_gable_by_peak_over_unequal_eaves_has_one_pitch_on_both_slopes() -> None:
    # the wall of the test above, its peak measured instead of its pitch
    outline = face("width = 240", "eave = [96, 108]", "gable = { peak = 162 }").outline
    assert outline[3] == (132, 162)


def test_gable_28_wide_and_4_high_is_56_square_feet() -> None:
    # worked example of estimating texts (half of width times height), common practice, no source
    with_gable = face('width = "28\'"', 'eave = "8\'"', 'gable = { peak = "12\'" }').outline
    without = face('width = "28\'"', 'eave = "8\'"').outline
    assert (area(with_gable) - area(without)) / 144 == pytest.approx(56)


# Framing square: length of common rafter per foot of run
@pytest.mark.parametrize(
    ("rise", "inches"), [(3, 12.37), (4, 12.65), (6, 13.42), (8, 14.42), (12, 16.97), (18, 21.63)]
)
def test_the_rake_is_as_long_as_the_framing_square_says(rise: int, inches: float) -> None:
    outline = face('width = "24\'"', 'eave = "8\'"', f"gable = {{ pitch = {rise} }}").outline
    (x0, y0), (x1, y1) = outline[3], outline[4]
    assert hypot(x1 - x0, y1 - y0) == pytest.approx(12 * inches, abs=12 * 0.005 + 1e-9)


CORNERS = ["[0, -10]", "[120, -10]", "[120, 12]", "[240, 12]", "[240, 96]", "[0, 96]"]


def test_a_clockwise_outline_is_turned_round() -> None:
    outline = face(f"outline = [{', '.join(reversed(CORNERS))}]").outline
    assert area(outline) > 0
    assert set(outline) == {(0, -10), (120, -10), (120, 12), (240, 12), (240, 96), (0, 96)}


def test_an_outline_may_close_on_its_first_corner() -> None:
    assert len(face(f"outline = [{', '.join([*CORNERS, CORNERS[0]])}]").outline) == 6


@given(turn=st.integers(0, 5), back=st.booleans())
def test_an_outline_is_the_same_wall_from_any_corner_and_either_way_round(turn: int, back: bool) -> None:
    corners = CORNERS[turn:] + CORNERS[:turn]
    outline = face(f"outline = [{', '.join(reversed(corners) if back else corners)}]").outline
    assert area(outline) == 120 * 106 + 120 * 84


def test_a_door_stands_on_the_base() -> None:
    door = hole(
        'kind = "door"',
        "left = 30",
        "width = 36",
        "height = 80",
        wall=("width = 240", "base = -12", "eave = 96"),
    )
    assert (door.bottom, door.top, door.on_base, door.sill_edge) == (-12, 68, True, "ignore")


@pytest.mark.parametrize(("left", "bottom"), [(30, -10), (84, -10), (100, 12), (120, 12), (150, 12)])
def test_a_door_on_a_stepped_base_stands_on_the_highest_step_under_it(left: int, bottom: int) -> None:
    # the base steps up from -10 to 12 at x = 120; a door 36 wide at 84 ends just there
    wall = ("outline = [[0, -10], [120, -10], [120, 12], [240, 12], [240, 120], [0, 120]]",)
    door = hole('kind = "door"', f"left = {left}", "width = 36", "height = 80", wall=wall)
    assert door.bottom == bottom


def test_a_door_on_a_sloping_base_stands_on_its_higher_side() -> None:
    # 24 in over 240: 0.1 in per inch; from x = 30 to 66 the base climbs to 6.6
    door = hole(
        'kind = "door"',
        "left = 30",
        "width = 36",
        "height = 80",
        wall=("width = 240", "base = [0, 24]", "eave = 120"),
    )
    assert door.bottom == pytest.approx(6.6)


def test_a_door_with_its_sill_on_the_base_stands_on_it() -> None:
    door = hole('kind = "door"', "left = 30", "sill = 0", "width = 36", "height = 80")
    assert (door.bottom, door.on_base, door.sill_edge) == (0, True, "ignore")


def test_a_door_high_in_the_wall_keeps_its_sill() -> None:
    door = hole('kind = "door"', "left = 30", "sill = 20", "width = 36", "height = 80")
    assert (door.bottom, door.on_base, door.sill_edge) == (20, False, "want")


def test_right_is_measured_from_the_right_corner_to_the_opening() -> None:
    # 240 - 12 - 36 = 192
    window = hole("right = 12", "sill = 24", "width = 36", "height = 48")
    assert (window.left, window.right) == (192, 228)


def test_trim_of_the_job_and_of_one_opening() -> None:
    top = TOP + '[trim]\nhead = "3-1/2"\nsill = "2"\nside = "3-1/2"\n'
    lines = ("left = 30", "sill = 24", "width = 36", "height = 48")
    usual, own = hole(*lines, top=top), hole(*lines, 'trim = { head = "5" }', top=top)
    assert usual.trim == Trim(3.5, 2, 3.5)
    assert own.trim == Trim(5, 2, 3.5)
    assert (own.head, own.sill) == (77, 22)


def test_how_much_an_edge_matters() -> None:
    window = hole(
        "left = 30", "sill = 24", "width = 36", "height = 48", 'head_edge = "must"', 'sill_edge = "ignore"'
    )
    assert (window.head_edge, window.sill_edge) == ("must", "ignore")


def test_round_window_is_as_high_as_wide() -> None:
    window = hole('shape = "round"', "left = 30", "sill = 24", "width = 26")
    assert (window.height, window.top) == (26, 50)
    assert area(window.outline()) == pytest.approx(pi * 13**2, rel=1e-3)


def test_half_round_window_rises_half_its_width() -> None:
    window = hole('shape = "half-round"', "left = 30", "sill = 24", "width = 40")
    assert (window.height, window.rise) == (20, 20)
    assert area(window.outline()) == pytest.approx(pi * 20**2 / 2, rel=1e-3)


def test_half_round_over_a_straight_part() -> None:
    window = hole('shape = "half-round"', "left = 30", "sill = 24", "width = 40", "height = 50")
    assert (window.height, window.rise) == (50, 20)
    assert area(window.outline()) == pytest.approx(40 * 30 + pi * 20**2 / 2, rel=1e-3)


def test_arch() -> None:
    # 48 wide, rise 8: radius (24^2 + 8^2) / (2 x 8) = 40
    window = hole('shape = "arch"', "rise = 8", "left = 30", "sill = 24", "width = 48", "height = 40")
    for x, y in window.outline():
        if y > 24 + 40 - 8 + 1e-9:
            assert hypot(x - 54, y - (64 - 40)) == pytest.approx(40)
    assert max(y for _, y in window.outline()) == 64


def test_triangle() -> None:
    window = hole('shape = "triangle"', "left = 30", "sill = 24", "width = 42", "height = 14")
    assert window.outline() == ((30, 24), (72, 24), (51, 38))


def test_zones_from_bottom_to_top() -> None:
    zones = """
[[elevation.zone]]
cladding = "boards"
top = "9'"
trim = "5-1/2"
[[elevation.zone]]
cladding = "shakes"
starter = ["9' 4", "9' 6"]
courses = "gables"
"""
    wall = face('width = "20\'"', 'eave = "16\'"', zones, top=TWO)
    assert wall.zones == (
        Zone("boards", top=108, trim=5.5),
        Zone("shakes", starter=(112, 114), courses="gables"),
    )


def test_one_of_several_claddings_all_the_way_up() -> None:
    assert face("width = 240", "eave = 96", 'cladding = "shakes"', top=TWO).zones == (Zone("shakes"),)


def test_a_cladding_of_its_own_measures() -> None:
    text = (
        '[job]\nname = "x"\n[cladding]\nprofile = "foam-double-4"\nlength = "16\' 8"\nlabel = "our panel"\n'
    )
    job = parse_job(text + '[[elevation]]\nname = "Front"\nwidth = 240\neave = 96\n')
    assert (job.claddings["main"].length, job.claddings["main"].label) == (200, "our panel")


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm(tmp_path: Path) -> None:
    text = TOP + '[[elevation]]\nname = "Giebel Süd"\nwidth = 240\neave = 96\n'
    plain, windows = tmp_path / "plain.toml", tmp_path / "windows.toml"
    plain.write_bytes(text.encode())
    windows.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    assert read_job(windows) == read_job(plain)


def test_trims_that_just_touch_do_not_collide() -> None:
    # 36 + 36 = 72; 4 in of trim on each side: the next opening may begin at 80
    top = TOP + "[trim]\nside = 4\n"
    second = '[[elevation.opening]]\nmark = "B"\nleft = 80\nsill = 24\nwidth = 36\nheight = 48'
    lines = ("[[elevation.opening]]", 'mark = "A"', "left = 36", "sill = 24", "width = 36", "height = 48")
    assert len(face("width = 240", "eave = 96", *lines, second, top=top).openings) == 2


@pytest.mark.long
def test_ten_thousand_openings_in_a_face() -> None:
    many = "".join(
        f'[[elevation.opening]]\nmark = "{i}"\nleft = {i % 100 * 100}\nsill = {i // 100 * 100}\n'
        "width = 50\nheight = 50\n"
        for i in range(10_000)
    )
    assert len(face("width = 12000", "eave = 12000", many).openings) == 10_000


STEPS = st.integers(1, 4000)


@given(width=STEPS, base=st.integers(-800, 0), eave=STEPS, left=STEPS, sill=STEPS, wide=STEPS, high=STEPS)
def test_a_job_written_from_the_tape_is_read_as_it_stands(
    width: int, base: int, eave: int, left: int, sill: int, wide: int, high: int
) -> None:
    # in sixteenths; the wall is made large enough to hold its window
    width, eave = width + left + wide, eave + sill + high

    def tape(sixteenths: int) -> str:
        return f"'''{show_length(sixteenths / 16, 'in', 1 / 16)}'''"

    window = hole(
        f"left = {tape(left)}", f"sill = {tape(sill)}", f"width = {tape(wide)}", f"height = {tape(high)}",
        wall=(f"width = {tape(width)}", f"base = {tape(base)}", f"eave = {tape(eave)}"),
    )  # fmt: skip
    assert (window.left, window.bottom, window.right, window.top) == (
        left / 16,
        sill / 16,
        (left + wide) / 16,
        (sill + high) / 16,
    )


def test_a_job_is_read_the_same_twice() -> None:
    assert len(SAMPLES) >= 5
    first, second = (read_job(SAMPLES[0]) for _ in range(2))
    assert first == second
