"""``python -m tests.faults [MINUTES]``: bad luck by the thousand, counted.

Spoiled job files and drawings, broken jobs among sound ones, hostile names in every place and every output, a
system that fails or kills the program at every call, commands killed at any moment, runs into one folder at
once, a guard against network and files elsewhere. Prints what was tried; the first thing that goes wrong ends
it with its seed.
"""

from __future__ import annotations

import random
import shutil
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

from evencourse.cli.files.output import PART_PREFIX, Output, write_folder
from evencourse.layout.model.errors import OutputError
from tests.cli.jobs import FLUSH
from tests.faults.commands import COMMANDS, Ended, run_here, start, tree, well_behaved, words
from tests.faults.hostile import NAMES, REFUSED, job_named
from tests.faults.readouts import shape
from tests.faults.spoiled import spoiled_bytes, spoiled_lines, spoiled_structure, spoiled_text
from tests.faults.system import CAUGHT, ERRORS, GUARD, failing, killed, watched
from tests.faults.through import through

SAMPLES = [path.read_text("utf-8") for path in sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))]
#: Of how many seconds each part may take its share.
SHARES = {"spoiled": 0.4, "drawings": 0.1, "many": 0.1, "names": 0.22, "kills": 0.18}
OTHER = FLUSH.replace('left = "60"', 'left = "72"')


