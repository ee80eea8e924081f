"""Files are written whole or not at all, whatever happens half-way."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
import textwrap
import threading
from pathlib import Path

import pytest

from evencourse.cli.files import output
from evencourse.cli.files.output import PART_PREFIX, PART_SUFFIX, Output, write_file, write_folder
from evencourse.layout.model.errors import OutputError

FRONT = Output("Front.svg", b"front")
BACK = Output("Back.svg", b"back")


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


def fail_on(monkeypatch: pytest.MonkeyPatch, call: str, number: int, at: int) -> None:
    """Let the ``at``-th call of an ``os`` function fail as the system would."""
    real = getattr(os, call)
    count = iter(range(1, 1000))

    def failing(*args: object, **kwargs: object) -> object:
        if next(count) == at:
            raise OSError(number, os.strerror(number))
        return real(*args, **kwargs)

    monkeypatch.setattr(os, call, failing)


def test_a_new_folder_gets_every_file_and_nothing_else(tmp_path: Path) -> None:
    folder = tmp_path / "job" / "sheets"
    paths = write_folder(folder, [FRONT, BACK])
    assert paths == (folder / "Front.svg", folder / "Back.svg")
    assert [path.read_bytes() for path in paths] == [b"front", b"back"]
    assert names(folder) == ["Back.svg", "Front.svg"]


def test_other_files_in_the_folder_are_left_alone(tmp_path: Path) -> None:
    (tmp_path / "photo.jpg").write_bytes(b"mine")
    (tmp_path / ".part").write_bytes(b"mine too")
    (tmp_path / "evencourse-notes.part").write_bytes(b"and mine")
    write_folder(tmp_path, [FRONT])
    assert names(tmp_path) == [".part", "Front.svg", "evencourse-notes.part", "photo.jpg"]


def test_a_rewritten_file_keeps_its_access_rights(tmp_path: Path) -> None:
    target = tmp_path / "Front.svg"
    target.write_bytes(b"old")
    target.chmod(0o640)
    write_folder(tmp_path, [FRONT])
    assert target.read_bytes() == b"front"
    assert target.stat().st_mode & 0o777 == 0o640


def test_a_new_file_gets_the_rights_of_any_new_file(tmp_path: Path) -> None:
    (tmp_path / "plain").write_bytes(b"")
    write_folder(tmp_path, [FRONT])
    assert (tmp_path / "Front.svg").stat().st_mode == (tmp_path / "plain").stat().st_mode


@pytest.mark.parametrize("call", ["write", "fsync"])
@pytest.mark.parametrize("at", [1, 2])
def test_a_full_disk_leaves_the_old_files(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str, at: int
) -> None:
    (tmp_path / "Front.svg").write_bytes(b"old front")
    with monkeypatch.context() as patched:
        fail_on(patched, call, errno.ENOSPC, at)
        with pytest.raises(OutputError, match="the disk is full; nothing written"):
            write_folder(tmp_path, [FRONT, BACK])
    assert names(tmp_path) == ["Front.svg"]
    assert (tmp_path / "Front.svg").read_bytes() == b"old front"


def test_a_full_disk_leaves_no_new_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    with monkeypatch.context() as patched:
        fail_on(patched, "write", errno.ENOSPC, 1)
        with pytest.raises(OutputError, match="disk is full"):
            write_folder(tmp_path / "job" / "sheets", [FRONT])
    assert names(tmp_path) == []


really_replace = Path.replace


def refuse_back(self: Path, target: Path) -> Path:
    """``Path.replace`` where somebody has Back.svg open."""
    if Path(target).name == "Back.svg" and self.name != "Back.svg":
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES), str(target))
    return really_replace(self, target)


@pytest.mark.parametrize("linking", [True, False])
def test_files_put_in_place_go_back_when_a_later_one_cannot_be(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, linking: bool
) -> None:
    (tmp_path / "Front.svg").write_bytes(b"old front")
    (tmp_path / "Back.svg").write_bytes(b"old back")
    monkeypatch.setattr(Path, "replace", refuse_back)
    if not linking:  # a file system without hard links
        monkeypatch.setattr(os, "link", lambda *_, **__: (_ for _ in ()).throw(OSError(errno.EPERM, "no")))
    with pytest.raises(OutputError, match=r"Back\.svg: no permission; nothing written"):
        write_folder(tmp_path, [FRONT, Output("Side.svg", b"side"), BACK])
    assert names(tmp_path) == ["Back.svg", "Front.svg"]
    assert (tmp_path / "Front.svg").read_bytes() == b"old front"
    assert (tmp_path / "Back.svg").read_bytes() == b"old back"


def test_no_permission_in_the_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fail_on(monkeypatch, "open", errno.EACCES, 1)
    with pytest.raises(OutputError, match="no permission; nothing written") as caught:
        write_folder(tmp_path, [FRONT])
    assert PART_PREFIX not in str(caught.value)
    assert names(tmp_path) == []


def test_a_read_only_place(tmp_path: Path) -> None:
    if not Path("/proc/self").is_dir():
        pytest.skip("needs a file system that nobody can write to")
    with pytest.raises(OutputError, match="cannot write"):
        write_folder(Path("/proc/self/sheets"), [FRONT])


def test_a_file_where_the_folder_should_be(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"a file")
    with pytest.raises(OutputError, match="a file stands where a folder should be"):
        write_folder(tmp_path / "out", [FRONT])
    with pytest.raises(OutputError, match="a file stands where a folder should be"):
        write_folder(tmp_path / "out" / "below", [FRONT])
    assert (tmp_path / "out").read_bytes() == b"a file"


def test_a_folder_where_a_file_should_be(tmp_path: Path) -> None:
    (tmp_path / "Back.svg").mkdir()
    with pytest.raises(OutputError, match="is a folder"):
        write_folder(tmp_path, [FRONT, BACK])
    assert names(tmp_path) == ["Back.svg"]


@pytest.mark.parametrize("name", ["../Front.svg", "/tmp/Front.svg", "a/b.svg", "a\\b.svg", "..", "", "a\0b"])
def test_nothing_is_written_outside_the_folder(tmp_path: Path, name: str) -> None:
    with pytest.raises(OutputError, match="no plain file name"):
        write_folder(tmp_path / "out", [Output(name, b"x")])
    assert names(tmp_path) == []


def test_names_that_differ_only_in_case_are_refused(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="share one name"):
        write_folder(tmp_path, [Output("a.svg", b"1"), Output("A.svg", b"2")])


def test_a_link_in_the_folder_is_replaced_and_not_followed(tmp_path: Path) -> None:
    outside = tmp_path / "outside.txt"
    outside.write_bytes(b"keep")
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / "Front.svg").symlink_to(outside)
    (folder / "Back.svg").symlink_to(tmp_path)
    write_folder(folder, [FRONT, BACK])
    assert outside.read_bytes() == b"keep"
    assert not (folder / "Front.svg").is_symlink()
    assert (folder / "Front.svg").read_bytes() == b"front"
    assert (folder / "Back.svg").read_bytes() == b"back"


def test_a_link_comes_back_when_the_writing_fails(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "Front.svg").symlink_to("nowhere")
    (tmp_path / "Back.svg").write_bytes(b"old back")
    monkeypatch.setattr(Path, "replace", refuse_back)
    with pytest.raises(OutputError):
        write_folder(tmp_path, [FRONT, BACK])
    assert (tmp_path / "Front.svg").readlink() == Path("nowhere")


def test_one_file_follows_the_link_that_the_user_named(tmp_path: Path) -> None:
    target = tmp_path / "plan.json"
    target.write_bytes(b"old")
    link = tmp_path / "latest.json"
    link.symlink_to(target)
    write_file(link, b"new")
    assert link.is_symlink()
    assert target.read_bytes() == b"new"


def test_one_file_makes_no_folder(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="no such file or folder; nothing written"):
        write_file(tmp_path / "mistyped" / "plan.json", b"{}")
    assert names(tmp_path) == []


def test_one_file_into_a_folder(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="is a folder: name a file"):
        write_file(tmp_path, b"{}")


def test_a_pipe_is_written_to_and_stays_a_pipe(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    got: list[bytes] = []
    reader = threading.Thread(target=lambda: got.append(pipe.read_bytes()))
    reader.start()
    write_file(pipe, b"plan")
    reader.join(10)
    assert got == [b"plan"]
    assert pipe.is_fifo()


def test_what_a_killed_run_left_is_cleared_away(tmp_path: Path) -> None:
    """Killed with the second file half-written: the first is not yet in place, the next run tidies up."""
    (tmp_path / "Front.svg").write_bytes(b"old front")
    program = textwrap.dedent(
        """
        import os, signal, sys
        from pathlib import Path
        from evencourse.cli.files.output import Output, write_folder
        real = os.write
        calls = []
        def write(descriptor, data):
            calls.append(1)
            if len(calls) == 2:
                real(descriptor, bytes(data)[:2])
                os.kill(os.getpid(), signal.SIGKILL)
            return real(descriptor, data)
        os.write = write
        write_folder(Path(sys.argv[1]), [Output("Front.svg", b"front"), Output("Back.svg", b"back")])
        """
    )
    ended = subprocess.run([sys.executable, "-c", program, str(tmp_path)], check=False)
    assert ended.returncode == -signal.SIGKILL
    left = names(tmp_path)
    parts = [name for name in left if name.startswith(PART_PREFIX) and name.endswith(PART_SUFFIX)]
    assert len(parts) == 2
    assert [name for name in left if name not in parts] == ["Front.svg"]
    assert (tmp_path / "Front.svg").read_bytes() == b"old front"
    write_folder(tmp_path, [FRONT])
    assert names(tmp_path) == ["Front.svg"]


def test_a_run_that_is_told_to_end_takes_its_temporary_files_away(tmp_path: Path) -> None:
    program = textwrap.dedent(
        """
        import os, signal, sys
        from pathlib import Path
        from evencourse.cli import main
        from evencourse.cli.files import output
        real = os.fsync
        def fsync(descriptor):
            real(descriptor)
            os.kill(os.getpid(), signal.SIGTERM)
        os.fsync = fsync
        main.main = lambda: len(output.write_folder(Path(sys.argv[1]), [output.Output("Front.svg", b"x")]))
        main.run()
        """
    )
    ended = subprocess.run([sys.executable, "-c", program, str(tmp_path)], check=False, capture_output=True)
    assert ended.returncode == 128 + signal.SIGTERM
    assert ended.stderr == b""
    assert names(tmp_path) == []


def test_a_run_that_still_writes_keeps_its_temporary_files(tmp_path: Path) -> None:
    """A second run into the same folder takes none of the first one's files for left behind."""
    parts: list[output._Part] = []
    part = output._open_part(tmp_path, parts)
    try:
        write_folder(tmp_path, [BACK])
        seen = names(tmp_path)
    finally:
        part.remove()
    assert part.path.name in seen
    assert names(tmp_path) == ["Back.svg"]


def test_two_runs_at_once_leave_whole_files(tmp_path: Path) -> None:
    """Ten runs of two writers into one folder, while a reader looks at the file all the time."""
    program = textwrap.dedent(
        """
        import sys
        from pathlib import Path
        from evencourse.cli.files.output import Output, write_folder
        for _ in range(10):
            data = sys.argv[2].encode() * 200_000
            write_folder(Path(sys.argv[1]), [Output("Front.svg", data), Output("Back.svg", data)])
        """
    )
    runs = [subprocess.Popen([sys.executable, "-c", program, str(tmp_path), letter]) for letter in "ab"]
    looked = 0
    whole = {b"a" * 200_000, b"b" * 200_000}
    while any(run.poll() is None for run in runs):
        if (tmp_path / "Front.svg").exists():
            assert (tmp_path / "Front.svg").read_bytes() in whole
            looked += 1
    assert [run.wait() for run in runs] == [0, 0]
    assert looked
    assert names(tmp_path) == ["Back.svg", "Front.svg"]
    assert (tmp_path / "Back.svg").read_bytes() in whole
