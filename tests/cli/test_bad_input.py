"""Input that once ended in a fault of the program, or blamed the wrong thing."""

from __future__ import annotations

from pathlib import Path

import pytest

from evencourse.cli.main import main
from evencourse.cli.reports.spreadsheet import SheetTable, csv_bytes
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.model.errors import JobError
from tests.cli.jobs import FLUSH, written

SAMPLES = Path(__file__).parents[2] / "samples"
WALL = '[job]\nname = "Wall"\n[cladding]\nprofile = "double-4"\n[[elevation]]\nname = "Front"\nwidth = 240\n'
WINDOW = "[[elevation.opening]]\nmark = '{}'\nleft = {}\nsill = {}\nwidth = 36\nheight = 40\n"


def told(text: str) -> list[str]:
    with pytest.raises(JobError) as refused:
        parse_job(text)
    return [str(fault) for fault in refused.value.faults]


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(words) == 2
    return capsys.readouterr().err


@pytest.mark.parametrize("command", ["check", "cuts", "takeoff"])
def test_shingles_have_no_stock_length(
    command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    text = FLUSH.replace('"double-4"', '"shingle-18"\nlength = "18"')
    said = refused(capsys, command, written(tmp_path, text))
    assert "cladding, length: found 1' 6\"; wanted no length: shingles come in random widths" in said


@pytest.mark.parametrize("sample", ["lap-cottage", "boat-house", "shingled-barn"])
@pytest.mark.parametrize("height", ["30'", "900'", "-30'"])
def test_a_starter_off_the_wall_is_refused(
    sample: str, height: str, capsys: pytest.CaptureFixture[str]
) -> None:
    said = refused(capsys, "plan", str(SAMPLES / f"{sample}.toml"), f"--starter={height}")
    assert said.startswith(f'--starter "{height}": found') and "a starter line on the wall, from" in said


def test_a_starter_above_its_zone_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The first zone ends at 40; a starter may lie an inch below that, no higher."""
    text = (
        "[job]\nname = 'Z'\n[claddings.a]\nprofile = 'bevel-8'\n[claddings.b]\nprofile = 'double-4'\n"
        "[[elevation]]\nname = 'Front'\nwidth = 240\nbase = 0\neave = 100\n"
        "[[elevation.zone]]\ncladding = 'a'\ntop = 40\n{}[[elevation.zone]]\ncladding = 'b'\n"
    )
    path = written(tmp_path, text.format(""))
    assert "from -4' 0\" to 3' 3\"" in refused(capsys, "plan", path, "--starter", "41")
    assert main(["plan", path, "--starter", "39"]) == 1  # planned; it misses its limits
    capsys.readouterr()
    assert "starter: found" in told(text.format("starter = [50, 50]\n"))[0]
    assert "limits, starter: found" in told("limits.starter = [50, 50]\n" + text.format(""))[0]


def test_a_starter_without_its_minus_is_asked_back(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The base lies 148 below the datum; a starter of 147-1/2 above it would leave 24 ft of wall bare."""
    path = written(tmp_path, f"{WALL}base = -147\neave = 160\n")
    said = refused(capsys, "plan", path, "--starter", "12' 3-1/2\"")
    assert "wanted -12' 3-1/2\": what lies below the datum has a minus" in said
    assert main(["plan", path, "--starter", "-12' 3-1/2\""]) == 0


def test_a_base_without_its_minus_is_told_once() -> None:
    """Three windows at 30, a base at 41: with a minus they all stand on the wall."""
    text = f"{WALL}base = '41'\neave = 100\n" + "".join(WINDOW.format(n, 50 * n, 30) for n in (1, 2, 3))
    found = "3' 5\", above 3 of 3 openings"
    assert told(text) == [
        f'line 8: elevation "Front", base: found {found}; '
        "wanted -3' 5\": what lies below the datum has a minus"
    ]


def test_a_window_below_a_base_that_is_right_is_blamed_itself() -> None:
    text = f"{WALL}base = 10\neave = 100\n" + "".join(
        WINDOW.format(n, 50 * n, sill) for n, sill in ((1, 5), (2, 30))
    )
    assert len(told(text)) == 1 and 'opening "1"' in told(text)[0]


def test_tables_in_the_wrong_place_or_brackets_say_what_was_meant() -> None:
    assert any(
        "[opening] outside a face; wanted [[elevation.opening]] under its face" in one
        for one in told(f"{WALL}eave = 100\n[[opening]]\nmark = 'A'\n")
    )
    single = told(WALL.replace("[[elevation]]", "[elevation]") + "eave = 100\n")
    assert single == [
        "line 5: elevation: found [elevation]; wanted [[elevation]] in double brackets, one for each"
    ]


@pytest.mark.parametrize("size", ["1e-200", "0.0009", "5e-324"])
@pytest.mark.parametrize("key", ["width", "height"])
def test_sizes_near_zero_are_refused(size: str, key: str) -> None:
    text = f"{WALL}base = 0\neave = 100\n" + WINDOW.format("A", 50, 30)
    text = text.replace(f"{key} = 36" if key == "width" else f"{key} = 40", f"{key} = {size}")
    assert any(f"{key}: found {size}; wanted a length of 0.001 in at least" in one for one in told(text))


def test_a_metric_job_does_not_complain_of_the_mark_of_an_inch_tape() -> None:
    """1/16 says nothing of millimetres: the usual mark holds. Units that cannot be read are told alone."""
    text = f"{WALL}eave = 2700\n".replace("width = 240", "width = 6000")
    assert parse_job(text.replace("[job]", '[job]\nunits = "mm"\nround = "1/16"')).round == 1.0
    assert len(told(text.replace("[job]", '[job]\nunits = "cm"\nround = "3"'))) == 1
    assert "round" in told(text.replace("[job]", '[job]\nunits = "mm"\nround = 3'))[0]


@pytest.mark.long
def test_a_joint_lies_where_its_board_shows(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Over a base that falls 30 in 20 ft a lap reaches 7 in past what shows; once a joint lay there."""
    text = (
        WALL.replace("double-4", "bevel-8")
        + 'base = [0, -30]\neave = "9\'"\n[seams]\nshortest = 1\napart = 0\n'
    )
    assert main(["cuts", written(tmp_path, text)]) == 0
    assert capsys.readouterr().err == ""


def test_texts_in_csv_stand_in_quotes() -> None:
    """RFC 4180: a quoted field; a spreadsheet that parts cells at ; keeps it whole."""
    sheet = SheetTable("S", ("face", "figure"), (("A;=2+3", 2.5), ('6" board', None)))
    assert csv_bytes(sheet) == b'"face","figure"\r\n"A;=2+3",2.5\r\n"6"" board",\r\n'


def test_numbers_that_no_wall_has_are_refused() -> None:
    """Studs 1/100 in apart, nails closer still, corner boards wider than the wall (common practice)."""
    text = WALL.replace('"double-4"', '"double-4"\nnail_spacing = 1e-9')
    said = told(text + "base = 0\neave = 90\n[framing]\nspacing = 0.01\n[trim]\noutside_corner = 130\n")
    assert [one.split(": ")[1] for one in said] == [
        "cladding, nail_spacing", "framing, spacing", "trim, outside_corner",
    ]  # fmt: skip


def test_more_courses_than_a_wall_has_room_for_are_not_as_built() -> None:
    """500 boards, each 1/2 in over the next at the very least, do not go in 40 in, however far they crept."""
    text = WALL.replace("double-4", "fiber-cement-8.25") + "base = -40\neave = 120\n"
    line = '[[as_built.course]]\nface = "Front"\ncourse = {}\nleft = 0\nright = 0\n'
    assert 'wanted more than 1/2" a course above' in told(text + line.format(500))[0]
    assert parse_job(text + line.format(7)).as_built
