"""Full disks, missing rights, killed runs, two runs at once: nothing half-written, nothing lost."""

from __future__ import annotations

import errno
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from evencourse.cli.files.output import PART_PREFIX, Output, write_folder
from evencourse.layout.model.errors import OutputError
from tests.again import CHECKOUT
from tests.cli.jobs import SMALL
from tests.faults.commands import COMMANDS, run_apart, run_here, start, tree, well_behaved, words
from tests.faults.system import CAUGHT, ERRORS, GUARD, failing, has_fork, killed, watched

pytestmark = pytest.mark.skipif(not has_fork(), reason="needs fork and /proc")
#: A job whose drawings differ from SMALL's, under the same names.
OTHER = SMALL.replace('left = "60"', 'left = "72"')
DRAW = ("draw", "JOB", "-o", "OUT", "--only", "svg,dxf")


class Site:
    """A folder with two job files, and what each of them draws."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.out = folder / "out"
        self.jobs = (folder / "flush.toml", folder / "other.toml")
        self.drawn: list[dict[str, int]] = []
        self.files: list[list[Output]] = []
        for job, text in zip(self.jobs, (SMALL, OTHER), strict=True):
            job.write_text(text)
            assert run_here(self.line(job)).code == 0
            self.drawn.append(tree(self.out))
            self.files.append([Output(path.name, path.read_bytes()) for path in sorted(self.out.iterdir())])
            shutil.rmtree(self.out)

    def line(self, job: Path, out: Path | None = None) -> list[str]:
        return [word.replace("JOB", str(job)).replace("OUT", str(out or self.out)) for word in DRAW]

    def lie_ready(self, which: int) -> None:
        """The output folder as one of the jobs leaves it."""
        shutil.rmtree(self.out, ignore_errors=True)
        write_folder(self.out, self.files[which])

    def write(self) -> None:
        """Put the other job's drawings in place."""
        write_folder(self.out, self.files[1])

    def left(self) -> dict[str, int]:
        """What lies in the output folder, temporary files aside."""
        return {key: value for key, value in tree(self.out).items() if not key.startswith(PART_PREFIX)}

    def whole(self) -> bool:
        """Whether each file is one of the two drawings of that name."""
        return set(self.left().items()) <= set(self.drawn[0].items()) | set(self.drawn[1].items())


@pytest.fixture
def site(tmp_path: Path) -> Site:
    found = Site(tmp_path)
    assert found.drawn[0].keys() == found.drawn[1].keys()
    assert found.drawn[0] != found.drawn[1]
    return found


def calls(site: Site) -> int:
    """How many calls touch the output when one drawing replaces another."""
    site.lie_ready(0)
    numbers: list[int] = []
    with watched(site.out, lambda number, name: numbers.append(number)):
        site.write()
    return len(numbers)


@pytest.mark.long
@pytest.mark.parametrize("lasting", [False, True])
@pytest.mark.parametrize("number", ERRORS, ids=lambda number: errno.errorcode[number])
def test_the_system_fails_at_every_single_call(site: Site, number: int, lasting: bool) -> None:
    """All files are the old ones, and no others, or the run went through and all are the new ones."""
    total = calls(site)
    assert total > 10
    site.lie_ready(0)
    refused = 0
    for call in range(1, total + 1):
        try:
            with failing(site.out, call, number, lasting):
                site.write()
        except OutputError as error:
            refused += 1
            assert str(error).endswith("; nothing written")
            assert site.left() == site.drawn[0], call
        else:
            assert site.left() == site.drawn[1], call
            site.lie_ready(0)
    assert refused > total / 2


@pytest.mark.long
def test_killed_at_every_single_call_and_run_again(site: Site) -> None:
    for call in range(1, calls(site) + 1):
        site.lie_ready(0)
        assert killed(site.out, call, site.write)
        assert site.whole(), call
        assert site.left().keys() >= site.drawn[0].keys(), call
        site.write()
        assert tree(site.out) == site.drawn[1], call


