"""``python -m tests.faults.spoiled_files KIND COUNT [SEED] [FILE…]``: files spoiled by the thousand.

KIND is ``dxf``, ``pdf`` or ``ifc``. Each file is worked at in a forked process: a drawing or a page by the
command, a page and a model read in that process within the bounds that the program sets; what ends that
process goes through the command as well, which has to answer with a line and exit code 2. Prints how they
ended, and the most time and memory that one took. Run it under ``ulimit -v 4000000``.
"""

from __future__ import annotations

import gc
import os
import random
import re
import resource
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

from evencourse.cli.commands import import_dxf
from evencourse.cli.models.guarded_reading import bound
from evencourse.layout.ifc.ifc_reading import read_model
from evencourse.layout.ifc.model_import import understand_model
from evencourse.layout.ifc.model_wishes import ModelWishes
from evencourse.layout.model.errors import JobError
from evencourse.layout.pdf.page_lines import read_page
from tests.faults.commands import run_here, well_behaved
from tests.faults.spoiled import spoiled_bytes, spoiled_lines
from tests.layout.dxfin.drawings import written
from tests.layout.dxfin.manners import MANNERS
from tests.layout.ifcin.buildings import Building, gable_house, shed
from tests.layout.pdfin.test_page_import import house, page

_NUMBER = re.compile(rb"-?\d+\.\d*(?:E[-+]?\d+)?")
_REFERENCE = re.compile(rb"#\d+")
_CODES = {0: "a house", 2: "told", 3: "told: of no building's geometry", 4: "a fault of the program"}


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


def drawings() -> list[bytes]:
    """Sound drawings to spoil: the manners of other programs, text and binary."""
    return [written(draw().document, binary) for draw in MANNERS.values() for binary in (False, True)]


def spoiled_drawing(data: bytes, luck: random.Random) -> bytes:
    """A drawing with something wrong in its lines or its bytes."""
    return (spoiled_bytes if data.startswith(b"AutoCAD Binary") else spoiled_lines)(data, luck)


def pages() -> list[bytes]:
    """Sound pages to spoil: the operators in the open, and packed as programs write them."""
    return [page(house, packed) for packed in (False, True)]


def spoiled_page(data: bytes, luck: random.Random) -> bytes:
    """A page with some of its bytes or its numbers changed, or its end cut off."""
    spoil = luck.choice((spoiled_bytes, spoiled_lines, cut, page_numbers))
    return spoil(data, luck)


def page_numbers(data: bytes, luck: random.Random) -> bytes:
    """Some numbers are others."""
    odd = (b"0", b"1e30", b"-1", b"99999999999999999999", b"0.0000001", b"/", b"(", b"<<", b"nan")
    return some(re.compile(rb"\d+(?:\.\d+)?"), data, luck, lambda: luck.choice(odd))


@dataclass(frozen=True)
class Kind:
    """What is spoiled and how it is worked at.

    Attributes:
        sound: files to spoil.
        spoil: spoils one.
        work: works at one: 0 for something found, 2 for a fault that is told.
    """

    sound: Callable[[], list[bytes]]
    spoil: Callable[[bytes, random.Random], bytes]
    work: Callable[[Path], int]


def _model(path: Path) -> int:
    bound()
    try:
        understand_model(read_model(path), ModelWishes("double-4", name="a"))
    except JobError:
        return 2
    except (Exception, MemoryError):
        return 3
    return 0


def _page_in_one(path: Path) -> int:
    """The command on a page that is read here: a process of its own takes ten times as long to begin."""
    bound()
    with patch.object(import_dxf, "page_found", lambda name, number: read_page(path.read_bytes(), number)):
        return _command(path)


def _command(path: Path) -> int:
    """The command itself, on a page with a known length so that it goes to the end."""
    more = (
        ["--known", "360", "--between", "1", "--cladding", "double-4"]
        if path.suffix == ".pdf"
        else ["--cladding", "double-4"]
    )
    ended = run_here(["import", str(path), "-o", str(path.with_suffix(".toml")), "--yes", *more])
    return {0: 0, 1: 0, 2: 2}.get(ended.code, 4) if well_behaved(ended) else 4


KINDS = {
    "dxf": Kind(drawings, spoiled_drawing, _command),
    "pdf": Kind(pages, spoiled_page, _page_in_one),
    "ifc": Kind(models, spoiled_model, _model),
}


def worked(kind: Kind, path: Path) -> tuple[str, float, float]:
    """How a forked process ended with a file, its processor time [s] and its memory [MB]."""
    child = os.fork()
    if not child:
        quiet = os.open(os.devnull, os.O_WRONLY)
        os.dup2(quiet, 1)
        os.dup2(quiet, 2)
        try:
            os._exit(kind.work(path))
        except BaseException:
            os._exit(4)
    _, status, used = os.wait4(child, 0)
    ended = f"signal {os.WTERMSIG(status)}" if os.WIFSIGNALED(status) else _CODES[os.WEXITSTATUS(status)]
    return ended, used.ru_utime + used.ru_stime, used.ru_maxrss / 1000


def main() -> None:
    """Spoil, work, count."""
    kind, count, seed = KINDS[sys.argv[1]], int(sys.argv[2]), int(sys.argv[3]) if len(sys.argv) > 3 else 1
    sound = [*kind.sound(), *(Path(name).read_bytes() for name in sys.argv[4:])]
    ends: Counter[str] = Counter()
    times, sizes, told, bad = 0.0, 0.0, 0, 0
    gc.freeze()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / f"a.{sys.argv[1]}"
        for number in range(seed, seed + count):
            if number > seed and (number - seed) % 500 == 0:
                print(f"{number - seed} files: {dict(ends.most_common())}", flush=True)
            luck = random.Random(number)
            path.write_bytes(kind.spoil(luck.choice(sound), luck))
            ended, time, size = worked(kind, path)
            ends[ended] += 1
            times, sizes = max(times, time), max(sizes, size)
            if ended == _CODES[4] or ended.startswith("signal") or time > 10:
                print(f"seed {number}: {ended} after {time:.1f} s, {size:.0f} MB", flush=True)
            if ended.startswith("signal") or (kind.work is not _command and number % 200 == 0):
                answer = run_here(["import", str(path), "--show"])
                good = well_behaved(answer) and (answer.code == 2 or not ended.startswith("signal"))
                bad += not good
                told += 1
    bad += ends[_CODES[4]]
    print(f"{count} files from seed {seed}: {dict(ends.most_common())}; {bad} wrong")
    print(f"at most {times:.1f} s of processor time and {sizes:.0f} MB; {told} through the command as well")
    print(f"this process: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1000:.0f} MB")


if __name__ == "__main__":
    main()
