"""Several jobs on the workers of a Dask scheduler: the same bytes, every death and refusal told."""

from __future__ import annotations

import contextlib
import os
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from distributed import Client, LocalCluster

from evencourse.cli.main import main
from evencourse.cli.street import cluster as cluster_module
from evencourse.cli.street.cluster import on_cluster
from evencourse.cli.street.engines import ClusterError
from evencourse.cli.street.workers import Done
from tests.cli.jobs import FLUSH, TWO_FAULTS
from tests.cli.work import dies_once, double, kills, troubled

ROOT = Path(__file__).resolve().parents[2]
NO_TLS = (None, None, None)


@pytest.fixture(scope="module")
def scheduler() -> Iterator[str]:
    """Address of a scheduler with two workers in processes of their own."""
    with LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address=None, host="127.0.0.1", silence_logs=50
    ) as cluster:
        yield cluster.scheduler_address


def street(folder: Path, **texts: str) -> list[str]:
    folder.mkdir(exist_ok=True)
    for name, text in texts.items():
        (folder / f"{name}.toml").write_text(text, encoding="utf-8")
    return [str(folder / f"{name}.toml") for name in texts]


def contents(folder: Path) -> dict[str, bytes]:
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*.*"))}


def kept(index: int, one: Done[str]) -> Done[str]:
    return one


