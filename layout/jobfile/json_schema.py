"""The job file's keys as a JSON Schema, made from the one list that drives reading."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from evencourse.layout.jobfile.face_tables import HEAVIEST
from evencourse.layout.jobfile.keys import TABLES, Key
from evencourse.layout.jobfile.order_keys import SHORTEST
from evencourse.layout.jobfile.table_reader import (
    COLDEST,
    DEAREST,
    GREATEST,
    HOTTEST,
    LONGEST,
    MOST,
    MOST_CORNERS,
    PITCH,
    SHARE,
    STEEPEST,
    TEMPERATURE,
)
from evencourse.layout.model.lengths import FRACTIONS
from evencourse.layout.model.lengths import GREATEST as GREATEST_LENGTH
from evencourse.layout.model.lengths import LONGEST as LONGEST_LENGTH
from evencourse.layout.trade.materials import materials
from evencourse.layout.trade.profiles import profile_names
from evencourse.layout.trade.rules import rules

_SIGN = f"[{''.join(FRACTIONS)}]"
_OVER = r"[0-9]+[/⁄]0*[1-9][0-9]*"
_MIXED = (
    rf"(?:[0-9]+(?:(?:\s+|[-−]){_OVER}|(?:\s*|[-−]){_SIGN})|{_OVER}|{_SIGN}|[0-9]+(?:\.[0-9]*)?|\.[0-9]+)"
)
_FOOT, _INCH = "(?:['′’]|ft\\.?|feet|foot)", '(?:["″”]|in\\.?|inch(?:es)?)'
_BODY = rf"(?:[0-9]+\s*{_FOOT}(?:\s*[-−]?\s*{_MIXED}\s*{_INCH}?)?|{_MIXED}\s*(?:mm|cm|m|{_INCH})?)"
#: A text that is a length: the grammar of ``evencourse.layout.model.lengths`` in regular expressions that
#: every reader of JSON Schema has: no look-around, no classes of Unicode.
LENGTH = rf"^\s*[-−]?\s*{_BODY}\s*$"
#: A length that is below zero, and one that is zero.
_MINUS = rf"^\s*[-−](?:.*[^/⁄0-9])?0*[1-9{''.join(FRACTIONS)}]"
_ZERO = rf"^(?:[^1-9{''.join(FRACTIONS)}]|0[/⁄][0-9]+)*$"
#: Control characters, line ends, and marks that turn the reading direction.
_UNSEEN = r"\u0000-\u001f\u007f-\u009f\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f\ufeff"
#: A text of one line with something in it.
_TEXT = rf"^[^{_UNSEEN}]*[^ \u00a0\u200c\u200d\u202f{_UNSEEN}][^{_UNSEEN}]*$"
_ONE_LINE: dict[str, Any] = {"type": "string", "minLength": 1, "maxLength": LONGEST, "pattern": _TEXT}


def job_schema() -> dict[str, Any]:
    """The job file as a JSON Schema, draft 2020-12."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "evencourse job file",
        "description": "What stands on the site, as measured; heights from the datum, up positive.",
        **_table(""),
        "$defs": {"length": _length(), **{_name(name): _table(name) for name in TABLES if name}},
    }


def _table(name: str) -> dict[str, Any]:
    keys = TABLES[name]
    found: dict[str, Any] = {
        "type": "object",
        "additionalProperties": False,
        "properties": {key.name: _key(name, key) for key in keys},
    }
    required = [key.name for key in keys if key.required]
    return found | ({"required": required} if required else {}) | _TOGETHER.get(name, {})


def _key(table: str, key: Key) -> dict[str, Any]:
    found: dict[str, Any] = {"description": key.doc, **_value(table, key)}
    if key.default is not None and key.default != "":
        found["default"] = key.default
    if key.rule:
        values, _, name = key.rule.partition(".")
        found["description"] += f"; {getattr(rules(), values)[name]:g} in when left out"
    return found


