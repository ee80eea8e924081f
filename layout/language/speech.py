"""The language that is spoken: every sentence for people goes through here, machine outputs do not.

English is what stands in the code; the other languages are catalogues of gettext in ``catalogues/``, and
what a catalogue does not have is said in English. The names are those of the standard library's ``gettext``,
so that any tool for catalogues finds the sentences; values are named, so that a translator may change their
order.

    >>> with speaking("en"):
    ...     ngettext("{count} course", "{count} courses", 3)
    '3 courses'
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, replace
from functools import cache
from gettext import GNUTranslations, NullTranslations
from pathlib import Path
from typing import TypeVar
from unicodedata import bidirectional

_T = TypeVar("_T")
_CATALOGUES = Path(__file__).with_name("catalogues")
_DOMAIN = "evencourse"
#: Classes of letters that are read from right to left, and the mark that ends such a stretch.
_LEFTWARD = frozenset({"R", "AL"})
_LEFT_TO_RIGHT = "\N{LEFT-TO-RIGHT MARK}"


@dataclass(frozen=True)
class Language:
    """A language that crews read.

    Attributes:
        code: of the language, and of the country where that matters (BCP 47).
        name: in the language itself.
        decimal: its decimal mark, for millimetres and areas; feet and inches have fractions.
        tag: what a file says it is in (BCP 47): the language, and where it is spoken so.
    """

    code: str
    name: str
    decimal: str
    tag: str


#: Spanish is that of North American sites, where the decimal mark is a point (Mexico, NOM-008-SCFI).
LANGUAGES = {
    one.code: one
    for one in (
        Language("en", "English", ".", "en-US"),
        Language("es", "Español", ".", "es-MX"),
        Language("fr-CA", "Français (Canada)", ",", "fr-CA"),
        Language("de", "Deutsch", ",", "de-DE"),
        Language("sv", "Svenska", ",", "sv-SE"),
    )
}
ENGLISH = LANGUAGES["en"]


@dataclass(frozen=True)
class Voice:
    """A language with the catalogue that it is spoken from, and the one that stands beside it."""

    language: Language
    catalogue: NullTranslations
    second: Voice | None = None


_voice: ContextVar[Voice] = ContextVar("voice", default=Voice(ENGLISH, NullTranslations()))  # noqa: B039


def _catalogue(code: str) -> Path:
    return _CATALOGUES / code.replace("-", "_") / "LC_MESSAGES" / f"{_DOMAIN}.mo"


@cache
def _spoken(code: str) -> Voice:
    if code == ENGLISH.code:
        return Voice(ENGLISH, NullTranslations())
    language = LANGUAGES[code]
    with _catalogue(code).open("rb") as file:
        return Voice(language, GNUTranslations(file))


def offered() -> list[Language]:
    """English, and the languages whose catalogues are here."""
    return [one for one in LANGUAGES.values() if one is ENGLISH or _catalogue(one.code).exists()]


@contextmanager
def speaking(tongue: str | Voice) -> Iterator[None]:
    """Speak a language for the length of a ``with``: whatever is worded within is worded in it.

    Args:
        tongue: code of one of ``LANGUAGES``, empty for English; two of them with a comma between, the second
            for what stands beside the first; or a voice with a catalogue of its own.

    Raises:
        KeyError: no such language.
    """
    token = _voice.set(_voiced(tongue) if isinstance(tongue, str) else tongue)
    try:
        yield
    finally:
        _voice.reset(token)


def _voiced(codes: str) -> Voice:
    first, _, second = codes.partition(",")
    voice = _spoken(first or ENGLISH.code)
    return replace(voice, second=_spoken(second)) if second else voice


def beside(make: Callable[[], _T]) -> _T | None:
    """What something makes in the second language; None where one language is spoken alone."""
    second = _voice.get().second
    if second is None:
        return None
    with speaking(second):
        return make()


@contextmanager
def alone() -> Iterator[None]:
    """Speak the first language alone for the length of a ``with``."""
    with speaking(replace(_voice.get(), second=None)):
        yield


def spoken() -> Language:
    """The language that is spoken now."""
    return _voice.get().language


def system_language(environ: Mapping[str, str]) -> str:
    """The code of the language that the system speaks; English where that is none of those offered.

    Args:
        environ: of the process; of LC_ALL, LC_MESSAGES and LANG the first that says something holds (POSIX).

    >>> system_language({"LC_ALL": "", "LANG": "C.UTF-8"})
    'en'
    """
    told = next((one for name in ("LC_ALL", "LC_MESSAGES", "LANG") if (one := environ.get(name))), "")
    family = re.split(r"[-_.@]", told)[0].casefold()
    alike = (one.code for one in offered() if one.code.partition("-")[0] == family)
    return next(alike, ENGLISH.code)


def gettext(message: str, /, **values: object) -> str:
    """A sentence in the language that is spoken.

    Args:
        message: in English, a literal, with a name in braces for each value.
        values: by name; data such as a face's name is never translated.
    """
    return _filled(_voice.get().catalogue.gettext(message), values)


def pgettext(context: str, message: str, /, **values: object) -> str:
    """The same for a word that means several things: the context, a literal, says which."""
    return _filled(_voice.get().catalogue.pgettext(context, message), values)


def ngettext(one: str, many: str, count: int, /, **values: object) -> str:
    """A sentence that depends on a number, which it can hold as ``{count}``.

    Args:
        one: in English, for one.
        many: for every other number.
        count: the number.
        values: as for ``gettext``.
    """
    return _filled(_voice.get().catalogue.ngettext(one, many, count), {"count": count} | values)


def noop(message: str) -> str:
    """A sentence kept in English and said later, by ``gettext(it)``: this marks it for the catalogues."""
    return message


def decimals(number: str) -> str:
    """Figures of a number in the decimal mark of the language: ``12.5`` or ``12,5``."""
    return number.replace(".", spoken().decimal)


def _filled(message: str, values: dict[str, object]) -> str:
    told = {name: closed(value) if isinstance(value, str) else value for name, value in values.items()}
    return message.format(**told) if values else message


def closed(name: str) -> str:
    """A name beside figures: one that is read from right to left ends there, and takes none along (UAX 9)."""
    leftward = not name.isascii() and _LEFTWARD & set(map(bidirectional, name))
    return name + _LEFT_TO_RIGHT if leftward and not name.endswith(_LEFT_TO_RIGHT) else name
