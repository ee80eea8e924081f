"""What each layer of a drawing holds: what the user says, else what its name says."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase
from functools import cache
from pathlib import Path
from typing import Any

from evencourse.layout.language.speech import gettext
from evencourse.layout.model.errors import Fault
from evencourse.layout.model.job import OpeningKind

#: What a layer can hold. ``opening``: of a kind that only a block or an attribute tells; ``roof``: bands of
#: roofs, decks and ledgers against a wall; ``name``: lettering that names the faces.
ROLES = (
    "wall", "window", "door", "garage door", "vent", "opening", "fixture", "roof", "datum", "grade",
    "name", "ignore",
)  # fmt: skip
#: Roles of layers that hold openings, with the openings' kind.
KINDS: dict[str, OpeningKind] = {
    "window": "window",
    "door": "door",
    "garage door": "garage door",
    "vent": "vent",
    "opening": "other",
}
#: Roles whose lines are read.
DRAWN = (*KINDS, "wall", "fixture", "roof", "datum", "grade")


@dataclass(frozen=True)
class Role:
    """What a layer is taken for.

    Attributes:
        roles: what it holds; more than one only where the user says so.
        why: in words.
        certain: no other reading of the name.
    """

    roles: tuple[str, ...]
    why: str
    certain: bool = True


@cache
def _data() -> Mapping[str, Any]:
    with (Path(__file__).parent / "layers.toml").open("rb") as file:
        return tomllib.load(file)


def limits() -> Mapping[str, float]:
    """Tolerance, and the widths of walls that are believed [in]."""
    found: Mapping[str, float] = _data()["limits"]
    return found


def sizes() -> Mapping[str, tuple[float, float]]:
    """Least and greatest sizes by which regions are told apart [in]."""
    found: Mapping[str, tuple[float, float]] = _data()["sizes"]
    return found


def titles() -> Mapping[str, Sequence[str]]:
    """Words by which lettering names a face."""
    found: Mapping[str, Sequence[str]] = _data()["titles"]
    return found


def read_layers(given: Iterable[str], faults: list[Fault]) -> dict[str, list[str]]:
    """Layer names or patterns by role, from ``role=NAME``.

    Args:
        given: as on the command line; a role may come more than once, and ``*`` stands for anything.
        faults: gets what cannot be read.
    """
    found: dict[str, list[str]] = {}
    for words in given:
        role, _, name = words.partition("=")
        role = role.strip().casefold().replace("-", " ")
        role = {"walls": "wall", "windows": "window", "doors": "door"}.get(role, role)
        if role not in ROLES or not name.strip():
            wanted = gettext("ROLE=LAYER with one of {roles}", roles=", ".join(ROLES))
            faults.append(Fault("--layer", f'"{words[:80]}"', wanted))
            continue
        found.setdefault(role, []).append(name.strip())
    return found


class Roles:
    """Answers what a layer holds.

    Args:
        given: layer names or patterns by role: what the user says. A role that is given is not guessed.
        accept: take what a name may mean, too.
    """

    def __init__(self, given: Mapping[str, Sequence[str]], accept: bool = False) -> None:
        self.given, self.accept = given, accept
        self.known: dict[str, Role] = {}

    def of(self, layer: str) -> Role:
        """What a layer holds; no role when nothing speaks for one, or its name may mean another thing."""
        role = self.perhaps(layer)
        return role if role.certain or self.accept else Role((), "")

    def perhaps(self, layer: str) -> Role:
        """What a layer holds, or may hold."""
        if layer not in self.known:
            self.known[layer] = self._role(layer)
        return self.known[layer]

    def bounds(self, layer: str) -> bool:
        """Whether lines on a layer may bound a wall, though they are no part of one: roofs, trim, layer 0."""
        role = self.of(layer).roles
        if role == ("ignore",):
            return not self.named(layer) and bool(set(words_of(layer)) & set(_data()["edges"]["words"]))
        return "ignore" not in role

    def named(self, layer: str) -> bool:
        """Whether the user has named this layer."""
        return bool(self._said(layer))

    def _said(self, layer: str) -> tuple[str, ...]:
        name = layer.casefold()
        return tuple(
            role
            for role in ROLES
            if any(fnmatchcase(name, _literal(one)) for one in self.given.get(role, ()))
        )

    def _role(self, layer: str) -> Role:
        if said := self._said(layer):
            return Role(said, gettext("as you say"))
        guess = guessed(layer)
        free = tuple(role for role in guess.roles if role not in self.given)
        return Role(free, guess.why, guess.certain) if free else Role((), "")


def _literal(pattern: str) -> str:
    """A pattern in which only ``*`` is special."""
    return re.sub(r"[\[?]", lambda sign: f"[{sign[0]}]", pattern.casefold())


def words_of(name: str) -> list[str]:
    """The words of a name, in lower case: ``GarageDoors_2`` is garage, doors."""
    parts = re.findall(r"[^\W\d_]+", re.sub(r"([a-z])([A-Z])", r"\1 \2", name[:200]))
    return [part.casefold() for part in parts]


def says_wall(name: str) -> bool:
    """Whether a word of a layer's name speaks of walls, whatever its other words say."""
    return any(_in(word, _data()["words"]["wall"]) for word in words_of(name))


def guessed(name: str) -> Role:
    """What the name of a layer or a block says; no role when it says nothing."""
    name = re.split(r"[$|]", name)[-1] or name  # without the file that a bound reference came from
    upper = name.upper()
    for rule in _data()["standard"]:
        if any(fnmatchcase(upper, pattern) for pattern in rule["names"]):
            return Role((rule["role"],), gettext("standard name"))
    words = words_of(name)
    said = {role: [word for word in words if _in(word, known)] for role, known in _data()["words"].items()}
    said = {role: found for role, found in said.items() if found}
    if "ignore" in said:
        return Role(("ignore",), gettext('the word "{word}"', word=said["ignore"][0]))
    if "garage door" in said:
        said.pop("door", None)
    if len(said) > 1 and "opening" in said:
        said.pop("opening")
    if said:
        role, found = next(iter(said.items()))
        others = [word for words in list(said.values())[1:] for word in words]
        if others:
            why = gettext('the words "{word}" and "{other}"', word=found[0], other=others[0])
            return Role((role,), why, certain=False)
        return Role((role,), gettext('the word "{word}"', word=found[0]))
    for role, known in _data()["doubtful"].items():
        for word in words:
            if _in(word, known):
                return Role((role,), gettext('the word "{word}" may mean it', word=word), certain=False)
    return Role((), "")


def _in(word: str, known: Sequence[str]) -> bool:
    """Whether a word is a known one, or holds one that is written without spaces around it."""
    return word in known or (not word.isascii() and any(one in word for one in known if ord(one[0]) > 0x2E80))


def idle_block(name: str) -> bool:
    """Whether a block's name says that it is of no use: a tree, a car, a title block."""
    return bool(set(words_of(name)) & set(_data()["idle"]["words"]))


def kind_of_block(name: str) -> str:
    """The role that a block's name says; empty when it says none that a thing on a wall can have."""
    roles = guessed(name).roles
    return roles[0] if roles and roles[0] in (*KINDS, "fixture") else ""


def face_name(layer: str) -> str:
    """What a wall's layer says about which face it is: ``FRONT-WALL`` is Front; else empty."""
    if any(fnmatchcase(layer.upper(), pattern) for rule in _data()["standard"] for pattern in rule["names"]):
        return ""
    plain = {word for table in ("words", "doubtful") for known in _data()[table].values() for word in known}
    left = [word for word in words_of(layer) if word not in plain and len(word) > 2]
    return " ".join(left).capitalize()