@pytest.mark.long
def test_the_same_bytes_and_words_as_on_this_machine(
    scheduler: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The jobs' folder names a CSV file, which the workers never see."""
    sheet = 'openings = "openings.csv"\n' + FLUSH.partition("  [[elevation.opening]]")[0]
    jobs = street(tmp_path / "jobs", one=FLUSH, bad=TWO_FAULTS, three=sheet)
    rows = "elevation,mark,left,sill,width,height\nFront,A,60,31,36,48\n"
    (tmp_path / "jobs" / "openings.csv").write_text(rows, encoding="utf-8")
    here = ["-j", "1"]
    there = ["--cluster", scheduler]
    out = tmp_path / "out"
    for command in (
        ["sheets", *jobs, "-o", str(out)],
        ["draw", *jobs, "-o", str(out), "--only", "svg,dxf"],
        ["takeoff", *jobs, "--csv", str(tmp_path / "order.csv")],
        ["compare", *jobs, "--cladding", "double-5", "--svg", str(out)],
    ):
        said = []
        written = []
        for engine in (here, there):
            assert main([*command, *engine]) == 2
            said.append(capsys.readouterr())
            written.append(contents(tmp_path))
        assert said[0] == said[1]
        assert written[0] == written[1]


def test_what_the_options_cannot_mean(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    jobs = street(tmp_path, one=FLUSH, two=FLUSH)
    out = str(tmp_path / "out")
    words = ["sheets", *jobs, "-o", out]
    for more, answer in (
        (["--cluster", "host:1", "-j", "2"], '--jobs: found "2" with --cluster; wanted one of them'),
        (["--cluster", "no host"], '--cluster: found "no host"; wanted HOST:PORT of a scheduler, tcp://HOST'),
        (["--cluster", "host:65536"], 'found port 65536 in "host:65536"; wanted a port from 1 to 65535'),
        (["--cluster", "tcp://host:1", "--tls-ca", "a"], '"tcp://host:1" with --tls-ca; wanted tls://HOST'),
        (["--cluster", "tls://host:1"], "wanted --tls-ca, --tls-cert and --tls-key, too"),
        (["--tls-ca", "a.pem"], '--tls-ca: found "a.pem" without --cluster; wanted --cluster, too'),
        (["--cluster", "host:1", "--tls-key", "none.pem"], '"none.pem", which is no file'),
    ):
        assert main([*words, *more]) == 2
        assert answer in capsys.readouterr().err
    assert main(["sheets", jobs[0], "-o", str(tmp_path / "a.pdf"), "--cluster", "host:1"]) == 2
    assert "--cluster: found 1 job; wanted several jobs" in capsys.readouterr().err
    assert not Path(out).exists()


def test_no_scheduler_there(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(cluster_module, "_ANSWERS", 1)
    jobs = street(tmp_path, one=FLUSH, two=FLUSH)
    assert main(["sheets", *jobs, "-o", str(tmp_path / "out"), "--cluster", "127.0.0.1:9"]) == 2
    assert "no Dask scheduler answers at tcp://127.0.0.1:9: nothing listens" in capsys.readouterr().err
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("greeting", "answer"),
    [
        (None, "what listens there hangs up"),
        (b"", "what listens there gives no answer"),
        (b"SSH-2.0-None_1\r\n", "what listens there speaks otherwise"),
        (b"\1\0\0\0\0\0\0\0" * 9, "what listens there speaks otherwise"),
    ],
)
def test_something_else_listens_there(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    greeting: bytes | None,
    answer: str,
) -> None:
    """It hangs up, waits to be spoken to, or greets in its own words: told in time, with no client left."""
    monkeypatch.setattr(cluster_module, "_ANSWERS", 1)
    jobs = street(tmp_path, one=FLUSH, two=FLUSH)
    kept_open = []

    def answered(listener: socket.socket) -> None:
        with contextlib.suppress(OSError):
            while True:
                connection, _ = listener.accept()
                if greeting is None:
                    connection.close()
                else:
                    connection.sendall(greeting)
                    kept_open.append(connection)

    with socket.create_server(("127.0.0.1", 0)) as listener:
        threading.Thread(target=answered, args=(listener,), daemon=True).start()
        address = f"127.0.0.1:{listener.getsockname()[1]}"
        start = time.monotonic()
        assert main(["sheets", *jobs, "-o", str(tmp_path / "out"), "--cluster", address]) == 2
        assert time.monotonic() - start < 10
        listener.shutdown(socket.SHUT_RDWR)
    for connection in kept_open:
        connection.close()
    assert capsys.readouterr().err == f"no Dask scheduler answers at tcp://{address}: {answer}\n"


def test_certificates_that_cannot_be_read_are_told_with_their_options(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    jobs = street(tmp_path, one=FLUSH, two=FLUSH)
    pem = tmp_path / "mine.pem"
    pem.write_text("no PEM", encoding="utf-8")
    words = ["--cluster", "tls://host:1", *(f"--tls-{kind}={pem}" for kind in ("ca", "cert", "key"))]
    assert main(["sheets", *jobs, "-o", str(tmp_path / "out"), *words]) == 2
    assert capsys.readouterr().err.splitlines() == [
        f'--tls-ca: found "{pem}", with no certificate to read; wanted PEM text of a certificate',
        f'--tls-cert: found "{pem}", with no certificate to read; wanted PEM text of a certificate',
        "2 faults; nothing written",
    ]


@pytest.mark.long
def test_a_worker_has_that_address(scheduler: str) -> None:
    with Client(scheduler, set_as_default=False) as client:
        worker = next(iter(client.nthreads()))
    with pytest.raises(ClusterError) as error:
        on_cluster(troubled, ["a"], worker, NO_TLS, kept)
    assert str(error.value) == f"no Dask scheduler answers at {worker}: a worker has that address"


@pytest.mark.long
def test_no_worker_is_left_and_one_joins(monkeypatch: pytest.MonkeyPatch) -> None:
    """Said once; the jobs wait for the one that joins."""
    monkeypatch.setattr(cluster_module, "_LOOK", 0.1)
    said: list[str] = []
    with LocalCluster(
        n_workers=1,
        threads_per_worker=1,
        dashboard_address=None,
        processes=False,
        protocol="tcp://",
        silence_logs=50,
    ) as cluster:

        def settled(index: int, one: Done[int]) -> int | None:
            if index == 0:
                cluster.scale(0)
            return one.value

        def joined(words: str) -> None:
            said.append(words)
            cluster.scale(1)

        numbers = list(range(10))
        found = on_cluster(double, numbers, cluster.scheduler_address, NO_TLS, settled, joined)
    assert found == [2 * number for number in numbers]
    assert said == ["no worker is left; the run goes on when one joins, Ctrl-C ends it"]


def other_words() -> str:
    return "evencourse 99 (other)"


@pytest.mark.long
def test_another_program_on_a_worker_is_refused_with_both_versions(
    scheduler: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before any job goes out, and when a worker comes later than that."""
    own = cluster_module.whole_program_words()
    with Client(scheduler, set_as_default=False) as client, pytest.raises(ClusterError) as error:
        cluster_module._same_program(client, other_words())
    assert f"has {own}, this is evencourse 99 (other)" in str(error.value)
    monkeypatch.setattr(cluster_module, "whole_program_words", other_words)
    with pytest.raises(ClusterError) as error:
        on_cluster(troubled, ["a"], scheduler, NO_TLS, kept)
    assert f"has {own}, this is evencourse 99 (other)" in str(error.value)


@pytest.mark.long
def test_every_trouble_is_a_fault_of_its_item(scheduler: str) -> None:
    found = on_cluster(troubled, ["a", "faults", "b", "said", "slip"], scheduler, NO_TLS, kept)
    assert [one.value for one in found] == ["A", None, "B", None, None]
    assert found[1].faults == ("base: found 14-3; wanted a length", "line 7: eave: found up; wanted a length")
    assert found[3].faults == ("no such paper",)
    assert found[4].faults[0] == "a fault in the program itself: ZeroDivisionError: division by zero"


@pytest.mark.long
def test_a_worker_that_dies_costs_no_job(scheduler: str, tmp_path: Path) -> None:
    """Its jobs go to others; the nanny of a LocalCluster starts it anew."""
    items = [str(tmp_path / str(number)) for number in range(12)]
    found = on_cluster(dies_once, items, scheduler, NO_TLS, kept)
    assert [one.value for one in found] == items
    assert sum(Path(f"{item}.died").exists() for item in items) == 4


@pytest.mark.long
def test_a_job_that_kills_its_workers_is_given_up_with_its_name(scheduler: str) -> None:
    """Jobs that waited on those workers are not blamed with it."""
    with Client(scheduler, set_as_default=False) as client:
        client.run_on_scheduler(lambda dask_scheduler: setattr(dask_scheduler, "allowed_failures", 2))
    words = ["a", "kills", *"bcdefgh"]
    found = on_cluster(kills, words, scheduler, NO_TLS, kept)
    assert [one.value for one in found] == ["a", None, *words[2:]]
    assert found[1].failing == "ended"
    assert found[1].faults[0].startswith("its process was ended from outside 3 times; too little memory is")


@pytest.mark.long
def test_a_scheduler_that_goes_away(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """What is done is written, the rest is said, and ``--changed`` does it on this machine."""
    jobs = street(tmp_path / "jobs", **{f"house-{number}": FLUSH for number in range(30)})
    out = tmp_path / "out"
    program = [sys.executable, "-m"]
    port = 18700 + os.getpid() % 200
    quiet = {"cwd": ROOT, "stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    address = f"127.0.0.1:{port}"
    scheduler = subprocess.Popen(
        [*program, "distributed.cli.dask_scheduler", "--host", "127.0.0.1", "--port", str(port),
         "--no-dashboard"], **quiet,
    )  # fmt: skip
    worker = subprocess.Popen(
        [*program, "distributed.cli.dask_worker", f"tcp://{address}", "--nthreads", "1", "--no-nanny",
         "--no-dashboard", "--death-timeout", "60"], **quiet,
    )  # fmt: skip
    run = "import sys; from evencourse.cli.main import run; run()"
    words = ["sheets", *jobs, "-o", str(out)]
    try:
        time.sleep(5)
        with subprocess.Popen(
            [sys.executable, "-c", run, *words, "--cluster", address], cwd=ROOT,
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        ) as asked:  # fmt: skip
            until = time.monotonic() + 120
            while len(list(out.glob("*.pdf"))) < 2 and time.monotonic() < until and asked.poll() is None:
                time.sleep(0.02)
            scheduler.kill()
            _, err = asked.communicate(timeout=120)
    finally:
        for process in (scheduler, worker):
            process.kill()
            process.wait()
    done = len(list(out.glob("*.pdf")))
    assert 2 <= done < len(jobs)
    assert asked.returncode == 2
    assert err == (
        f"the scheduler at tcp://{address} went away: "
        f"{done} of {len(jobs)} jobs done, {len(jobs) - done} not; "
        "run the same command again with --changed to do the others\n"
    )
    assert all(data.rstrip().endswith(b"%%EOF") for data in contents(out).values())
    assert main([*words, "--changed"]) == 0
    assert f"{done} job" in capsys.readouterr().out
    assert len(list(out.glob("*.pdf"))) == len(jobs)
