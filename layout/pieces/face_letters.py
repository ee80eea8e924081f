"""Letters that stand for faces in the marks of pieces."""

from __future__ import annotations

from collections.abc import Sequence


def face_letters(names: Sequence[str]) -> tuple[str, ...]:
    """Letters that stand for faces in marks: initials of the words of their names, each different.

    Faces with the same initials show more of the word that tells them apart, ``Wa`` for Water and ``We`` for
    West: a number would read like the mark of a window. Where no word does, they are numbered all the same.

    Args:
        names: of the faces, in the order of the job.
    """
    words = [[word for word in name.split() if word[0].isalnum()] for name in names]
    initials = ["".join(word[0] for word in one).upper() for one in words]
    letters = [one or f"E{number}" for number, one in enumerate(initials, start=1)]
    for one in {one for one in initials if initials.count(one) > 1}:
        alike = [index for index, other in enumerate(initials) if other == one]
        for index, told in zip(alike, _apart([words[index] for index in alike]), strict=True):
            letters[index] = told or letters[index]
    found: list[str] = []
    for one in letters:
        different, more = one, 2
        while different in found:
            different, more = f"{one}{more}", more + 1
        found.append(different)
    return tuple(found)


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
