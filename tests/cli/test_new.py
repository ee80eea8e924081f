"""The questions of a new job: answered as a crew lead would, and with every slip that can be made."""

from __future__ import annotations

import contextlib
import os
import pty
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from evencourse.cli.commands.new import _written
from evencourse.cli.files.output import UnwrittenError
from evencourse.cli.main import main
from evencourse.cli.questions.interview import NO, YES, Interview, yes_or_no
from evencourse.cli.questions.job_questions import JobQuestions
from evencourse.layout.jobfile.job_draft import draft_text
from evencourse.layout.jobfile.job_file import parse_job, read_job
from evencourse.layout.language.speech import speaking
from evencourse.layout.model.errors import JobError
from evencourse.layout.model.job import Job, Trim, Zone
from evencourse.layout.model.roof import Roof
from tests.again import CHECKOUT
from tests.tools import missing, tool

#: What is answered to the question that begins so; anything else gets Enter.
Answers = Sequence[tuple[str, str]]
HOUSE: Answers = (
    ("Name of the job", "Heron Lane, house 3"),
    ("Datum", "laser line, 40 in above the foundation"),
    ("Siding", "double-4"),
    ("Width of trim over", "3-1/2"),
    ("Name of the face", "Street"),
    ("Width, corner", "38'"),
    ("Base of the wall, height at the left", "-40"),
    ("Eave, height at the left", "14' 11\""),
    ("A gable", "yes"),
    ("Its pitch", "8/12"),
    ("Ground, height at the left", "-50"),
    ("Ground, height at the right", "-52"),
    ("Opening", "A"),
    ("A: left corner", "3' 4"),
    ("A: height of its bottom", "-15"),
    ("A: width", "36"),
    ("A: height of the hole", "58-1/2"),
    ("A: flush head", "must"),
    ("Opening", "B"),
    ("B: window", "door"),
    ("B: left corner", "19'"),
    ("B: width", "38"),
    ("B: height", "82"),
    ("Opening", ""),
    ("Entrance", "20' 7"),
    ("On the wall", "S1"),
    ("S1: left corner", "34' 6"),
    ("S1: height of its bottom", "-30"),
    ("S1: width", "4"),
    ("S1: height", "6"),
    ("S1: on a mounting block", "no"),
    ("On the wall", ""),
    ("Another face", "yes"),
    ("Name of the face", ""),
    ("Width, corner", "30'"),
    ("Base of the wall, height at the left", "-40"),
    ("Base of the wall, height at the right", "-38"),
    ("Eave, height at the left", "14' 11"),
    ("Another face", "no"),
)

#: The program with Ctrl-C heard, whoever started the tests with it ignored.
LISTENING = (
    "import signal; signal.signal(signal.SIGINT, signal.default_int_handler); "
    "from evencourse.cli.main import run; run()"
)


class Crew:
    """Answers question after question; a question that nothing is said to gets Enter."""

    def __init__(self, answers: Answers) -> None:
        self.left = list(answers)
        self.asked: list[str] = []

    def __call__(self, prompt: str) -> str:
        self.asked.append(prompt)
        if self.left and prompt.startswith(self.left[0][0]):
            return self.left.pop(0)[1]
        if not prompt.rstrip(": ").endswith("]"):
            raise EOFError
        return ""


def asked(answers: Answers) -> tuple[Job, Crew]:
    crew = Crew(answers)
    draft = Interview(crew).run(JobQuestions())
    assert crew.left == [], crew.left[:2]
    return parse_job(draft_text(draft)), crew


def changed(at: str, *new: tuple[str, str]) -> Answers:
    """The house with other answers in place of one."""
    index = next(index for index, (question, _) in enumerate(HOUSE) if question == at)
    return (*HOUSE[:index], *new, *HOUSE[index + 1 :])


def test_a_house_measured_in_one_walk_round() -> None:
    job, crew = asked(HOUSE)
    street, right = job.elevations
    assert (job.name, job.units, job.round) == ("Heron Lane, house 3", "in", 1 / 16)
    # by hand: 38' = 456 in; eave 14' 11" = 179; 8 in 12 over 19' rises 152; the peak at 331
    assert street.outline == ((0, -40), (456, -40), (456, 179), (228, 331), (0, 179))
    assert street.grade == ((0, -50), (456, -52))
    assert street.entrance == 247
    window, door = street.openings
    assert (window.left, window.bottom, window.height, window.head_edge) == (40, -15, 58.5, "must")
    assert window.trim == Trim(3.5, 0, 0)
    assert (door.kind, door.bottom, door.on_base) == ("door", -40, True)
    assert [(one.mark, one.block) for one in street.fixtures] == [("S1", False)]
    assert (right.name, right.outline[:2]) == ("Right side", ((0, -40), (360, -38)))
    assert len(crew.asked) < 77