@pytest.mark.long
def test_two_runs_into_one_folder_leave_whole_files(site: Site) -> None:
    children = [start(site.line(site.jobs[number % 2]), site.folder) for number in range(3)]
    for child in children:
        _, err = child.communicate(timeout=120)
        assert child.returncode == 0, err
    assert site.whole()
    assert tree(site.out).keys() == site.drawn[0].keys()


@pytest.mark.long
def test_a_disk_that_is_really_full(site: Site) -> None:
    """A file system of 48 kB in memory: the drawings have no room on it."""
    disk = site.folder / "disk"
    disk.mkdir()
    mount = ["mount", "-t", "tmpfs", "-o", "size=48k", "tmpfs", str(disk)]
    if shutil.which("mount") is None or subprocess.run(mount, capture_output=True, check=False).returncode:
        pytest.skip("no right to mount a file system here")
    try:
        (disk / "mine.txt").write_text("mine")
        for words_ in (
            site.line(site.jobs[0], disk / "out"),
            ["page", str(site.jobs[0]), "-o", str(disk / "a.html")],
        ):
            ended = run_here(words_)
            assert ended.code == 2
            assert "the disk is full; nothing written" in ended.err
            assert tree(disk).keys() == {"mine.txt"}
        assert not (disk / "out").exists()
    finally:
        subprocess.run(["umount", str(disk)], check=True)


@pytest.mark.long
def test_a_file_that_may_not_grow(site: Site) -> None:
    before = "import resource; resource.setrlimit(resource.RLIMIT_FSIZE, (2000, 2000))"
    ended = run_apart(site.line(site.jobs[0]), site.folder, before)
    assert ended.code == 2
    assert "nothing written" in ended.err
    assert well_behaved(ended)
    assert not site.out.exists()


@pytest.mark.long
def test_no_permission_is_one_sentence(site: Site) -> None:
    site.lie_ready(0)
    site.out.chmod(0o555)
    line = [sys.executable, "-c", "from evencourse.cli.main import run; run()", *site.line(site.jobs[1])]
    if os.geteuid() == 0:
        if shutil.which("setpriv") is None:
            pytest.skip("root may write everywhere, and setpriv is not here to take that away")
        line = ["setpriv", "--bounding-set=-dac_override,-dac_read_search", *line]
    env = {**os.environ, "PYTHONPATH": CHECKOUT}
    ended = subprocess.run(line, capture_output=True, text=True, env=env, check=False, cwd=site.folder)
    site.out.chmod(0o755)
    assert ended.returncode == 2
    assert ended.stderr.endswith("no permission; nothing written\n")
    assert len(ended.stderr.splitlines()) == 1
    assert tree(site.out) == site.drawn[0]


@pytest.mark.parametrize("kind", COMMANDS)
def test_no_network_no_other_program_and_no_file_elsewhere(kind: str, tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()
    job = tmp_path / "job.toml"
    job.write_text(SMALL)
    home = tmp_path / "home"
    home.mkdir()
    env = {"EVENCOURSE_TEST_FOLDER": str(tmp_path / "out"), "HOME": str(home)}
    before = f"import os; os.environ.update({env!r})\n{GUARD}"
    ended = run_apart(words(kind, job, tmp_path / "out"), tmp_path, before)
    assert CAUGHT not in ended.err, ended.err
    assert well_behaved(ended)
    assert {path.partition("/")[0] for path in tree(tmp_path)} <= {"job.toml", "out"}


def test_the_guard_catches(tmp_path: Path) -> None:
    before = f"import os; os.environ['EVENCOURSE_TEST_FOLDER'] = {str(tmp_path)!r}\n{GUARD}"
    for reach in ("import socket; socket.socket()", "open('/tmp/x', 'a')", "import os; os.mkdir('/tmp/y')"):
        assert CAUGHT in run_apart(["check", "x"], tmp_path, f"{before}\n{reach}").err
