"""The very beginning: Ctrl-C while the program is still being loaded ends it without a word."""

from __future__ import annotations

import signal
import sys


def run() -> None:
    """Entry point of the program."""
    own = signal.getsignal(signal.SIGINT)
    if own is signal.default_int_handler:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    from evencourse.cli.main import run as run_program

    signal.signal(signal.SIGINT, own)
    run_program()


def run_file() -> None:
    """Entry point of the program in one file: without words, as on a double click, it opens the desk."""
    if len(sys.argv) == 1:
        sys.argv.append("open")
    run()
