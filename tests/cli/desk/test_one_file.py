"""The program as one file, where there is Python and nothing else: no libraries, no home, no network."""

from __future__ import annotations

import platform
import re
import subprocess
import sys
from pathlib import Path

import httpx
import pytest

from evencourse.cli.main import main
from tests.cli.desk.client import SAMPLES
from tests.one_file import build, preamble

JOB = "gabled-house"


def test_another_python_is_told_which_one_is_wanted() -> None:
    """By hand: built here, then told that it was built for another version."""
    here = "{}.{}".format(*sys.version_info)
    subprocess.run([sys.executable, "-c", preamble()], check=True)
    other = preamble().replace(f"'{here}'", "'2.7'")
    done = subprocess.run([sys.executable, "-c", other], check=False, capture_output=True, text=True)
    assert done.returncode == 1
    assert done.stderr.startswith(f"this file runs on Python 2.7 on {platform.system()}")
    assert f"found Python {here}" in done.stderr


@pytest.mark.long
def test_one_file_opens_the_desk_and_makes_the_crew_set(tmp_path: Path) -> None:
    """Oracle: the commands as installed; the same bytes."""
    program, home, jobs = tmp_path / "evencourse.pyz", tmp_path / "home", tmp_path / "jobs"
    build(program)
    home.mkdir()
    jobs.mkdir()
    job = jobs / f"{JOB}.toml"
    job.write_bytes((SAMPLES / f"{JOB}.toml").read_bytes())
    # The Python below any virtual environment, without its own packages and without a proxy to a network.
    python = str(Path(sys.base_prefix) / "bin" / "python3")
    bare = {"HOME": str(home), "BROWSER": "true", "http_proxy": "http://127.0.0.1:9", "PYTHONNOUSERSITE": "1"}
    words = [python, "-S", str(program)]
    with subprocess.Popen(
        words, cwd=jobs, env=bare, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    ) as process:
        try:
            assert process.stdout is not None
            line = process.stdout.readline()
            address = re.search(r"http://127\.0\.0\.1:\d+/\?key=\S+", line)
            assert address, line + process.stdout.read()
            with httpx.Client(follow_redirects=True, timeout=120, trust_env=False) as client:
                page = client.get(address[0])
                token = re.search(r'desk-token" content="([^"]+)"', page.text)
                assert token and "Heron Lane, house 3" in page.text
                base, headers = address[0].partition("/?")[0], {"x-desk-token": token[1]}
                told = client.post(f"{base}/job/{JOB}/make/sheets", headers=headers).text.splitlines()[-1]
                made = re.search(r'"done": "([^"]+)"', told)
                assert made, told
                sheets = client.get(base + made[1]).content
        finally:
            process.terminate()
            process.wait(20)
    assert main(["sheets", str(job), "-o", str(tmp_path / "sheets.pdf")]) == 0
    assert sheets == (tmp_path / "sheets.pdf").read_bytes()
