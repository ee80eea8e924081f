"""A job sent through a command, in a folder of its own that is looked over afterwards."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from tests.faults.commands import run_here, tree, well_behaved, words
from tests.faults.readouts import files, is_safe


def through(kind: str, text: str, folder: Path, more: Sequence[str] = ()) -> tuple[Path, ...]:
    """Run a command on a job file.

    Args:
        kind: one of ``commands.COMMANDS``.
        text: the job file.
        folder: an empty folder; outputs go to ``out`` in it.
        more: words at the end of the command line.

    Returns:
        The files that were written.

    Raises:
        AssertionError: a trace, a fault of the program, a file where none should be, signs that steer a
            terminal, something written although the job was refused.
    """
    out = folder / "out"
    out.mkdir()
    job = folder / "job.toml"
    job.write_bytes(text.encode("utf-8", "surrogatepass"))
    ended = run_here([*words(kind, job, out), *more])
    assert well_behaved(ended), (ended.code, ended.err[-500:])
    # The mark that ends a name read from right to left turns nothing round.
    assert (ended.out + ended.err).replace("\n", "").replace("\u200e", "").isprintable()
    written = tuple(files(out))
    assert set(tree(folder)) == {"job.toml", *(str(path.relative_to(folder)) for path in written)}
    assert ended.code != 2 or not written
    assert all(is_safe(path.name) for path in written), written
    return written
