"""Options that are picked from a few: formats, paper, a date. Faults are gathered, not raised."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from evencourse.layout.jobfile.job_values import either
from evencourse.layout.language.speech import LANGUAGES, gettext
from evencourse.layout.model.errors import Fault
from evencourse.render.drawing.papers import PaperError, paper, papers
from evencourse.render.formats.cad_set import VERSIONS

if TYPE_CHECKING:
    from evencourse.render.formats.cad_set import Version

#: What has room in a title block.
LONGEST_REVISION = 12


def read_list(option: str, text: str, known: Sequence[str], faults: list[Fault]) -> tuple[str, ...]:
    """Words separated by commas, each one of the known.

    Returns:
        The known words that were given, in the order of ``known``; case does not count.
    """
    given = [word.strip().casefold() for word in text.split(",") if word.strip()]
    wanted = gettext("some of {words}", words=",".join(known))
    faults += [Fault(option, f'"{word}"', wanted) for word in dict.fromkeys(given) if word not in known]
    if not given:
        faults.append(Fault(option, gettext("nothing"), wanted))
    return tuple(word for word in known if word in given)


def read_dpi(text: str | None, faults: list[Fault]) -> int:
    """Dots per inch of a picture: 150 when nothing is said, letters of 2.5 mm are then 15 dots high."""
    if text is None:
        return 150
    number = int(text) if text.isascii() and text.isdigit() and len(text) < 6 else 0
    if not 50 <= number <= 600:
        faults.append(Fault("--dpi", f'"{text}"', gettext("dots per inch, from 50 to 600")))
    return number


def read_paper(text: str | None, faults: list[Fault], more: Sequence[str] = ()) -> str | None:
    """The name of a known paper; None when none was given.

    Args:
        text: what the user wrote.
        faults: a paper that is not known is added to them.
        more: names that the command knows besides.
    """
    if text is None:
        return None
    try:
        return paper(text).name
    except PaperError:
        names = either(name.casefold().replace(" ", "-") for name in (*papers(), *more))
        faults.append(Fault("--paper", f'"{text}"', names))
        return None


def read_version(text: str | None, faults: list[Fault]) -> Version:
    """A DXF version, R2010 when none was given; case does not count."""
    wanted = "R2010" if text is None else text
    known = next((version for version in VERSIONS if version.casefold() == wanted.casefold()), None)
    if known is None:
        faults.append(Fault("--dxf-version", f'"{text}"', either(VERSIONS)))
    return known or "R2010"


def usual_paper(units: str) -> str:
    """The paper of an office printer where a job in these units is built."""
    return "letter" if units == "in" else "A4"


def read_date(text: str | None, faults: list[Fault]) -> str | None:
    """A day as year, month and day; None when none was given."""
    if text is None:
        return None
    try:
        day = date.fromisoformat(text)
    except ValueError:
        day = None
    if day is None or day.isoformat() != text:
        faults.append(Fault("--date", f'"{text}"', gettext("a day as in 2025-03-14")))
        return None
    return text


def read_revision(text: str | None, faults: list[Fault]) -> str:
    """A revision as it is to be printed; empty when none was given."""
    shown = " ".join((text or "").split())
    if text is not None and not (shown.isprintable() and 0 < len(shown) <= LONGEST_REVISION):
        wanted = gettext("1 to {count} letters, as B or 2", count=LONGEST_REVISION)
        faults.append(Fault("--revision", f'"{shown}"', wanted))
        return ""
    return shown


def read_language(text: str | None, faults: list[Fault]) -> str | None:
    """The code of a language, or of two with a comma; None when none was given.

    Case does not count; a language without its country, or with another one, is the one that there is: ``fr``
    and ``es-MX`` are known as well.
    """
    if text is None:
        return None
    families = {code.partition("-")[0]: code for code in LANGUAGES}
    told = {word.strip().casefold() for word in text.split(",")}
    alike = {word: families[family] for word in told if (family := re.split("[-_]", word)[0]) in families}
    known = alike | {code.casefold(): code for code in LANGUAGES}
    given = [word.strip() for word in text.split(",")]
    wrong = [word for word in dict.fromkeys(given) if word.casefold() not in known]
    wanted = gettext("one of {words}", words=", ".join(LANGUAGES))
    faults += [Fault("--lang", f'"{word}"', wanted) for word in wrong]
    codes = [known[word.casefold()] for word in given if word.casefold() in known]
    if len(given) > 2 or len(set(codes)) < len(codes):
        wanted = gettext("one language, or two different ones, as en,es")
        faults.append(Fault("--lang", f'"{text}"', wanted))
    return ",".join(codes) or None


def read_share(option: str, text: str | None, faults: list[Fault]) -> float | None:
    """A share from 0 to 1, or with a percent sign; None when none was given."""
    if text is None:
        return None
    words = text.strip()
    if re.fullmatch(r"\d+(\.\d+)? ?%", words, re.ASCII):
        share = float(words.rstrip("% ")) / 100
    elif re.fullmatch(r"\d*\.?\d+", words, re.ASCII):
        share = float(words)
    else:
        share = -1.0
    if not 0 <= share <= 1:
        faults.append(Fault(option, f'"{text}"', gettext('a share such as 0.05 or "5 %", from 0 to 1')))
        return None
    return share