def _value(table: str, key: Key) -> Mapping[str, Any]:
    length = {"$ref": "#/$defs/length"}
    if (table, key.name) == ("", "claddings"):
        several = {"$ref": "#/$defs/cladding"}
        return {
            "type": "object",
            "minProperties": 1,
            "additionalProperties": several,
            "propertyNames": _ONE_LINE,
        }
    if (table, key.name) == ("cladding", "profile"):
        return {"enum": list(profile_names())}
    match key.kind:
        case "table":
            return {"$ref": f"#/$defs/{_name(key.items)}"}
        case "tables":
            items = {"$ref": f"#/$defs/{_name(key.items)}"}
            return {"type": "array", "items": items, "maxItems": MOST} | (
                {"minItems": 1} if key.required else {}
            )
        case "text" | "file":
            return _ONE_LINE
        case "word":
            return {"enum": list(key.words)}
        case "flag":
            return {"type": "boolean"}
        case "count":
            return {"type": "integer", "minimum": 0, "maximum": GREATEST}
        case "number":
            least = -GREATEST if key.name == "cold" else 0
            most = HEAVIEST if (table, key.name) == ("elevation", "weight") else GREATEST
            return {"type": "number", "minimum": least, "maximum": most}
        case "share":
            return _either({"type": "number", "minimum": 0, "maximum": 1}, SHARE)
        case "pitch":
            return _either({"type": "number", "exclusiveMinimum": 0, "maximum": STEEPEST}, PITCH)
        case "temperature":
            return _either({"type": "number", "minimum": COLDEST, "maximum": HOTTEST}, TEMPERATURE)
        case "heights":
            return {"anyOf": [length, _pair(length)]}
        case "ground":
            return {"anyOf": [length, _pair(length), _points(length, 2)]}
        case "range":
            return _pair(length)
        case "points":
            return _points(length, 3)
        case "line":
            return _points(length, 2)
        case "prices":
            price = {"type": "number", "minimum": 0, "exclusiveMaximum": DEAREST}
            return {"type": "object", "additionalProperties": price, "propertyNames": _ONE_LINE}
        case "names":
            one = {"enum": list(key.words)} if key.words else _ONE_LINE
            return {"type": "array", "items": one, "uniqueItems": True, "maxItems": MOST}
        case "lengths":
            stock = {kind: length | {"minimum": SHORTEST} for kind in materials()["trim"]}
            return {"type": "object", "properties": stock, "additionalProperties": False}
        case "size":
            unfit = {"type": "string", "anyOf": [{"pattern": _MINUS}, {"pattern": _ZERO}]}
            return length | {"exclusiveMinimum": 0, "not": unfit}
        case "amount":
            return length | {"minimum": 0, "not": {"type": "string", "pattern": _MINUS}}
        case _:
            return length


def _length() -> dict[str, Any]:
    most = GREATEST_LENGTH * 25.4  # in a metric job; the editor does not know the units
    text = {"type": "string", "maxLength": LONGEST_LENGTH, "pattern": LENGTH}
    return {
        "description": "a number in the job's units, or a text such as 36-1/2, 14' 3-1/2\" or 4356 mm",
        "anyOf": [{"type": "number", "minimum": -most, "maximum": most}, text],
    }


def _either(number: Mapping[str, Any], pattern: str) -> dict[str, Any]:
    return {"anyOf": [number, {"type": "string", "pattern": rf"^\s*(?:{pattern})\s*$"}]}


def _pair(item: Mapping[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": item, "minItems": 2, "maxItems": 2}


def _points(length: Mapping[str, Any], least: int) -> dict[str, Any]:
    return {"type": "array", "items": _pair(length), "minItems": least, "maxItems": MOST_CORNERS}


def _name(table: str) -> str:
    return table.replace(" ", "_")


def _one_of(*names: str) -> dict[str, Any]:
    return {"oneOf": [{"required": [name]} for name in names]}


#: What keys of one table say together.
_TOGETHER: dict[str, dict[str, Any]] = {
    "": _one_of("cladding", "claddings"),
    "gable": _one_of("pitch", "peak"),
    "opening": _one_of("left", "right"),
    "elevation": {
        "if": {"required": ["outline"]},
        "then": {"not": {"anyOf": [{"required": [key]} for key in ("width", "base", "eave", "gable")]}},
        "else": {"required": ["width", "eave"]},
    },
}
