"""Lengths as a tape reads them, in and out. Nothing is guessed.

Read: bare numbers in the job's units; whole and fraction (``36-1/2``, ``36 1/2``); feet and inches
(``14' 3-1/2"``, ``14ft 3-1/2in``; the inch mark may be left out after feet); a leading minus for the whole
length; Unicode fractions and primes; metric with its unit, in any job.
"""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache
from math import floor, isfinite

from evencourse.layout.language.speech import gettext, noop
from evencourse.layout.model.errors import LengthError
from evencourse.layout.model.job import Units

#: Longest text that is looked at.
LONGEST = 64
#: Greatest length that is believed [inches]: a thousand feet.
GREATEST = 12_000
#: What a refused text is told.
WANTED = noop("""a length such as 36-1/2, 14' 3-1/2" or 4356 mm""")

#: Unicode's fractions.
FRACTIONS = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8",
    "⅞": "7/8", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6",
}  # fmt: skip
_SIGNS = str.maketrans(
    {"⁄": "/", "′": "'", "’": "'", "″": '"', "”": '"', "−": "-", "\u00a0": " ", "\u202f": " "}
)
_FRACTION = re.compile(f"(-?)([{''.join(FRACTIONS)}])(?![0-9])")
_MILLIMETRES = {"mm": Fraction(1), "cm": Fraction(10), "m": Fraction(1000)}
_INCH = Fraction(254, 10)

_DECIMAL = r"(?:\d+(?:\.\d*)?|\.\d+)"
_MIXED = rf"(?:(?P<whole>\d+)[ -](?P<over>\d+/\d+)|(?P<alone>\d+/\d+)|(?P<decimal>{_DECIMAL}))"
_FOOT = r"(?:'|ft\.?|feet|foot)"
_MARK = r"(?:\"|in\.?|inch(?:es)?)"
_FEET_INCHES = re.compile(rf"(?P<feet>\d+) ?{_FOOT}(?: ?-? ?{_MIXED} ?{_MARK}?)?", re.ASCII)
_INCHES = re.compile(rf"{_MIXED} ?(?P<mark>{_MARK})?", re.ASCII)
_METRIC = re.compile(rf"{_MIXED} ?(?P<unit>mm|cm|m)", re.ASCII)