def test_a_porch_roof_and_a_ledger_are_asked_for_after_the_openings() -> None:
    """A roof that slopes from 7' 2 to 8' 10 between 2' 6 and 10', a level ledger across 8 ft; by hand."""
    roofs = (
        ("Roof, deck or ledger", "P1"),
        ("P1: left corner of the wall to its left end", "2' 6"),
        ("P1: height of its top at its left end", "7' 2"),
        ("P1: left corner of the wall to its right end", "10'"),
        ("P1: height of its top at its right end", "8' 10"),
        ("P1: its depth", "9"),
        ("Roof, deck or ledger", "L"),
        ("L: roof, deck or ledger", "ledger"),
        ("L: left corner of the wall to its left end", "26'"),
        ("L: height of its top at its left end", "-9"),
        ("L: left corner of the wall to its right end", "34'"),
        ("L: height of its top at its right end", ""),
        ("L: its depth", "9-1/4"),
        ("Roof, deck or ledger", ""),
    )
    job, crew = asked(changed("On the wall", *roofs, ("On the wall", "S1")))
    assert job.elevations[0].roofs == (
        Roof("P1", "roof", ((30, 86), (120, 106)), 9),
        Roof("L", "ledger", ((312, -9), (408, -9)), 9.25),
    )
    order = [
        next(i for i, one in enumerate(crew.asked) if one.startswith(first)) for first in ("Opening", "Roof")
    ]
    assert order == sorted(order)


def stepped(*ground: tuple[str, str]) -> Answers:
    corners = ("0, -40", "20', -40", "20', -80", "38', -80", "38', 14' 11", "0, 14' 11", "")
    return (
        *HOUSE[:5],
        ("Steps in its base", "yes"),
        *((f"Corner {number}", corner) for number, corner in enumerate(corners, 1)),
        *ground,
        ("Another face", "yes"),
        ("Width, corner", "30'"),
        ("Base of the wall, height at the left", "-40"),
        ("Base of the wall, height at the left [-40]", "-80"),
        ("Base of the wall, height at the right", ""),
        ("Eave, height at the left", "14' 11"),
        ("Another face", "no"),
    )


def test_along_a_base_that_steps_the_ground_is_asked_for_in_points(
    capsys: pytest.CaptureFixture[str],
) -> None:
    """And a base that begins 40 in over the end of the face before is asked back."""
    points = ("0, -50", "20', -52", "20', -90", "38', -92", "")
    ground = (("Ground, point", point) for point in points)
    job, _ = asked(stepped(("Ground in points", ""), *ground))
    assert job.elevations[0].grade == ((0, -50), (240, -52), (240, -90), (456, -92))
    assert "that is 3' 4\" above the base of Street at their corner" in capsys.readouterr().out
    job, _ = asked(stepped(("Ground in points", "no"), ("Ground, height at the left", "-90")))
    assert job.elevations[0].grade == ((0, -90), (456, -90))


def test_the_next_face_begins_in_an_inside_corner_where_the_one_before_ends_in_one() -> None:
    job, _ = asked(changed("Opening", ("Right end", "inside corner"), ("Opening", "A")))
    assert [(face.left, face.right) for face in job.elevations] == [
        ("outside corner", "inside corner"),
        ("inside corner", "outside corner"),
    ]


def test_the_questions_come_in_the_order_in_which_one_walks_round() -> None:
    _, crew = asked(HOUSE)
    firsts = (
        "Name of the job",
        "Datum",
        "Siding",
        "Name of the face",
        "Width, corner",
        "Base",
        "Eave",
        "A gable",
        "Ground",
    )
    order = [next(i for i, one in enumerate(crew.asked) if one.startswith(first)) for first in firsts]
    assert order == sorted(order)


def test_the_file_says_what_each_key_means() -> None:
    text = draft_text(Interview(Crew(HOUSE)).run(JobQuestions()))
    keys = [line for line in text.splitlines() if " = " in line and not line.startswith("#")]
    assert sum("#" in line for line in keys) >= 20
    assert text.count("# width of the wall") == 1
    assert "# tolerance = 0.125" in text


