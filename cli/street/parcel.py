"""A job as it is sent to another process or machine: its text, and the files that it names."""

from __future__ import annotations

import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from hashlib import sha256
from importlib.metadata import version
from pathlib import Path
from typing import Any

import evencourse.cli
import evencourse.layout
import evencourse.render
from evencourse.cli.files.provenance import content_key
from evencourse.cli.options.job_reading import read_text
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.jobfile.openings_sheet import LARGEST, named_sheets
from evencourse.layout.model.job import Job
from evencourse.layout.trade.profiles import build_cladding, profile_names

#: The file whose profiles are looked at one by one: a job follows from those that it names.
_PROFILES = "claddings.toml"


@dataclass(frozen=True)
class Parcel:
    """A job file's text and the CSV files that it names; whoever has it needs no disk.

    Attributes:
        source: the job file as the user named it.
        text: of the job file.
        beside: content of the CSV files, by their names in the job file; None when it lies in no folder.
    """

    source: str
    text: str
    beside: Mapping[str, bytes] | None

    def job(self) -> Job:
        """The job in it.

        Raises:
            JobError: every fault in it.
        """
        return parse_job(self.text, self.beside)

    @property
    def origin(self) -> str:
        """A key of the job file by its name, whatever stands in it; empty for standard input."""
        return "" if self.source == "-" else content_key("job file", Path(self.source).stem)

    def key(self, wanted: object) -> str:
        """A key of all that the outputs follow from: the job, the profiles that it names, the program.

        Comments and the order of keys do not count.

        Args:
            wanted: the options, a frozen value whose ``repr`` tells all of it.
        """
        try:
            tables: Any = tomllib.loads(self.text)
            content = json.dumps(tables, sort_keys=True, default=str)
        except (ValueError, RecursionError):
            return content_key(self.text)
        claddings = [tables.get("cladding"), *_tables(tables.get("claddings"))]
        named = {str(one.get("profile")) for one in claddings if isinstance(one, dict)}
        profiles = [repr(build_cladding("", name, {}, "in")) for name in profile_names() if name in named]
        beside = [part for name, data in sorted((self.beside or {}).items()) for part in (name, data)]
        return content_key(program_words(), repr(wanted), content, *profiles, "beside", *beside)


def _tables(named: object) -> list[object]:
    return list(named.values()) if isinstance(named, dict) else []


def parcel(source: str) -> Parcel:
    """The parcel of a job file.

    Args:
        source: path of the job file; ``-`` for standard input.

    Raises:
        ReadingError: it cannot be read.
        JobError: a CSV file that it names cannot be read, among every other fault in it.
    """
    text = read_text(source)
    return Parcel(source, text, None) if source == "-" else packed(source, text, Path(source).parent)


def packed(source: str, text: str, folder: Path) -> Parcel:
    """The parcel of a job's text.

    Args:
        source: what the job is called.
        text: of the job file.
        folder: where the CSV files lie that it names.

    Raises:
        JobError: a CSV file that it names cannot be read, among every other fault in it.
    """
    beside = {}
    for name in named_sheets(text):
        data = _read(folder, name)
        if data is None:
            parse_job(text, folder)  # tells what is wrong with it
            continue
        beside[name] = data
    return Parcel(source, text, beside)


def _read(folder: Path, name: str) -> bytes | None:
    """A CSV file in the job's folder; None for one that is refused or cannot be read."""
    try:
        path = (folder / name).resolve()
        if path.is_relative_to(folder.resolve()) and path.is_file() and path.stat().st_size <= LARGEST:
            return path.read_bytes()
    except (OSError, ValueError, RuntimeError):
        pass
    return None


@cache
def program_words() -> str:
    """The program that is at work, by its version and a digest of all its files but the shipped profiles."""
    return f"evencourse {version('evencourse')} ({_digest(profiles=False)})"


@cache
def whole_program_words() -> str:
    """The program that is at work, by its version and a digest of all its files."""
    return f"evencourse {version('evencourse')} ({_digest(profiles=True)})"


def _digest(profiles: bool) -> str:
    digest = sha256()
    for package in (evencourse.cli, evencourse.layout, evencourse.render):
        root = Path(next(iter(package.__path__)))
        for path in sorted(root.rglob("*")):
            counts = path.suffix not in (".pyc", "") and "__pycache__" not in path.parts
            if counts and path.is_file() and (profiles or path.name != _PROFILES):
                digest.update(path.relative_to(root).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return digest.hexdigest()[:8]
