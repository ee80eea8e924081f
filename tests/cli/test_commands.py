"""The commands end to end, in this process: what they say, what they write, how they end."""

from __future__ import annotations

import json
import sys
from pathlib import Path

import pytest

from evencourse.cli.main import main
from evencourse.layout.trade.profiles import profile_names
from tests.cli.jobs import SMALL, run, written
from tests.samples import SAMPLES, label


@pytest.fixture
def job(tmp_path: Path) -> str:
    return written(tmp_path, SMALL)


def row(lines: list[str], start: str) -> list[str]:
    """The cells of the first line that starts so."""
    found = next(line for line in lines if line.startswith(start))
    return [cell.strip() for cell in found.split("  ") if cell.strip()]


def test_check_says_what_it_understood(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, lines = run(capsys, "check", job)
    assert code == 0
    assert lines[0] == "Linden Row, lot 4: 1 face, no faults"
    assert lines[1] == 'lengths in inches, read to 1/16"; heights from the datum: laser line'
    assert row(lines, "Front") == ["Front", "10' 0\"", '0"', "7' 11\"", "A", "none", "main", "main"]
    assert row(lines, "main") == ["main", "double 4 in panel", '8"', "12' 6\""]


def test_plan_says_where_the_lines_go(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    """By hand: see the job. Chalk line: the top of the starter strip, 2 in above butt line 1."""
    code, lines = run(capsys, "plan", job)
    assert code == 0
    assert row(lines, "starter line") == ["starter line", '1" below the datum']
    assert row(lines, "chalk line") == ["chalk line", '1" above the datum']
    assert row(lines, "courses") == ["courses", '12 courses at 8"']
    assert row(lines, "A sill") == ["A sill", "2' 7\"", "flush, course 4 ends here"]
    assert row(lines, "A head") == ["A head", "6' 7\"", "flush, course 11"]
    assert row(lines, "Eave") == ["Eave", "7' 11\"", "flush, course 12 ends here"]
    assert lines[-1] == "All faces: 3 flush, 0 notches, 0 slivers"


def test_every_butt_line_is_told_with_its_number(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    _, lines = run(capsys, "plan", job)
    at = lines.index("Butt lines: the bottom of each course; the last one is the top of course 12")
    ladder = " ".join(lines[at + 1 : at + 8])
    told = [part.strip() for part in ladder.split("  ") if part.strip()]
    pairs = dict(zip(told[::2], told[1::2], strict=False))
    assert pairs["1"] == '-1"'
    assert pairs["2"] == '7"'
    assert pairs["5"] == "2' 7\""
    assert pairs["13"] == "7' 11\""


def test_a_starter_of_the_users_own_is_planned_and_scored(
    job: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """By hand: from -2 the butt line below the sill at 31 lies at 30; 1 in is left of the course: a sliver.

    The starter lies 1 in below its limit.
    """
    code, lines = run(capsys, "plan", job, "--starter", "-2")
    assert code == 1
    assert row(lines, "starter line") == ["starter line", '2" below the datum']
    assert row(lines, "A sill")[2].startswith('sliver 1": cut course 5, keep 1" from the bottom')
    assert row(lines, "starter outside its limits")[1] == '1"'
    assert row(lines, "slivers")[1] == "2"  # the eave at 95 leaves 1 in of its course, too


def test_a_starter_may_name_its_course_set_and_its_unit(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    """By hand: from -9 course 1 ends at -1, below the base at 0: course 2 is the first that hangs."""
    for word in ("main=-9", "-9", "main=-9 in", '-9"', "-228.6 mm"):
        code, lines = run(capsys, "plan", job, f"--starter={word}")
        assert code == 1
        assert row(lines, "starter line") == ["starter line", '9" below the datum: no course stands on it']
        assert row(lines, "A sill")[2] == "flush, course 5 ends here"


def test_a_missed_must_ends_with_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By hand: from -4 the sill at 31 is cut 3 in up, a notch, and the job says must."""
    path = tmp_path / "house.toml"
    path.write_text(SMALL.replace('height = "48"', 'height = "48"\n  sill_edge = "must"'), encoding="utf-8")
    code, lines = run(capsys, "plan", str(path), "--starter", "-4")
    assert code == 1
    assert row(lines, "A sill, must")[2].startswith('cut course 5, keep 3" from the bottom')
    assert row(lines, "must-meet edges missed")[1] == "1"
    assert any(line.startswith("Missed, main: ") for line in lines)


def test_the_plan_file_on_standard_output_stands_alone(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    code, lines = run(capsys, "plan", job, "--json", "-")
    assert code == 0
    found = json.loads("\n".join(lines))
    assert found["course_sets"]["main"]["starter"] == -1
    assert found["course_sets"]["main"]["chalk_line"] == 1
    edges = found["elevations"][0]["edges"]
    assert [edge["result"] for edge in edges] == ["flush", "flush", "flush", "whole"]
    assert (edges[-1]["edge"], edges[-1]["course"], edges[-1]["cover"]) == ("base", 1, 1)


def test_the_plan_file_is_written_beside_the_tables(
    job: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "plan.json"
    code, lines = run(capsys, "plan", job, "--json", str(path))
    assert code == 0
    assert lines[-1] == "All faces: 3 flush, 0 notches, 0 slivers"
    first = path.read_bytes()
    assert json.loads(first)["format"] == "evencourse-plan"
    run(capsys, "plan", job, "--json", str(path))
    assert path.read_bytes() == first
    assert sorted(item.name for item in tmp_path.iterdir()) == ["house.toml", "plan.json"]


def test_claddings_lists_every_profile_with_its_limits(capsys: pytest.CaptureFixture[str]) -> None:
    code, lines = run(capsys, "claddings")
    assert code == 0
    for name in profile_names():
        assert row(lines, f"{name} ")[0] == name
    assert row(lines, "fiber-cement-8.25")[2:5] == ['7"', '5-1/2" to 7"', "12' 0\""]
    assert row(lines, "double-4 ")[2:6] == ['8"', "molded in", "12' 6\"", "24 = 2 squares"]


def test_claddings_shows_one_profile_in_full(capsys: pytest.CaptureFixture[str]) -> None:
    code, lines = run(capsys, "claddings", "foam-double-4")
    assert code == 0
    assert row(lines, "foam held back from an end")[1] == '5/8"'
    assert row(lines, "lap at a seam")[1] == '1-1/4"'


@pytest.mark.parametrize("sample", SAMPLES, ids=label)
def test_every_sample_is_read_and_planned(sample: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(capsys, "check", str(sample))[0] == 0
    code, lines = run(capsys, "plan", str(sample))
    assert code == (1 if " 0 slivers" not in lines[-1] or any("Missed" in line for line in lines) else 0)


def test_names_from_the_job_cannot_steer_the_terminal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "house.toml"
    hostile = r"x\u001b[2J\u202ey"
    text = SMALL.replace("Linden Row, lot 4", hostile).replace('"laser line"', f'"{hostile}"')
    path.write_text(text.replace('"Front"', f'"{hostile}"').replace('mark = "A"', f'mark = "{hostile}"'))
    for command in ("check", "plan"):
        main([command, str(path)])
        out, err = capsys.readouterr()
        assert out + err
        assert not {sign for sign in out + err if sign in "\x1b\u202e"}


def test_a_narrow_terminal_gets_lines_that_fit(
    job: str, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "44")
    monkeypatch.setenv("NO_COLOR", "1")
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True, raising=False)
    for words in (["check", job], ["plan", job], ["claddings"]):
        _, lines = run(capsys, *words)
        assert max(len(line) for line in lines) <= 44, words


def test_plan_says_how_sure_it_is(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    """By hand: all three edges lie on lines; off by 1/16 and the datum by 1/16 they stay within 1/8. Off by
    1/8 and 1/8 the sill and the eave can leave 1/4 in above a line, the head 1/4 in below one.
    """
    _, lines = run(capsys, "plan", job, "--error", "1/16")
    assert lines[-1] == "Sure to stay: 3 flush, 0 notches, 0 slivers; 0 of 3 can change"
    assert "Whatever the error, main: at least 3 flush, at most 0 slivers" in lines
    _, lines = run(capsys, "plan", job, "--error", "1/8")
    assert lines[-1] == "Sure to stay: 0 flush, 0 notches, 0 slivers; 3 of 3 can change"
    assert row(lines, "Front: A sill") == ["Front: A sill", "2' 7\"", "flush", "flush or notch or sliver"]


def test_an_error_finer_than_the_tape_is_told_as_given(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """By hand: 1/16 and 1/16 make 1/8, as near as flush edges lie; 3/32 and 3/32 make 3/16."""
    coarse = tmp_path / "coarse.toml"
    coarse.write_text(SMALL.replace("[job]", '[job]\nround = "1/8"', 1))
    _, lines = run(capsys, "plan", str(coarse), "--error", "1/16")
    assert 'How sure: every height off by up to 1/16", and the datum by up to 1/16" more' in lines
    assert not any("no edge is sure" in line for line in lines)
    _, lines = run(capsys, "plan", str(coarse), "--error", "3/32")
    assert any(
        'within 1/8", and both errors together may be 3/16": no edge is sure' in line for line in lines
    )


def test_the_certainty_stands_in_the_plan_file(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", job, "--json", "-", "--error", "1/8"]) == 0
    told = json.loads(capsys.readouterr().out)["certainty"]
    assert told["error"] == 0.125
    assert [edge["edge"] for edge in told["edges"]] == ["sill", "head", "eave"]


def test_robust_wants_an_error_and_no_starter(job: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", job, "--robust", "--starter", "-1"]) == 2
    told = capsys.readouterr().err.splitlines()
    assert told[0].startswith("--robust: found no --error; wanted")
    assert told[1].startswith("--robust: found --starter beside it; wanted")
    assert main(["plan", job, "--error", "8"]) == 2
    assert capsys.readouterr().err.startswith('--error "8": found 8"; wanted a length from 0 up to less than')
    assert main(["plan", job, "--error", "-1/8"]) == 2
    assert main(["plan", job, "--error", "7-15/16"]) == 0


def test_robust_takes_the_starter_in_the_middle(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """By hand: head, sill and eave lie on lines from -1. With the head and the eave measured 1/4 higher and a
    tolerance of 1/4, -1 and -3/4 miss by as much in all; with 1/32 of error only those near -7/8 are sure.
    From -3/4 the line at the sill lies 1/4 off, and any error more is too much; head and eave hold.
    """
    text = SMALL.replace('starter = ["-1", "-1"]', 'starter = ["-2", "0"]\ntolerance = "1/4"')
    path = tmp_path / "house.toml"
    path.write_text(text.replace('height = "48"', 'height = "48-1/4"').replace("7' 11\"", "7' 11-1/4\""))
    _, lines = run(capsys, "plan", str(path), "--error", "1/16")
    assert row(lines, "starter line") == ["starter line", '3/4" below the datum']
    _, lines = run(capsys, "plan", str(path), "--error", "1/16", "--robust")
    assert row(lines, "starter line") == ["starter line", '7/8" below the datum']
    assert (
        'Passed over, main: a starter 3/4" below datum, best as planned with 3 flush edges; whatever the '
        "error at least 2 flush, at most 0 slivers. What decided: weight sure to stay flush, 11 instead of 9"
    ) in lines


def test_a_job_carried_on_says_what_hangs_and_what_the_rest_takes_up(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """By hand: planned 7-1/2 in from -6-3/4: line 5 at 23-1/4; its corners hang at 23-7/8 to 24-1/8, 24
    between. The head at 75-3/4 is 51-3/4 above: 7 courses of 7-11/28, 3/28 less than planned (near 1/8).
    """
    sample = Path(__file__).resolve().parents[2] / "samples" / "carried-on.toml"
    code, lines = run(capsys, "plan", str(sample))
    assert code == 0
    assert row(lines, "installed")[1] == 'up to course 5, whose bottom is 3/4" above plan'
    assert row(lines, "above that")[1].startswith(
        'courses 5 to 11 show about 7-3/8", about 1/8" less than planned '
        'and about 5/16" less than the course below; '
    )
    assert "Course 5 is installed at 2' 0-1/8\" left, 1' 11-7/8\" right" in lines
    assert row(lines, "B head, must")[2] == "flush, course 12"
    assert [line[:20] for line in lines if line.startswith("Changed")] == [
        "Changed, Yard A sill",
        "Changed, Yard B sill",
        "Changed, Lane E sill",
    ]


def test_check_says_what_hangs_already(capsys: pytest.CaptureFixture[str]) -> None:
    sample = Path(__file__).resolve().parents[2] / "samples" / "carried-on.toml"
    _, lines = run(capsys, "check", str(sample))
    hangs = lines[next(at for at, line in enumerate(lines) if line.startswith("Installed")) :]
    assert row(hangs, "Yard") == ["Yard", "main", "5", "2' 0-1/8\"", "1' 11-7/8\""]
    assert lines[-1] == "Measured again: Lane E"


def test_check_says_where_the_starter_may_lie_and_what_crept(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """By hand: boards show at most 7 in; line 8 at 49-1/2, from 0, makes 7 courses of 7-1/14: 5/64 over."""
    text = SMALL.replace("double-4", "fiber-cement-8.25").replace('"-1", "-1"', '"0", "0"')
    path = tmp_path / "house.toml"
    path.write_text(text)
    _, lines = run(capsys, "check", str(path))
    ranges = lines[next(at for at, line in enumerate(lines) if line.startswith("Starter limits")) :]
    assert row(ranges, "main") == ["main", "fixed", '0"', 'limits given for the job: 0"']
    hangs = '[[as_built.course]]\nface = "Front"\ncourse = 8\nleft = "49-1/2"\nright = "49-1/2"\n'
    path.write_text(text + hangs)
    code, lines = run(capsys, "check", str(path))
    assert code == 0
    assert lines[-1] == (
        'No fault, but Front: courses 1 to 7 show about 7-5/64", at most 7" allowed: '
        "each lap is about 5/64\" short (see the maker's instructions)"
    )


def test_the_starter_is_said_to_lie_only_on_marks_of_the_tape(capsys: pytest.CaptureFixture[str]) -> None:
    """Limits of -30.613 and -30.5: a starter of -30-5/8, nearest to the lower one, lies outside."""
    job = str(Path(__file__).resolve().parents[2] / "samples" / "old-house.toml")
    main(["plan", job])
    row = next(line for line in capsys.readouterr().out.splitlines() if line.startswith("starter limits"))
    assert row.split("limits")[1].strip() == "-2' 6-9/16\" to -2' 6-1/2\""
    assert main(["plan", job, "--starter", "-30-5/8"]) == 1
    assert "the starter line is outside its limits" in capsys.readouterr().out
    assert main(["plan", job, "--starter", "-30-9/16"]) == 0


def test_check_asks_to_look_again_at_measures_that_no_building_has(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A foot mark left out is no fault; usual widths and sizes stand in plausible.toml."""
    job = tmp_path / "shed.toml"
    job.write_text(
        """
[job]
name = "Shed"
datum = "laser"
[cladding]
profile = "bevel-8"
[trim]
head = "20"
[[elevation]]
name = "Front"
width = "30"
base = "-10"
eave = "96"
[[elevation]]
name = "Rear"
width = "30'"
base = "-10"
eave = "22'"
  [[elevation.opening]]
  mark = "A"
  left = "5'"
  sill = "20"
  width = "36"
  height = "5"
  [[elevation.opening]]
  mark = "B"
  left = "10'"
  sill = "20"
  width = "36"
  height = "48"
""",
        encoding="utf-8",
    )
    assert main(["check", str(job)]) == 0
    out = capsys.readouterr().out
    assert out.partition("No faults, but check these figures:\n")[2].splitlines() == [
        'elevation "Front", width: found 2\' 6"; 3\' 0" to 200\' 0" is usual',
        'elevation "Rear", opening "A", height: found 5"; 6" to 20\' 0" is usual',
        'elevation "Rear", opening "A", trim, head: found 1\' 8"; 0" to 1\' 2" is usual',
    ]


@pytest.mark.parametrize("sample", SAMPLES, ids=label)
def test_no_sample_has_a_measure_to_look_at_again(sample: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(sample)]) == 0
    assert "look again" not in capsys.readouterr().out


@pytest.mark.parametrize("command", [["plan"], ["plan", "--json", "-"], ["takeoff"], ["sheets", "-o", "-"]])
def test_unlikely_figures_are_counted_beside_the_answer(
    command: list[str], tmp_path: Path, capfdbinary: pytest.CaptureFixture[bytes]
) -> None:
    """A wall of 2 ft 6 in is asked back by ``check``; one of 10 ft is not."""
    name, *options = command
    narrow = SMALL.replace('width = "10\'"', 'width = "2\' 6"').partition("  [[elevation.opening]]")[0]
    for text, told in ((narrow, "1 unlikely figure: evencourse check {}\n"), (SMALL, "")):
        job = written(tmp_path, text)
        main([name, job, *options])
        found = capfdbinary.readouterr()
        assert found.err.decode() == told.format(job)
        assert b"unlikely figure" not in found.out