def parse_length(value: object, units: Units) -> float:
    """A length as written in a job file or on a command line.

    Args:
        value: a number in ``units``, or a text in the grammar above.
        units: the job's units: what a length without a unit of its own is in.

    Returns:
        The length [``units``].

    Raises:
        LengthError: anything that would have to be guessed (``14-3``, ``5 6``), is no number, or is longer
            than a thousand feet.
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        raise LengthError(_kind(value), gettext(WANTED))
    if isinstance(value, str):
        length = _text(value, units)
    else:
        if isinstance(value, float) and not isfinite(value):
            raise LengthError(str(value), gettext(WANTED))
        length = float(value) if abs(value) < 1e12 else float("inf")
    if abs(length) > GREATEST * (1.0 if units == "in" else 25.4):
        raise LengthError(_quoted(value), gettext("a length of less than 1000 feet"))
    return length


def round_length(value: float, mark: float) -> float:
    """A length on the tape's nearest mark; halfway goes up.

    Args:
        value: [job units].
        mark: distance between two marks [job units].
    """
    return floor(round(value / mark, 6) + 0.5) * mark


@lru_cache(maxsize=1 << 14)
def show_length(value: float, units: Units, mark: float, feet: bool = True) -> str:
    """A length as the tape reads it: ``2' 11-1/2"``, ``-2-3/8"``, ``0"``; millimetres without a unit.

    Args:
        value: [``units``].
        units: the job's units.
        mark: finest mark of the tape [``units``]; the length is rounded to it, halfway up.
        feet: feet and inches from one foot up; else inches alone.
    """
    rounded = round_length(value, mark)
    step = Fraction(mark).limit_denominator(1000)
    exact = round(Fraction(rounded) / step) * step if step else Fraction(rounded)
    sign, size = ("-" if exact < 0 else ""), abs(exact)
    if units == "mm":
        return f"{sign}{_plain(size)}"
    binary = step.denominator & (step.denominator - 1) == 0
    over = size % 1
    if feet and size >= 12:
        inches = _inches(size % 12, binary)
        if over and size % 12 == over and binary:
            inches = f"0-{inches}"
        return f"""{sign}{size // 12}' {inches}\""""
    return f'{sign}{_inches(size, binary)}"'


def _inches(size: Fraction, binary: bool) -> str:
    """Inches in halves down to sixty-fourths, or in decimals: one tape shows one of the two."""
    if not binary:
        return _plain(size)
    whole, over = divmod(size, 1)
    if not over:
        return str(whole)
    return f"{whole}-{over}" if whole else str(over)


def _plain(size: Fraction) -> str:
    return f"{float(size):.4f}".rstrip("0").rstrip(".")


@lru_cache(maxsize=4096)
def _text(value: str, units: Units) -> float:
    if len(value) > LONGEST:
        found = gettext("{beginning} … ({count} characters)", beginning=repr(value[:20]), count=len(value))
        raise LengthError(found, gettext(WANTED))
    # A fraction of one sign joins the whole number before it with nothing, a space or a hyphen between them.
    signed = _FRACTION.sub(lambda sign: (sign[1] or " ") + FRACTIONS[sign[2]], value.translate(_SIGNS))
    text = " ".join(signed.split())
    minus = text.startswith("-")
    body = text[1:].lstrip() if minus else text
    for pattern, read in ((_FEET_INCHES, _feet_inches), (_METRIC, _metric), (_INCHES, _plain_inches)):
        match = pattern.fullmatch(body)
        if match is not None:
            size = read(match, value, units)
            return float(-size if minus else size)
    raise LengthError(_quoted(value), _hint(body))


def _feet_inches(match: re.Match[str], value: str, units: Units) -> Fraction:
    over = _mixed(match, value)
    if over >= 12:
        raise LengthError(_quoted(value), gettext("inches below 12 after the feet"))
    inches = 12 * int(match["feet"]) + over
    return inches if units == "in" else inches * _INCH


def _metric(match: re.Match[str], value: str, units: Units) -> Fraction:
    millimetres = _mixed(match, value) * _MILLIMETRES[match["unit"]]
    return millimetres if units == "mm" else millimetres / _INCH


def _plain_inches(match: re.Match[str], value: str, units: Units) -> Fraction:
    size = _mixed(match, value)
    return size * _INCH if match["mark"] and units == "mm" else size


def _mixed(match: re.Match[str], value: str) -> Fraction:
    if match["whole"] is not None:
        over = _fraction(match["over"], value)
        if over >= 1:
            raise LengthError(_quoted(value), gettext("a fraction below one after the whole number"))
        return int(match["whole"]) + over
    if match["alone"] is not None:
        return _fraction(match["alone"], value)
    return Fraction(match["decimal"].rstrip(".")) if match["decimal"] else Fraction(0)


def _fraction(text: str, value: str) -> Fraction:
    above, below = text.split("/")
    if int(below) == 0:
        raise LengthError(_quoted(value), gettext("a fraction with something below the line"))
    return Fraction(int(above), int(below))


def _hint(body: str) -> str:
    """What to write instead of the usual doubtful forms."""
    doubtful = re.fullmatch(r"(\d+) ?[- ] ?(\d+)", body, re.ASCII)
    if doubtful:
        first, second = (int(part) for part in doubtful.groups())
        if second >= 12:
            return gettext("{whole}-1/2 or the like for a whole number and a fraction", whole=first)
        return gettext(
            """{first}' {second}" for feet and inches, {first}-{second}/16 or the like for a fraction""",
            first=first,
            second=second,
        )
    if re.fullmatch(rf"{_DECIMAL} ?{_FOOT}", body, re.ASCII):
        return gettext("feet and inches: 14' 6\" instead of 14.5'")
    if "," in body:
        return gettext("a point for the decimal and nothing between thousands")
    return gettext(WANTED)


def _kind(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list):
        return gettext("a list")
    if isinstance(value, dict):
        return gettext("a table")
    if value is None:
        return gettext("nothing")
    return gettext("a {type}", type=type(value).__name__)


def _quoted(value: object) -> str:
    if isinstance(value, int) and abs(value) >= 10**LONGEST:
        return gettext("a number of more than {count} digits", count=LONGEST)
    return f'"{value}"' if isinstance(value, str) else str(value)
