"""A folder of job files: which there are, what stands in them, and nothing outside it."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path

from evencourse.cli.files.file_names import safe_stem
from evencourse.cli.files.output import write_file
from evencourse.cli.files.reasons import reason
from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import EvencourseError

#: Largest job file that is opened for editing [bytes]: a house of sixty edges takes some ten thousand.
LARGEST = 1_000_000
#: Longest name of a job file, without its ending [characters].
LONGEST = 80
_PLAIN = re.compile(r"[^\W_][\w .,'()&+-]*")


class NoSuchJobError(EvencourseError):
    """No job file of that name lies in the folder."""


@dataclass(frozen=True)
class JobFolder:
    """A folder whose job files can be read and written.

    Attributes:
        root: the folder, as the system knows it.
    """

    root: Path

    def names(self) -> list[str]:
        """Names of its job files, without their ending; other TOML files are left out."""
        return sorted(
            (path.stem for path in self.root.glob("*.toml") if self._is_job(path)), key=str.casefold
        )

    def path(self, name: str) -> Path:
        """Where a job lies.

        Raises:
            NoSuchJobError: the name is no plain one, or leads out of the folder.
        """
        path = self.root / f"{name}.toml"
        plain = _PLAIN.fullmatch(name) is not None and len(name) <= LONGEST and not name.endswith((" ", "."))
        if not plain or path.resolve().parent != self.root:
            raise NoSuchJobError(gettext("no such job in this folder"))
        return path

    def read(self, name: str) -> str:
        """The text of a job.

        Raises:
            NoSuchJobError: there is none, or it cannot be read.
        """
        path = self.path(name)
        try:
            with path.open("rb") as file:
                data = file.read(LARGEST + 1)
        except OSError as error:
            words = gettext("cannot read {file}: {reason}", file=path.name, reason=reason(error))
            raise NoSuchJobError(words) from error
        if len(data) > LARGEST:
            words = gettext("cannot read {file}: more than {count} bytes", file=path.name, count=LARGEST)
            raise NoSuchJobError(words)
        try:
            # As text files are read: either line end of either system.
            return data.decode("utf-8-sig").replace("\r\n", "\n")
        except UnicodeDecodeError as error:
            words = gettext("cannot read {file}: no text in UTF-8", file=path.name)
            raise NoSuchJobError(words) from error

    def write(self, name: str, text: str) -> None:
        """Write the text of a job, whole or not at all.

        Raises:
            NoSuchJobError: the name is no plain one.
            OutputError: it could not be written.
        """
        write_file(self.path(name), text.encode())

    def free_name(self, wanted: str) -> str:
        """A name that no file here has, made from what the job is called."""
        stem = (
            re.sub(r"[^\w .,'()&+-]", "", safe_stem(wanted), flags=re.ASCII).strip(" .-_")[: LONGEST - 4]
            or "job"
        )
        taken = {path.name.casefold() for path in self.root.iterdir()}
        number, name = 1, stem
        while f"{name}.toml".casefold() in taken:
            number += 1
            name = f"{stem}-{number}"
        return name

    def _is_job(self, path: Path) -> bool:
        try:
            tables = tomllib.loads(self.read(path.stem))
        except NoSuchJobError:
            return False
        except (tomllib.TOMLDecodeError, RecursionError, ValueError):
            return True  # a job file with a slip of the pen in it is still one
        return "job" in tables or "elevation" in tables
