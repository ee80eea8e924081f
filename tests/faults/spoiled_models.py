"""``python -m tests.faults.spoiled_models COUNT [SEED] [MODEL…]``: spoiled building models, by the thousand.

Each is worked at in a forked process with the bounds that the program sets; what ends such a process goes
through the command itself, too, which has to answer with a line and exit code 2. Prints how they ended, and
the most time and memory that one took. Run it under ``ulimit -v 4000000``.
"""

from __future__ import annotations

import os
import random
import re
import resource
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from pathlib import Path

from evencourse.cli.models.guarded_reading import _bound
from evencourse.layout.ifc.ifc_reading import read_model
from evencourse.layout.ifc.model_import import understand_model
from evencourse.layout.ifc.model_wishes import ModelWishes
from evencourse.layout.model.errors import JobError
from tests.faults.commands import run_here, well_behaved
from tests.layout.ifcin.buildings import Building, gable_house, shed

_NUMBER = re.compile(rb"-?\d+\.\d*(?:E[-+]?\d+)?")
_REFERENCE = re.compile(rb"#\d+")
_CODES = {0: "a house", 2: "told", 3: "told: of no building's geometry"}


def models() -> list[bytes]:
    """Sound models to spoil."""
    gable = Building("in", "IFC2X3")
    gable_house(gable, True, 6000)
    gable.roof(
        [(-400, 2100), (2500, 5000), (5400, 2100), (5400, 2350), (2500, 5250), (-400, 2350)], -300, 8300
    )
    gable.terrain([(-5000, -3000), (10000, -3000), (10000, 1500), (-5000, -1500)], -9000, 20000)
    return [one.file.to_string().encode() for one in (shed(), gable)]


def spoiled_model(data: bytes, luck: random.Random) -> bytes:
    """A model with one to six things wrong in it."""
    for _ in range(luck.choice((1, 1, 2, 6))):
        data = luck.choice((bytes_, lines, numbers, references, kinds, values, cut))(data, luck)
    return data


def bytes_(data: bytes, luck: random.Random) -> bytes:
    """Some bytes are others."""
    signs = bytearray(data)
    for _ in range(luck.randint(1, 20)):
        signs[luck.randrange(len(signs))] = luck.randrange(256)
    return bytes(signs)


def lines(data: bytes, luck: random.Random) -> bytes:
    """Some lines are missing, stand twice or elsewhere."""
    found = data.splitlines(keepends=True)
    for _ in range(luck.randint(1, 5)):
        here, there = luck.randrange(len(found)), luck.randrange(len(found))
        match luck.randrange(3):
            case 0 if len(found) > 20:
                del found[here]
            case 1:
                found.insert(there, found[here])
            case _:
                found[here], found[there] = found[there], found[here]
    return b"".join(found)


def numbers(data: bytes, luck: random.Random) -> bytes:
    """Some numbers are others: none, huge, tiny, negative."""
    odd = (b"0.", b"1.E300", b"-1.E300", b"1.E-300", b"1.E9", b"-7.", b"1.E400", b"123456789012.", b"$", b"*")
    return some(_NUMBER, data, luck, lambda: luck.choice(odd))


def references(data: bytes, luck: random.Random) -> bytes:
    """Some references lead elsewhere: to another kind of thing, to themselves, in a circle, to nothing."""
    found = _REFERENCE.findall(data) or [b"#1"] * 3
    return some(_REFERENCE, data, luck, lambda: luck.choice([*luck.choices(found, k=3), b"#999999", b"#0"]))


def kinds(data: bytes, luck: random.Random) -> bytes:
    """Some entities are of another kind."""
    pattern = re.compile(rb"IFC[A-Z0-9]+")
    found = pattern.findall(data) or [b"IFCWALL"] * 3
    return some(pattern, data, luck, lambda: luck.choice([*luck.choices(found, k=3), b"IFCNONE"]))


def values(data: bytes, luck: random.Random) -> bytes:
    """Some values are of another type, or a long list."""
    pattern = re.compile(rb"\([^()]*\)")
    odd = (b"()", b"$", b"(('a'))", b"(" * 400 + b")" * 400, b"(" + b"1.," * 30_000 + b"1.)", b"('\\X2\\D8')")
    return some(pattern, data, luck, lambda: luck.choice(odd))


def cut(data: bytes, luck: random.Random) -> bytes:
    """Its middle or its end is missing."""
    here, there = sorted((luck.randrange(len(data)), luck.randrange(len(data))))
    there = min(there, here + 4000)
    return data[:here] if luck.random() < 0.2 else data[:here] + data[there:]


def some(pattern: re.Pattern[bytes], data: bytes, luck: random.Random, other: Callable[[], bytes]) -> bytes:
    """A few places of a pattern with something else in them."""
    found = list(pattern.finditer(data))
    few = luck.sample(found, min(len(found), luck.randint(1, 4)))
    for match in sorted(few, key=lambda one: -one.start()):
        data = data[: match.start()] + other() + data[match.end() :]
    return data


def worked(path: Path) -> tuple[str, float, float]:
    """How a forked process ended with a model, its processor time [s] and its memory [MB]."""
    child = os.fork()
    if not child:
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        _bound()
        try:
            understand_model(read_model(path), ModelWishes("double-4", name="a"))
            os._exit(0)
        except JobError:
            os._exit(2)
        except (Exception, MemoryError):
            os._exit(3)
    _, status, used = os.wait4(child, 0)
    ended = f"signal {os.WTERMSIG(status)}" if os.WIFSIGNALED(status) else _CODES[os.WEXITSTATUS(status)]
    return ended, used.ru_utime + used.ru_stime, used.ru_maxrss / 1000


def main() -> None:
    """Spoil, work, count."""
    count, seed = int(sys.argv[1]), int(sys.argv[2]) if len(sys.argv) > 2 else 1
    sound = [*models(), *(Path(name).read_bytes() for name in sys.argv[3:])]
    ends: Counter[str] = Counter()
    times, sizes, told = 0.0, 0.0, 0
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "a.ifc"
        for number in range(seed, seed + count):
            luck = random.Random(number)
            path.write_bytes(spoiled_model(luck.choice(sound), luck))
            ended, time, size = worked(path)
            ends[ended] += 1
            times, sizes = max(times, time), max(sizes, size)
            if ended.startswith("signal"):
                print(f"seed {number}: {ended} after {time:.1f} s", flush=True)
            if ended.startswith("signal") or number % 200 == 0:
                answer = run_here(["import", str(path), "--show"])
                assert well_behaved(answer), (number, answer)
                assert answer.code == 2 or not ended.startswith("signal"), (number, answer)
                told += 1
    print(f"{count} models from seed {seed}: {dict(ends.most_common())}")
    print(f"at most {times:.1f} s of processor time and {sizes:.0f} MB; {told} through the command as well")
    print(f"this process: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000:.0f} MB")


if __name__ == "__main__":
    main()