class Folder:
    """A folder that is empty again each time."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def fresh(self) -> Path:
        shutil.rmtree(self.path, ignore_errors=True)
        self.path.mkdir(parents=True)
        return self.path


def spoiled_jobs(folder: Folder, seconds: float, count: Counter[str]) -> None:
    """Job files spoiled in structure, text and bytes; those that are still jobs go through every command."""
    end, seed = time.process_time() + seconds, 0
    while time.process_time() < end:
        seed += 1
        luck = random.Random(seed)
        sample = luck.choice([FLUSH, *SAMPLES])
        spoil = luck.choice((spoiled_structure, spoiled_structure, spoiled_text, None))
        if spoil is None:
            job = folder.fresh() / "job.toml"
            job.write_bytes(spoiled_bytes(sample.encode(), luck))
            ended = run_here(["check", str(job)])
            assert well_behaved(ended), ("bytes", seed, ended)
            count["spoiled bytes read or told"] += 1
            continue
        text = spoil(sample, luck)
        count["spoiled job files read or told"] += 1
        if run_kind("check", text, folder, seed):
            for kind in COMMANDS:
                run_kind(kind, text, folder, seed)
                count["commands on jobs that were still jobs"] += 1


def run_kind(kind: str, text: str, folder: Folder, seed: object) -> bool:
    """Whether a command took a job; everything about it is looked at."""
    place = folder.fresh()
    try:
        written = through(kind, text, place)
        for path in written:
            shape(path)
    except AssertionError as error:
        raise SystemExit(f"{kind}, {seed}: {error}") from error
    return run_here(words("check", place / "job.toml", place)).code == 0


def hostile_names(folder: Folder, seconds: float, count: Counter[str]) -> None:
    """Every name in every place at once, and all of them dealt out in turn, through every command."""
    end = time.process_time() + seconds
    for name, text in REFUSED.items():
        assert not run_kind("check", job_named(text), folder, name)
        count["names refused"] += 1
    every = list(NAMES.values())
    jobs = [(name, (text,)) for name, text in NAMES.items()]
    jobs += [(f"from {start}", (*every[start:], *every[:start])) for start in range(len(every))]
    for name, texts in jobs:
        for kind in COMMANDS:
            if time.process_time() > end:
                return
            assert run_kind(kind, job_named(*texts), folder, name) or kind
            count["outputs with hostile names"] += 1


def spoiled_drawings(folder: Folder, seconds: float, count: Counter[str]) -> None:
    """Drawings spoiled in lines and bytes, imported: a job file that reads, or nothing and a reason."""
    place = folder.fresh()
    (place / "job.toml").write_text(FLUSH)
    assert run_here(words("draw", place / "job.toml", place)).code == 0
    (drawn,) = (place / "drawn").glob("*.dxf")
    data = drawn.read_bytes()
    end, seed = time.process_time() + seconds, 0
    while time.process_time() < end:
        seed += 1
        luck = random.Random(f"drawing {seed}")
        place = folder.fresh()
        source, job = place / "drawing.dxf", place / "job.toml"
        source.write_bytes(luck.choice((spoiled_lines, spoiled_bytes))(data, luck))
        ended = run_here(["import", str(source), "-o", str(job), "--cladding", "double-4", "--yes"])
        assert well_behaved(ended), ("drawing", seed, ended)
        assert job.exists() == (ended.code != 2), ("drawing", seed, ended)
        assert set(tree(place)) <= {"drawing.dxf", "job.toml"}, ("drawing", seed)
        if job.exists():
            assert run_here(["check", str(job)]).code == 0, ("drawing", seed)
        count["spoiled drawings imported or told"] += 1


def among_others(folder: Folder, seconds: float, count: Counter[str]) -> None:
    """A spoiled job between two sound ones: those are drawn whole, whatever becomes of it."""
    whole: dict[str, int] | None = None
    end, seed = time.monotonic() + seconds, 0
    while time.monotonic() < end:
        luck = random.Random(f"among {seed}")
        place = folder.fresh()
        for name, text in (("a", FLUSH), ("c", OTHER)):
            (place / f"{name}.toml").write_text(text)
        spoiled = spoiled_text(luck.choice([FLUSH, *SAMPLES]), luck)
        (place / "b.toml").write_bytes(spoiled.encode("utf-8", "surrogatepass"))
        jobs = [str(place / f"{name}.toml") for name in "abc"]
        ended = run_here(["draw", *jobs, "-o", str(place / "out"), "--only", "svg", "-j", "1"])
        assert well_behaved(ended), ("among", seed, ended)
        found = {key: value for key, value in tree(place / "out").items() if key.split("/")[0] in ("a", "c")}
        whole = whole or found
        assert found == whole and {key.split("/")[0] for key in found} == {"a", "c"}, ("among", seed)
        count["sound jobs drawn beside a spoiled one"] += 2
        seed += 1


def failing_calls(folder: Folder, count: Counter[str]) -> None:
    """The system fails, and kills, at every call of a drawing that replaces another."""
    out = folder.fresh() / "out"
    drawn = []
    for text in (FLUSH, OTHER):
        job = folder.path / "job.toml"
        job.write_text(text)
        assert run_here(["draw", str(job), "-o", str(out)]).code == 0
        drawn.append([Output(path.name, path.read_bytes()) for path in sorted(out.iterdir())])
    old, new = ({one.name: one.data for one in files} for files in drawn)

    def ready() -> None:
        shutil.rmtree(out, ignore_errors=True)
        write_folder(out, drawn[0])

    def left() -> dict[str, bytes]:
        return {p.name: p.read_bytes() for p in out.iterdir() if not p.name.startswith(PART_PREFIX)}

    numbers: list[int] = []
    ready()
    with watched(out, lambda number, name: numbers.append(number)):
        write_folder(out, drawn[1])
    for call in numbers:
        for error in ERRORS:
            for lasting in (False, True):
                ready()
                try:
                    with failing(out, call, error, lasting):
                        write_folder(out, drawn[1])
                except OutputError:
                    assert left() == old, (call, error)
                else:
                    assert left() == new, (call, error)
                count["system failures survived"] += 1
        ready()
        assert killed(out, call, lambda: write_folder(out, drawn[1]))
        now = left()
        assert now.keys() == old.keys(), call
        assert all(data in (old[name], new[name]) for name, data in now.items()), call
        write_folder(out, drawn[1])
        assert {p.name for p in out.iterdir()} == set(new), call
        count["kills at a call survived"] += 1


def killed_runs(folder: Folder, seconds: float, count: Counter[str]) -> None:
    """Whole commands killed at any moment, two at a time into one folder."""
    end, luck = time.monotonic() + seconds, random.Random(1)
    place = folder.fresh()
    out = place / "out"
    known: dict[str, set[int]] = {}
    for name, text in (("a.toml", FLUSH), ("b.toml", OTHER)):
        (place / name).write_text(text)
        assert run_here(["draw", str(place / name), "-o", str(out)]).code == 0
        for path, data in tree(out).items():
            known.setdefault(path, set()).add(data)
    while time.monotonic() < end:
        children = [
            start(["draw", str(place / name), "-o", str(out)], place) for name in ("a.toml", "b.toml")
        ]
        for child in children:
            began = time.monotonic()
            while child.poll() is None and time.monotonic() < began + luck.uniform(0.05, 3):
                time.sleep(0.01)
            count["runs killed" if child.poll() is None else "runs that were faster"] += 1
            child.kill()
            child.communicate()
        found = {key: value for key, value in tree(out).items() if not key.startswith(PART_PREFIX)}
        assert found.keys() == known.keys()
        assert all(value in known[key] for key, value in found.items())
        assert run_here(["draw", str(place / "a.toml"), "-o", str(out)]).code == 0
        assert tree(out).keys() == known.keys()


def guarded(folder: Folder, count: Counter[str]) -> None:
    """Every command on every sample, with no network, no other program, no file elsewhere."""
    for text in SAMPLES:
        for kind in COMMANDS:
            place = folder.fresh()
            (place / "out").mkdir()
            (place / "job.toml").write_text(text)
            env = {"EVENCOURSE_TEST_FOLDER": str(place / "out"), "HOME": str(place / "home")}
            before = f"import os; os.environ.update({env!r})\n{GUARD}"
            child = start(words(kind, place / "job.toml", place / "out"), place, before)
            out, err = child.communicate()
            assert CAUGHT not in err, (kind, err)
            assert well_behaved(Ended(child.returncode, out, err)), (kind, err)
            count["commands under guard"] += 1


def parts(folder: Folder, seconds: float, count: Counter[str]) -> Iterator[tuple[str, Callable[[], None]]]:
    """What is done, in order."""
    yield "names", lambda: hostile_names(folder, seconds * SHARES["names"], count)
    yield "calls", lambda: failing_calls(folder, count)
    yield "guard", lambda: guarded(folder, count)
    yield "kills", lambda: killed_runs(folder, seconds * SHARES["kills"], count)
    yield "drawings", lambda: spoiled_drawings(folder, seconds * SHARES["drawings"], count)
    yield "many", lambda: among_others(folder, seconds * SHARES["many"], count)
    yield "jobs", lambda: spoiled_jobs(folder, seconds * SHARES["spoiled"], count)


def main() -> None:
    """Do all of it and print the count."""
    minutes = float(sys.argv[1]) if len(sys.argv) > 1 else 10.0
    count: Counter[str] = Counter()
    with tempfile.TemporaryDirectory() as name:
        for part, work in parts(Folder(Path(name).resolve() / "here"), 60 * minutes, count):
            print(f"{part} …", flush=True)
            work()
    width = max(map(len, count))
    for kind, number in count.items():
        print(f"{kind:{width}}  {number:7d}")
    print(f"{'nothing lost, no trace shown, in':{width}}  {sum(count.values()):7d}")


if __name__ == "__main__":
    main()
