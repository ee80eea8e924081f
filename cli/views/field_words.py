"""What the fields, tables and choices of a job file are called at the desk."""

from __future__ import annotations

from evencourse.layout.language.speech import ENGLISH, LANGUAGES, gettext, noop, pgettext, spoken

#: What fields are called where the key says it too shortly; with the table before it where keys share a name.
_LABELS = {
    "elevation.name": noop("Name of this face"), "width": noop("Width"), "base": noop("Base"),
    "eave": noop("Eave"), "pitch": noop("Gable, pitch"), "peak": noop("Or peak at"),
    "at": noop("Peak from the left"), "grade": noop("Ground"), "elevation.left": noop("Left corner"),
    "elevation.right": noop("Right corner"), "turn": noop("The walk turns"),
    "weight": noop("How much this face counts"), "courses": noop("Course set"),
    "entrance": noop("Entrance, from the left"), "mark": noop("Mark"), "kind": noop("What it is"),
    "opening.left": noop("From left corner"), "opening.right": noop("Or from right corner"),
    "sill": noop("Sill height"), "height": noop("Height"), "head_edge": noop("Head flush"),
    "sill_edge": noop("Sill flush"), "rise": noop("Rise of the arch"),
    "fixture.left": noop("From left corner"), "bottom": noop("Bottom at"), "block": noop("On a block"),
    "depth": noop("Depth, straight down"), "job.name": noop("Name of the job"), "units": noop("Units"),
    "round": noop("Finest mark of the tape"), "datum": noop("The datum is"), "author": noop("Measured by"),
    "temperature": noop("Temperature at installation"), "profile": noop("Profile"),
    "exposure_min": noop("Least exposure"), "exposure_max": noop("Greatest exposure"),
    "length": noop("Stock length"), "starter": noop("Starter"), "tolerance": noop("Flush within"),
    "strip_min": noop("Sliver below"), "jump": noop("Greatest change of exposure"),
    "trim.head": noop("Over openings"), "trim.sill": noop("Below openings"),
    "trim.side": noop("Beside openings"), "outside_corner": noop("At outside corners"),
    "inside_corner": noop("At inside corners"), "spacing": noop("Studs apart"),
    "offset": noop("First stud from the left"), "shortest": noop("Shortest piece"),
    "apart": noop("Seams apart"), "spare": noop("Spare share"), "currency": noop("Currency"),
    "heap": noop("Cutoffs kept"), "opening trim.head": noop("Trim over it"),
    "opening trim.sill": noop("Trim below it"), "opening trim.side": noop("Trim beside it"),
    "zone.top": noop("Ends at"), "zone.trim": noop("Band board"), "cladding": noop("Siding"),
    "exposure": noop("Exposure"), "projection": noop("Stands off the wall at its butt by"),
    "projection_top": noop("Stands off the wall under the next butt by"),
    "starter_drop": noop("Top of the starter strip above butt line 1"),
    "cover": noop("Covers the base by at most"), "end_gap": noop("Gap at an end"),
    "end_gap_cold": noop("Gap at an end in the cold"), "end_lap": noop("Lap at a seam"),
    "foam_recess": noop("Foam held back from an end"), "nail_spacing": noop("Nails apart, at most"),
    "nail_length": noop("Shortest nail"), "ground_clearance": noop("Clear of the ground"),
    "roof_clearance": noop("Clear of a roof"), "label": noop("Label"), "material": noop("Material"),
    "source": noop("Source"), "family": noop("Family"), "lap": noop("Lap"),
    "cladding.faces": noop("Steps"), "faces": noop("Faces"), "carton": noop("Carton"),
    "carton_squares": noop("Squares in a carton"), "cold": noop("Cold up to"),
    "model_datum": noop("Datum in the model"), "language": noop("Language"), "shape": noop("Shape"),
    "line": noop("Line"),
}  # fmt: skip
#: What tables and some fields are called within a sentence.
_WITHIN = {
    "elevation": noop("face"), "outline": noop("corner of the wall"), "cladding": noop("siding"),
    "claddings": noop("claddings"), "gable": noop("gable"), "opening": noop("opening"),
    "fixture": noop("fixture"), "roof": noop("roof"), "zone": noop("zone"), "job": noop("job"),
    "limits": noop("limits"), "trim": noop("trim"), "framing": noop("framing"), "seams": noop("seams"),
    "order": noop("order"), "prices": noop("prices"), "lengths": noop("lengths"),
    "as_built": noop("as built"), "course": noop("course"), "on_plan": noop("on plan"),
    "gable.peak": noop("peak at"), "opening.right": noop("from right corner"),
}  # fmt: skip


def field_label(table: str, key: str) -> str:
    """What a field is called.

    Args:
        table: that it stands in.
        key: its name in the job file.
    """
    label = _LABELS.get(f"{table}.{key}") or _LABELS.get(key)
    return gettext(label) if label else key[:1].upper() + key[1:]


def label_of(table: str, key: str) -> str:
    """What a table or a field is called within a sentence.

    Args:
        table: that it stands in; "" for a table of the job file itself.
        key: its name in the job file.
    """
    place = f"{table}.{key}"
    if word := _WITHIN.get(place):
        return gettext(word)
    if word := _LABELS.get(place) or (_LABELS.get(key) if table else None):
        label = gettext(word)
        # In English it begins small; elsewhere it stays as it stands at its field: nouns may begin large.
        return label[:1].lower() + label[1:] if spoken() is ENGLISH else label
    if word := _WITHIN.get(key):
        return gettext(word)
    return (key[:1].lower() + key[1:]).removeprefix("or ").replace("_", " ")


def choice_words(value: str) -> str:
    """What can be chosen for a field, in words.

    Args:
        value: as the job file has it; empty where nothing is said.
    """
    words = {
        "": gettext("not said"), "true": gettext("yes"), "false": gettext("no"),
        "outside corner": gettext("outside corner"), "inside corner": gettext("inside corner"),
        "butts": gettext("butts a wall or trim"),
        "left": pgettext("where the walk turns", "left"),
        "right": pgettext("where the walk turns", "right"),
        "straight": pgettext("where the walk turns", "straight"),
        "not in walk": pgettext("where the walk turns", "not in walk"),
        "must": pgettext("how much an edge matters", "must"),
        "want": pgettext("how much an edge matters", "want"),
        "ignore": pgettext("how much an edge matters", "ignore"),
        "panel": pgettext("kind of siding", "panel"), "lap": pgettext("kind of siding", "lap"),
        "shingle": pgettext("kind of siding", "shingle"),
        "roof": gettext("roof"), "deck": gettext("deck"), "ledger": gettext("ledger"),
        **opening_words(),
        **{code: one.name for code, one in LANGUAGES.items()},
    }  # fmt: skip
    return words.get(value, value)


def opening_words() -> dict[str, str]:
    """Kinds and shapes of openings in words."""
    return {
        "window": gettext("window"), "door": gettext("door"), "garage door": gettext("garage door"),
        "vent": gettext("vent"), "other": pgettext("kind of opening", "other"),
        "rectangle": pgettext("shape of an opening", "rectangle"),
        "round": pgettext("shape of an opening", "round"),
        "half-round": pgettext("shape of an opening", "half-round"),
        "arch": pgettext("shape of an opening", "arch"),
        "triangle": pgettext("shape of an opening", "triangle"),
    }  # fmt: skip
