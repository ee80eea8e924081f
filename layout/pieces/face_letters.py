"""Letters that stand for faces in the marks of pieces."""

from __future__ import annotations

import unicodedata
from collections.abc import Collection, Iterable, Sequence

from evencourse.layout.model.job import Elevation

#: What numbers of faces without letters stand behind: the first that no face or mark is called by.
_MADE = "EFNQ"


def letters_of(faces: Iterable[Elevation]) -> tuple[str, ...]:
    """Letters of the faces of a job, none of them the mark of an opening, a fixture or a roof on it."""
    found = tuple(faces)
    marks = {opening.mark for face in found for opening in face.openings}
    marks |= {fixture.mark for face in found for fixture in face.fixtures}
    marks |= {roof.mark for face in found for roof in face.roofs}
    return face_letters([face.name for face in found], marks)


def face_letters(names: Sequence[str], marks: Collection[str] = ()) -> tuple[str, ...]:
    """Letters that stand for faces in marks: initials of the words of their names, each different.

    Faces with the same initials show more of the word that tells them apart, ``Wa`` for Water and ``We`` for
    West: a number would read like the mark of a window. Where no word does, they are numbered all the same.
    A face whose letters are a mark shows more of its first word: ``St`` for Street beside a window ``S``.
    Words that do not begin with a Latin letter or a digit lend none: drawings have no others, and a piece
    must never be taken for another face's. Digits alone lend none either: ``2`` would read as a count.

    Args:
        names: of the faces, in the order of the job.
        marks: what no letters may read like, upper or lower case.
    """
    taken = {mark.casefold() for mark in marks}
    plain = [unicodedata.normalize("NFC", name) for name in names]
    words = [["".join(filter(_drawn, word)) for word in name.split() if _drawn(word[0])] for name in plain]
    initials = ["".join(word[0] for word in one).upper() for one in words]
    initials = ["" if one.isdigit() else one for one in initials]
    known = (
        {"".join(name.split()).casefold() for name in plain} | {one.casefold() for one in initials} | taken
    )
    letters = list(initials)
    for made in _MADE:
        letters = [one or f"{made}{number}" for number, one in enumerate(initials, start=1)]
        if not known & {one.casefold() for one, own in zip(letters, initials, strict=True) if not own}:
            break
    for one in {one for one in initials if one and initials.count(one) > 1}:
        alike = [index for index, other in enumerate(initials) if other == one]
        for index, told in zip(alike, _apart([words[index] for index in alike]), strict=True):
            letters[index] = told or letters[index]
    found: list[str] = []
    for one, name in zip(letters, words, strict=True):
        longer = iter(_longer(name) if one.casefold() in taken else ())
        different, more = one, 2
        while different in found or different.casefold() in taken:
            different = next(longer, "") or f"{one}{more}"
            more += different == f"{one}{more}"
        found.append(different)
    return tuple(found)


def _drawn(sign: str) -> bool:
    """Whether drawings have a sign as the letter of a face."""
    return sign.isalnum() and (sign.isascii() or unicodedata.name(sign, "").startswith("LATIN"))


def _longer(name: Sequence[str]) -> Iterable[str]:
    """More and more of the first word of a name, the initials of the others behind it."""
    rest = "".join(word[0].upper() for word in name[1:])
    return [name[0][:shown].capitalize() + rest for shown in range(2, len(name[0]) + 1)] if name else []


def _apart(names: Sequence[Sequence[str]]) -> list[str]:
    """Initials of names that have the same ones, with as much of one word as tells them apart."""
    for place, alike in enumerate(zip(*names, strict=False)):
        for shown in range(2, max(map(len, alike)) + 1):
            begun = [word[:shown].capitalize() for word in alike]
            if len(set(begun)) == len(begun):
                return [
                    "".join(begun[index] if at == place else word[0].upper() for at, word in enumerate(name))
                    for index, name in enumerate(names)
                ]
    return [""] * len(names)
