"""The desk as a process of its own, killed while it saves and on a disk without room."""

from __future__ import annotations

import resource
import shutil
from pathlib import Path

import psutil
import pytest

from tests.cli.desk.running import desk
from tests.faults import desk_kills
from tests.faults.desk_kills import JOB, SAMPLE, come_in

pytestmark = pytest.mark.long


def test_desks_that_are_killed_lose_nothing_that_was_saved(capsys: pytest.CaptureFixture[str]) -> None:
    desk_kills.main(2)
    assert "2 desks killed" in capsys.readouterr().out


def test_a_desk_without_room_on_its_disk_says_so_and_saves_when_there_is_room(tmp_path: Path) -> None:
    """The system lets no file of the desk grow past some bytes, then lets it again."""
    job = Path(shutil.copy(SAMPLE, tmp_path))
    before = job.read_bytes()
    with desk(tmp_path) as running, come_in(running) as client:
        process = psutil.Process(running.process.pid)
        base, number = f"{running.base}/job/{JOB}", int(client.headers["x-number"])
        change = {"kind": "set", "path": ["elevation", 0, "width"], "value": "444"}
        figure = {"base": number, "changes": [change], "face": 0, "room": "800x500"}
        tick = {
            "id": "phone-00000001", "face": "Front", "course_set": "main", "course": 1, "up": True,
            "device": "phone", "counter": 1, "who": "Bo", "height": None,
        }  # fmt: skip
        most = process.rlimit(resource.RLIMIT_FSIZE)
        process.rlimit(resource.RLIMIT_FSIZE, (500, most[1]))
        for address, content in (("edit", figure), ("ticks", {"ticks": [tick]}), ("edit", figure)):
            answer = client.post(f"{base}/{address}", json=content)
            assert answer.status_code == 507 and answer.json()["error"], (address, answer.text)
            assert job.read_bytes() == before
        assert client.get(f"{base}/face").json()["svg"], "it can be looked at all the same"
        assert client.get(f"{base}/ticks").json()["up"] == []
        process.rlimit(resource.RLIMIT_FSIZE, most)
        assert client.post(f"{base}/edit", json=figure).status_code == 200
        assert b'width = "444"' in job.read_bytes()
        assert len(client.post(f"{base}/ticks", json={"ticks": [tick]}).json()["up"]) == 1
    assert sorted(path.suffix for path in tmp_path.iterdir()) == [".sqlite3", ".toml"]