@pytest.mark.parametrize(
    ("question", "wrong", "told"),
    [
        ("Width, corner", "14-3", "14' 3\" for feet and inches"),
        ("Width, corner", "-3", "a length above zero"),
        ("Width, corner", "", "an answer is needed"),
        ("Siding", "duble-4", "double-4"),
        ("Its pitch", "8/0", "something below the line"),
        ("Its pitch", "35°", "a pitch as 6/12, or a length such as"),
        ("A: flush head", "perhaps", "must, want or ignore"),
        ("Another face", "maybe", "yes or no"),
        ("Name of the job", "a\x07b", "without control characters"),
        ("Name of the job", "x" * 201, "at most 200"),
        ("Ground, height at the left", "low", "a length such as"),
    ],
)
def test_a_wrong_answer_is_asked_again_with_what_would_be_understood(
    question: str, wrong: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    right = next(answer for one, answer in HOUSE if one == question)
    job, _ = asked(changed(question, (question, wrong), (question, right)))
    assert told in capsys.readouterr().out
    assert job == asked(HOUSE)[0]


def test_back_goes_back_and_enter_takes_what_was_said_before() -> None:
    mended = changed(
        "Eave, height at the left",
        ("Eave, height at the left", "back"),
        ("Base of the wall, height at the right", "BACK"),
        ("Base of the wall, height at the left [-40]", ""),
        ("Eave, height at the left", "14' 11\""),
    )
    assert asked(mended)[0] == asked(HOUSE)[0]


def test_back_on_the_first_question_stays_there(capsys: pytest.CaptureFixture[str]) -> None:
    assert asked((("Name of the job", "back"), *HOUSE))[0].name == "Heron Lane, house 3"
    assert "first question" in capsys.readouterr().out


def test_a_face_may_be_called_back() -> None:
    assert asked(changed("Name of the face", ("Name of the face", "Back")))[0].elevations[0].name == "Back"


def test_going_back_past_a_whole_opening_takes_it_away() -> None:
    taken = (
        *HOUSE[: [one for one, _ in HOUSE].index("B: left corner") + 1],
        ("B: height of its bottom", "back"),
        ("B: left corner", "back"),
        ("B: shape", "back"),
        ("B: window, door, garage door, vent or other [door]", "back"),
        ("Opening: its mark, as A; none when there are no more [B]", "none"),
        *HOUSE[[one for one, _ in HOUSE].index("On the wall") :],
    )
    assert [one.mark for one in asked(taken)[0].elevations[0].openings] == ["A"]


def test_an_opening_outside_its_wall_is_told_and_asked_again(capsys: pytest.CaptureFixture[str]) -> None:
    outside = changed(
        "A: flush head",
        ("A: flush head", "must"),
        ("A: flush sill", ""),
        ("Opening: its mark, as A; none when there are no more [A]", ""),
        ("A: left corner of the wall to its left side [40']", "3' 4"),
    )
    at = [one for one, _ in outside].index("A: left corner")
    job, _ = asked((*outside[:at], ("A: left corner", "40'"), *outside[at + 1 :]))
    out = capsys.readouterr().out
    assert 'opening "A": found 40\' 0" to 43\' 0" across' in out
    assert "inside its wall" in out
    assert job == asked(HOUSE)[0]


def test_an_eave_below_the_base_is_told_and_the_face_asked_again(capsys: pytest.CaptureFixture[str]) -> None:
    wrong = changed("Eave, height at the left", ("Eave, height at the left", "-41"), ("A gable", "no"))
    at = [one for one, _ in wrong].index("A gable") + 1
    again = (*wrong[:at], ("Ground, height at the left", ""), ("Eave, height at the left [-41]", "14' 11\""))
    again += (("Eave, height at the right [-41]", "14' 11\""), *wrong[at:])
    job, _ = asked(again)
    assert "an eave above the base" in capsys.readouterr().out
    assert job.elevations[0].outline == asked(HOUSE)[0].elevations[0].outline


def test_a_stepped_wall_is_told_corner_by_corner() -> None:
    corners = ["0, -30", "17' 6, -30", "17' 6, -8", "31', -8", "31', 9' 0-3/4", "0, 9' 2"]
    job, _ = asked(
        (
            ("Name of the job", "Toll house"),
            ("Siding", "bevel-8"),
            ("Steps", "yes"),
            ("Corner 1", "0 -30"),
            *((f"Corner {index + 1}", corner) for index, corner in enumerate(corners)),
            ("Another face", "no"),
        )
    )
    outline = job.elevations[0].outline
    assert outline == ((0, -30), (210, -30), (210, -8), (372, -8), (372, 108.75), (0, 110))


def test_sidings_one_above_another_and_another_on_the_next_face() -> None:
    def wall(*rest: tuple[str, str]) -> Answers:
        usual = (
            ("Width, corner", "20'"),
            ("Base of the wall, height at the left", "0"),
            ("Eave, height at the left", "16'"),
        )
        return (*usual, *rest)

    job, _ = asked(
        (
            ("Name of the job", "x"),
            ("Siding", "double-4"),
            *wall(("Siding on this face", "")),
            ("Another face", "yes"),
            *wall(("Another siding above", "yes"), ("Height where", "9'"), ("Band board", "5-1/2")),
            ("Siding above", "shingle-18"),
            ("Another face", "yes"),
            *wall(("Siding on this face", "shingle-18")),
            ("Another face", "no"),
        )
    )
    front, right, rear = job.elevations
    assert list(job.claddings) == ["double-4", "shingle-18"]
    assert front.zones == (Zone("double-4"),)
    assert right.zones == (Zone("double-4", 108, 5.5), Zone("shingle-18"))
    assert rear.zones == (Zone("shingle-18"),)


def test_a_metric_job() -> None:
    job, _ = asked(
        (
            ("Name of the job", "x"),
            ("Tape", "mm"),
            ("Finest mark on the tape [1]", "3"),
            ("Finest mark", "5"),
            ("Temperature", "13"),
            ("Siding", "double-4"),
            ("Width, corner", "6 m"),
            ("Base of the wall, height at the left", "-50"),
            ("Eave, height at the left", "2400"),
            ("Another face", "no"),
        )
    )
    assert (job.units, job.round, job.elevations[0].outline[2]) == ("mm", 5, (6000, 2400))


def lines(answers: Answers) -> bytes:
    """What is typed, line by line, for a house whose every question is answered."""
    crew = Crew(answers)
    typed: list[str] = []

    def heard(prompt: str) -> str:
        typed.append(crew(prompt))
        return typed[-1]

    Interview(heard).run(JobQuestions())
    return ("\n".join(typed) + "\n").encode()


def run(*words: str, typed: bytes, folder: Path) -> subprocess.CompletedProcess[bytes]:
    program = "from evencourse.cli.main import run; run()"
    env = {**os.environ, "PYTHONPATH": CHECKOUT}
    return subprocess.run(
        [sys.executable, "-c", program, "new", *words],
        input=typed,
        capture_output=True,
        cwd=folder,
        env=env,
        check=False,
    )


def test_the_command_writes_a_file_that_passes_check(tmp_path: Path) -> None:
    ended = run(typed=lines(HOUSE), folder=tmp_path)
    assert ended.returncode == 0, ended.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["Heron-Lane-house-3.toml"]
    assert b"Heron-Lane-house-3.toml" in ended.stdout
    assert main(["check", str(tmp_path / "Heron-Lane-house-3.toml")]) == 0
    assert read_job(tmp_path / "Heron-Lane-house-3.toml") == asked(HOUSE)[0]


@pytest.mark.long
def test_a_second_job_of_one_name_has_a_file_of_its_own(tmp_path: Path) -> None:
    for _ in range(2):
        assert run(typed=lines(HOUSE), folder=tmp_path).returncode == 0
    assert {path.name for path in tmp_path.iterdir()} == {
        "Heron-Lane-house-3.toml",
        "Heron-Lane-house-3-2.toml",
    }


@pytest.mark.long
@pytest.mark.parametrize(("answer", "kept"), [(b"no\n", True), (b"\n", True), (b"", True), (b"yes\n", False)])
def test_a_file_is_written_over_only_when_told(answer: bytes, kept: bool, tmp_path: Path) -> None:
    (tmp_path / "job.toml").write_text("mine")
    ended = run("-o", "job.toml", typed=answer + (b"" if kept else lines(HOUSE)), folder=tmp_path)
    assert ended.returncode == (2 if kept else 0)
    assert ((tmp_path / "job.toml").read_text() == "mine") == kept
    assert len(list(tmp_path.iterdir())) == 1


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("gone/job.toml", 'found "gone/job.toml" in a folder that is not there'),
        ("lots", 'found "lots", which is a folder'),
        ("job.pdf", "wanted a name that ends in .toml"),
        ("-", "standard output is where the questions stand"),
    ],
)
def test_a_place_that_cannot_be_is_told_before_anything_is_asked(
    name: str, told: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("lots").mkdir()
    assert main(["new", "-o", name]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert told in err


def test_answers_whose_place_is_gone_meanwhile_lie_here(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("job.toml").write_text("mine")
    assert _written(tmp_path / "gone" / "job.toml", "answers\n") == Path("job-2.toml")
    assert Path("job-2.toml").read_text() == "answers\n"
    assert Path("job.toml").read_text() == "mine"
    assert "no such file or folder" in capsys.readouterr().err


def test_answers_that_can_be_written_nowhere_stand_on_the_terminal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def full(path: Path, data: bytes) -> Path:
        raise UnwrittenError(f"cannot write {path}: the disk is full")

    monkeypatch.setattr("evencourse.cli.commands.new.write_file", full)
    assert _written(tmp_path / "job.toml", '[job]\nname = "Müller"\n') is None
    out, err = capsys.readouterr()
    assert out == '[job]\nname = "Müller"\n'
    assert err.count("the disk is full") == 3


def test_answers_that_end_early_are_kept_in_a_file_that_check_completes(tmp_path: Path) -> None:
    typed = b"\n".join(lines(HOUSE).split(b"\n")[:15]) + b"\n"
    ended = run("-o", "job.toml", typed=typed, folder=tmp_path)
    assert ended.returncode == 2
    assert [path.name for path in tmp_path.iterdir()] == ["job-unfinished.toml"]
    assert b"job-unfinished.toml" in ended.stdout
    text = (tmp_path / "job-unfinished.toml").read_text("utf-8")
    assert "NOT FINISHED" in text
    assert 'name = "Heron Lane, house 3"' in text
    assert main(["check", str(tmp_path / "job-unfinished.toml")]) == 2


@pytest.mark.long
def test_nothing_answered_nothing_written(tmp_path: Path) -> None:
    ended = run(typed=b"", folder=tmp_path)
    assert (ended.returncode, list(tmp_path.iterdir())) == (2, [])
    assert b"nothing was answered" in ended.stdout


@pytest.mark.long
def test_bytes_that_are_no_text_are_no_trace(tmp_path: Path) -> None:
    ended = run(typed=b"\xff\xfe\n" * 3, folder=tmp_path)
    assert ended.returncode == 2
    assert b"Traceback" not in ended.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals there")
@pytest.mark.parametrize(
    ("stop", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, 143), (signal.SIGHUP, 129)]
)
def test_stopped_at_the_terminal_what_was_answered_is_kept(
    stop: signal.Signals, code: int, tmp_path: Path
) -> None:
    try:
        main_end, far_end = pty.openpty()
    except OSError as error:
        missing(f"no terminals here: {error}")
    env = {**os.environ, "PYTHONPATH": CHECKOUT}
    child = subprocess.Popen(
        [sys.executable, "-c", LISTENING, "new"],
        stdin=far_end, stdout=far_end, stderr=far_end, cwd=tmp_path, env=env,
    )  # fmt: skip
    os.close(far_end)
    seen = _until(main_end, lambda text: b"Name of the job" in text)
    os.write(main_end, b"Dock Street\n")
    seen += _until(main_end, lambda text: b"Tape" in text)
    for _ in range(30):  # a signal in the moment before the program waits is seen with the next one
        child.send_signal(stop)
        with contextlib.suppress(subprocess.TimeoutExpired):
            child.wait(timeout=2)
            break
    assert child.returncode == code
    assert [path.name for path in tmp_path.iterdir()] == ["Dock-Street-unfinished.toml"]
    assert 'name = "Dock Street"' in (tmp_path / "Dock-Street-unfinished.toml").read_text("utf-8")
    os.close(main_end)
    assert b"Traceback" not in seen


def _until(terminal: int, enough: Callable[[bytes], bool]) -> bytes:
    seen, end = b"", time.monotonic() + 60
    while not enough(seen) and time.monotonic() < end:
        seen += os.read(terminal, 4096)
    return seen


def test_limits_studs_and_what_a_face_matters() -> None:
    job, _ = asked(
        (
            ("Name of the job", "x"),
            ("Siding", "bevel-8"),
            ("Studs", "24"),
            ("First stud", "1-1/2"),
            ("Width, corner", "20'"),
            ("Base of the wall, height at the left", "0"),
            ("Eave, height at the left", "8'"),
            ("How much", "many"),
            ("How much", "2.5"),
            ("Another face", "no"),
            ("Starter line, the lowest it may lie", "-20'"),
            ("Starter line, the highest it may lie", "-1"),
            ("Starter line, the lowest it may lie [-20']", "-2"),
            ("Starter line, the highest it may lie [-1]", ""),
        )
    )
    assert (job.limits.starter, job.framing.spacing, job.framing.offset) == ((-2, -1), 24, 1.5)
    assert job.elevations[0].weight == 2.5


def test_the_form_has_the_questions_in_the_same_order(tmp_path: Path) -> None:
    form = tmp_path / "form.pdf"
    assert main(["new", "--blank", str(form)]) == 0
    words = subprocess.run(
        [tool("pdftotext"), "-layout", form, "-"], capture_output=True, text=True, check=True
    ).stdout
    order = ["Job", "Finest mark", "Datum", "Temperature", "Siding: profile", "Width of the trim", "Studs"]
    order += ["Face", "Width", "Base", "Ground", "Gable", "Openings", "On the wall"]
    places = [words.index(word) for word in order]
    assert places[:7] == sorted(places[:7])
    assert places[0] < words.index("one face") < words.index("Openings: ") < words.index("On the wall: ")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--units", "mm"], "--blank: found nothing"),
        (["--blank", "x.pdf", "-o", "job.toml"], "--output: found"),
        (["--blank", "x.pdf", "--units", "cm"], '--units: found "cm"; wanted in or mm'),
        (["--blank", "x.pdf", "--paper", "a9"], "--paper"),
    ],
)
def test_what_the_form_cannot_be(
    words: list[str],
    told: str,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["new", *words]) == 2
    assert told in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("question", "odd", "told"),
    [
        # spans: common practice, no source
        ("Width of trim over", "12' 6", '0" to 1\' 2" is usual'),
        ("Eave, height at the left", "8/12", "a tape has no such fraction"),
        ("Eave, height at the left", "-38", 'that is 2" above the base; 2\' 0" to 40\' 0" above it is usual'),
        ("Width, corner", "30", "3' 0\" to 200' 0\" is usual"),
        ("Its pitch", "30/12", "1 to 24 in 12"),
        ("Its pitch", "15'", 'that is 1" above the eave; 6" to 40\' 0" above it is usual'),
        (
            "Ground, height at the left",
            "50",
            'that is 7\' 6" above the base; 0" to 20\' 0" below it is usual',
        ),
        ("A: width", "36'", '6" to 20\' 0" is usual'),
        ("S1: height", "6'", '1" to 4\' 0" is usual'),
    ],
)
def test_a_measure_that_no_building_has_is_asked_back_once(
    question: str, odd: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    right = next(answer for one, answer in HOUSE if one == question)
    job, crew = asked(changed(question, (question, odd), (question, right)))
    assert told in capsys.readouterr().out
    assert job == asked(HOUSE)[0]
    assert any(f"[{odd}]" in prompt for prompt in crew.asked), "Enter would have taken it"


def test_a_measure_that_is_meant_stands_when_it_is_given_again() -> None:
    wide = changed("Width of trim over", ("Width of trim over", "16"), ("Width of trim over them [16]", ""))
    again = changed(
        "Width of trim over", ("Width of trim over", "16"), ("Width of trim over them [16]", "16")
    )
    for answers in (wide, again):
        job, crew = asked(answers)
        assert job.elevations[0].openings[0].trim.head == 16
        assert sum(prompt.startswith("Width of trim over") for prompt in crew.asked) == 2


def test_what_was_meant_is_not_asked_back_after_going_back() -> None:
    back = changed(
        "Width of trim over",
        ("Width of trim over", "16"),
        ("Width of trim over them [16]", ""),
        ("Width of trim below", "back"),
        ("Width of trim over them [16]", ""),
        ("Width of trim below", ""),
    )
    _, crew = asked(back)
    assert sum(prompt.startswith("Width of trim over") for prompt in crew.asked) == 3


def test_a_tape_in_millimetres_is_doubted_in_millimetres(capsys: pytest.CaptureFixture[str]) -> None:
    metric = changed("Datum", ("Tape reads in or mm", "mm"), ("Datum", "laser"))
    at = [one for one, _ in metric].index("Width of trim over")
    with contextlib.suppress(EOFError):
        asked((*metric[:at], ("Width of trim over", "890"), ("Width of trim over", "89")))
    # 14 in are 355.6 mm, by hand
    assert "0 to 356 is usual" in capsys.readouterr().out


def test_a_stock_length_of_ones_own_stands_in_the_file(capsys: pytest.CaptureFixture[str]) -> None:
    longer = changed("Siding", ("Siding", "double-4"), ("Stock length of double-4 [12' 6\"]", "16' 8"))
    assert asked(longer)[0].claddings["main"].length == 200
    told = draft_text(Interview(Crew(longer)).run(JobQuestions()))
    assert 'length = "16\' 8"' in told
    assert "length" not in draft_text(Interview(Crew(HOUSE)).run(JobQuestions()))
    slip = changed("Siding", ("Siding", "double-4"), ("Stock length", "16"), ("Stock length", "16'"))
    assert asked(slip)[0].claddings["main"].length == 192
    assert "4' 0\" to 25' 0\" is usual" in capsys.readouterr().out


def test_the_usual_stock_length_is_not_rounded_on_a_metric_tape() -> None:
    """By hand: 12 ft are 3657.6 mm, offered as 3658."""
    wall = ("Width, corner", "6000"), ("Base of the wall", "0"), ("Eave, height at the left", "2400")
    board = (("Name", "x"), ("Tape", "mm"), ("Siding", "fiber-cement-7.25"), ("Stock length", ""), *wall)
    job, crew = asked((*board, ("Another face", "no")))
    assert any(prompt.endswith("[3658]: ") for prompt in crew.asked)
    assert job.claddings["main"].length == pytest.approx(3657.6)


def test_shingles_have_no_stock_length() -> None:
    _, crew = asked(changed("Siding", ("Siding", "shingle-18")))
    assert not any(prompt.startswith("Stock length") for prompt in crew.asked)


def test_a_question_mark_explains_every_question(capsys: pytest.CaptureFixture[str]) -> None:
    """Asked at every question of a walk round a house, ? says something that the question does not."""
    crew, unexplained = Crew(HOUSE), list[str]()

    def read(prompt: str) -> str:
        if prompt != read.last:  # type: ignore[attr-defined]
            read.last = prompt  # type: ignore[attr-defined]
            capsys.readouterr()
            return "?"
        if not capsys.readouterr().out.strip():
            unexplained.append(prompt)
        return crew(prompt)

    read.last = ""  # type: ignore[attr-defined]
    Interview(read).run(JobQuestions())
    assert unexplained == []


def test_back_goes_to_any_question_by_a_word_of_it_or_by_number(capsys: pytest.CaptureFixture[str]) -> None:
    """From the fixture back to the face's width, and three questions back; Enter takes the rest again."""
    job, _ = asked(
        changed(
            "S1: left corner",
            ("S1: left corner", "back Width, corner"),
            ("Width, corner", "40'"),
            ("S1: left corner", "back 2"),
            ("On the wall", "S1"),
            ("S1: left corner", "34' 6"),
        )
    )
    assert job.elevations[0].outline[1][0] == 480
    assert [fixture.mark for fixture in job.elevations[0].fixtures] == ["S1"]
    asked(changed("Siding", ("Siding", "back porch"), ("Siding", "double-4")))
    assert 'no question before this one has "porch" in it' in capsys.readouterr().out


@pytest.mark.long
def test_a_stopped_run_is_taken_up_where_it_stopped(tmp_path: Path) -> None:
    typed = lines(HOUSE).split(b"\n")
    stopped = run("-o", "job.toml", typed=b"\n".join(typed[:30]) + b"\n", folder=tmp_path)
    assert b"evencourse new --resume job-unfinished.toml" in b" ".join(stopped.stdout.split())
    ended = run(
        "--resume", "job-unfinished.toml", "-o", "job.toml", typed=b"\n".join(typed[30:]), folder=tmp_path
    )
    assert ended.returncode == 0, ended.stderr
    assert b"30 answers of job-unfinished.toml are taken up" in b" ".join(ended.stdout.split())
    assert b"Name of the job" not in ended.stdout
    assert read_job(tmp_path / "job.toml") == asked(HOUSE)[0]
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


@pytest.mark.long
def test_a_stopped_run_is_offered_and_its_file_goes_when_all_is_answered(tmp_path: Path) -> None:
    typed = lines(HOUSE).split(b"\n")
    run("-o", "job.toml", typed=b"\n".join(typed[:30]) + b"\n", folder=tmp_path)
    again = run("-o", "job.toml", typed=b"\n".join([b"", *typed[30:33]]) + b"\n", folder=tmp_path)
    assert (
        b"job-unfinished.toml holds 30 answers of a run that was stopped. Go on with it [yes]" in again.stdout
    )
    assert [path.name for path in tmp_path.iterdir()] == ["job-unfinished-2.toml"]
    ended = run("-o", "job.toml", typed=b"\n".join([b"yes", *typed[33:]]), folder=tmp_path)
    assert ended.returncode == 0, ended.stderr
    assert b"33 answers of job-unfinished-2.toml are taken up" in b" ".join(ended.stdout.split())
    assert read_job(tmp_path / "job.toml") == asked(HOUSE)[0]
    assert [path.name for path in tmp_path.iterdir()] == ["job.toml"]


@pytest.mark.long
def test_a_stopped_run_that_is_not_wanted_or_was_edited_stays(tmp_path: Path) -> None:
    typed = lines(HOUSE).split(b"\n")
    run("-o", "job.toml", typed=b"\n".join(typed[:30]) + b"\n", folder=tmp_path)
    kept = tmp_path / "job-unfinished.toml"
    kept.write_text(kept.read_text("utf-8").replace("NOT FINISHED", "half of it"), "utf-8")
    ended = run("-o", "job.toml", typed=b"\n".join([b"no", *typed]), folder=tmp_path)
    assert ended.returncode == 0 and kept.exists()
    assert b"are taken up" not in ended.stdout
    (tmp_path / "job.toml").unlink()
    ended = run("-o", "job.toml", typed=b"\n".join([b"", *typed[30:]]), folder=tmp_path)
    assert ended.returncode == 0 and kept.exists()
    assert b"30 answers of job-unfinished.toml are taken up" in b" ".join(ended.stdout.split())


@pytest.mark.parametrize("text", [None, "[job]\n", "# answered: [1\n", "# answered: 3\n", "\x00"])
def test_what_cannot_be_taken_up(text: str | None, tmp_path: Path) -> None:
    if text is not None:
        (tmp_path / "kept.toml").write_text(text)
    ended = run("--resume", "kept.toml", typed=b"", folder=tmp_path)
    assert ended.returncode == 2
    assert b"--resume: found" in ended.stderr and b"Traceback" not in ended.stderr


FACE = ("Side", "", "30'", "-40", "", "14' 11", *[""] * 12)


@pytest.mark.long
def test_a_face_is_added_to_a_job_that_is_there(tmp_path: Path) -> None:
    """The file stays as it is, the face stands at its end; a name that is taken is told at once."""
    text = draft_text(Interview(Crew(HOUSE)).run(JobQuestions()))
    (tmp_path / "job.toml").write_text(text, "utf-8")
    typed = "\n".join(("Street", *FACE)).encode() + b"\n"
    ended = run("--add", "job.toml", typed=typed, folder=tmp_path)
    assert ended.returncode == 0, ended.stdout + ended.stderr
    said = b" ".join(ended.stdout.split())
    assert b'found a second "Street"; wanted a name of its own' in said
    assert b"Added to job.toml: Side. Look it over, then: evencourse check job.toml" in said
    assert (tmp_path / "job.toml").read_text("utf-8").startswith(text.rstrip())
    faces = read_job(tmp_path / "job.toml").elevations
    assert [face.name for face in faces] == ["Street", "Right side", "Side"]
    assert faces[2].outline[1] == (360, -40)


@pytest.mark.long
def test_a_stopped_addition_leaves_the_job_as_it_is(tmp_path: Path) -> None:
    text = draft_text(Interview(Crew(HOUSE)).run(JobQuestions()))
    (tmp_path / "job.toml").write_text(text, "utf-8")
    ended = run("--add", "job.toml", typed=b"Side\n", folder=tmp_path)
    assert (ended.returncode, (tmp_path / "job.toml").read_text("utf-8")) == (2, text)
    assert b"job.toml is left as it is" in ended.stdout


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--add", "job.toml", "-o", "x.toml"), b"--add: found --output or --resume beside it"),
        (("--add", "none.toml"), b"cannot read none.toml"),
        (("--add", "array.toml"), b"--add: found its faces are one array"),
    ],
)
def test_what_cannot_be_added(words: tuple[str, ...], told: bytes, tmp_path: Path) -> None:
    (tmp_path / "array.toml").write_text(
        '[job]\nname = "A"\n[cladding]\nprofile = "double-4"\n'.replace("[job]", ARRAY, 1), "utf-8"
    )
    ended = run(*words, typed=b"", folder=tmp_path)
    assert ended.returncode == 2
    assert told in ended.stderr and b"Traceback" not in ended.stderr


ARRAY = 'elevation = [{ name = "F", width = 240, eave = 96, base = 0 }]\n[job]'


@pytest.mark.parametrize(
    ("language", "answer", "meant"),
    [
        ("en", "y", YES),
        ("es", "si", YES),
        ("es", "Sí", YES),
        ("es", "n", NO),
        ("fr-CA", "oui", YES),
        ("de", "nein", NO),
        ("sv", "ja", YES),
        ("sv", "no", NO),
    ],
)
def test_yes_is_taken_in_the_crews_language(language: str, answer: str, meant: str) -> None:
    with speaking(language):
        assert yes_or_no(answer) == meant


def test_no_yes_of_another_language_is_taken() -> None:
    with speaking("de"), pytest.raises(JobError) as told:
        yes_or_no("oui")
    assert "ja" in str(told.value)
