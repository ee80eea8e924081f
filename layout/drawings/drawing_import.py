"""A drafter's drawing as a job: what its layers hold, what was understood, and the job made of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import cached_property, reduce

from evencourse.layout.drawings.drawing_units import (
    WORDS,
    UnitScale,
    likely_units,
    no_units,
    of_header,
    other_units,
    scale,
    width_faults,
)
from evencourse.layout.drawings.drawn_by_shape import stroke
from evencourse.layout.drawings.drawn_faces import Faces, find_faces
from evencourse.layout.drawings.first_look import Look, Wishes, cladding_faults, placed_blocks, why_no_face
from evencourse.layout.drawings.job_faces import Understood, bare_job, elevations, placed_faults
from evencourse.layout.drawings.picks import VIEWS, NumberedRegion, numbered, picked
from evencourse.layout.dxf.block_placing import PlacedDrawing
from evencourse.layout.dxf.dxf_content import MOST_OTHERS, DxfContent, Unused
from evencourse.layout.dxf.layers import limits
from evencourse.layout.jobfile.job_file import parse_job
from evencourse.layout.jobfile.job_text import Remarks, job_text
from evencourse.layout.language.speech import decimals, gettext, ngettext
from evencourse.layout.model.as_built import AsBuilt
from evencourse.layout.model.errors import Fault, JobError
from evencourse.layout.model.geometry import Box
from evencourse.layout.model.job import Elevation, Job, Point
from evencourse.layout.model.lengths import show_length
from evencourse.layout.trade.plausible import odd_measures
from evencourse.layout.trade.profiles import build_cladding
from evencourse.layout.trade.rules import rules


@dataclass(frozen=True)
class Import:
    """A drawing as a job.

    Attributes:
        job: what was understood; None when only faces were looked for.
        text: its job file; empty likewise.
        understood: faces, notes and places.
        unused: what could not be used.
        scale: the drawing's units.
        carried: the drawing carries a job of its own, from which the words were taken.
        like: the job that gave what is not drawn, the user's or the drawing's own; None for none.
        regions: all that can be picked, with its number.
        lines: of the drawing [drawing units].
    """

    job: Job | None
    text: str
    understood: Understood
    unused: tuple[Unused, ...]
    scale: UnitScale
    carried: bool
    like: Job | None = None
    regions: tuple[NumberedRegion, ...] = ()
    lines: tuple[tuple[Point, ...], ...] = ()


@dataclass(frozen=True)
class Gathered:
    """What is known of a drawing before anything on it is picked.

    Attributes:
        found: its faces.
        placed: the drawing.
        scale: its units; None when they are not known, which is a fault.
        like: a job that gives what is not drawn.
        carried: the drawing carries that job.
        notes: what a person should know.
        unused: what could not be used before faces were looked for.
        faults: those that are known already.
        doubts: why no job can be made of it yet: its scale is a guess.
    """

    found: Faces
    placed: PlacedDrawing
    scale: UnitScale | None
    like: Job | None
    carried: bool = False
    notes: Sequence[str] = ()
    unused: Sequence[Unused] = ()
    faults: Sequence[Fault] = ()
    doubts: Sequence[Fault] = ()

    @cached_property
    def regions(self) -> tuple[NumberedRegion, ...]:
        """All that can be picked, with its number."""
        return numbered(self.found)

    def lines(self, wishes: Wishes) -> tuple[tuple[Point, ...], ...]:
        """All lines that were looked at [drawing units]."""
        deviation = _tolerance(wishes, self.scale or scale("in", ""))
        grouped = [curve for group in self.placed.groups for curve in group.curves]
        every = (*self.placed.curves, *self.placed.others, *grouped)
        return tuple(tuple(stroke(one, deviation)) for one in every)


def understand(seen: Look, wishes: Wishes, make_job: bool = True) -> Import:
    """Make a job of a drawing: what is gathered, then finished.

    Args:
        seen: the drawing.
        wishes: what the user says.
        make_job: the job is wanted, not only what was found.

    Raises:
        JobError: every fault: layers that say too little, units, walls that do not close, damaged entities,
            and what a job must satisfy, each with its place on the drawing.
    """
    return finished(gather(seen, wishes), wishes, make_job)


def gather(seen: Look, wishes: Wishes) -> Gathered:
    """Look for faces on a drawing, whatever is picked of them later: most of the work.

    Args:
        seen: the drawing.
        wishes: what the user says; picks and siding do not count here.
    """
    document = seen.document
    faults = list(document.faults)
    faults += _layer_faults(seen, wishes)
    drawn = _scale(document, wishes)
    like, carried, notes = _like(document, wishes, drawn, faults)
    placed = placed_blocks(seen)
    found, drawn, doubts = _found(placed, seen, wishes, drawn, faults)
    if document.overfull and not found.faces:
        found.notes.append(
            gettext("more than {count} lines on layers without a role: none was looked at", count=MOST_OTHERS)
        )
    faults += found.faults
    told = document.faults or found.faults or any("wall" in fault.wanted for fault in faults)
    told = told or not document.in_model
    if not found.faces and not told:
        stand_in = drawn or scale("in", "")
        found.none = why_no_face(seen, placed, stand_in, _tolerance(wishes, stand_in))
    return Gathered(found, placed, drawn, like, carried, notes, document.unused, faults, doubts)


def finished(drawn: Gathered, wishes: Wishes, make_job: bool) -> Import:
    """Make a job of the faces that were found; what was gathered stays as it is.

    Args:
        drawn: the drawing; faces that are picked take the place of those found.
        wishes: what the user says.
        make_job: the job is wanted, not only what was found.

    Raises:
        JobError: every fault.
    """
    faults, scale = list(drawn.faults), drawn.scale
    if make_job:
        faults[:0] = drawn.doubts
        cladding_faults(wishes, drawn.like, faults)
    found = replace(drawn.found, faces=[replace(face) for face in drawn.found.faces])
    regions = drawn.regions
    if scale is not None and not faults:
        picked(found, regions, wishes.faces, wishes.openings, scale.inch / scale.factor, faults)
    if not found.faces and found.none and (make_job or not regions):
        found_instead = _views(regions) or found.none
        faults.append(Fault(gettext("the drawing"), found_instead, gettext("a closed outline for each face")))
    if faults or scale is None:
        raise JobError(dict.fromkeys(faults))
    tolerance = _tolerance(wishes, scale)
    by_line = "datum" in wishes.layers
    understood = elevations(found, drawn.placed.labels, scale, tolerance, wishes.datum, drawn.like, by_line)
    understood.notes[:0] = [*drawn.notes, *found.notes, *_unusual(understood, scale)]
    unused, lines = (*drawn.unused, *found.unused), drawn.lines(wishes)
    seen = Import(None, "", understood, unused, scale, drawn.carried, drawn.like, regions, lines)
    if not make_job:
        return seen
    job = _job(understood, wishes, drawn.like, scale)
    text = job_text(job, _remarks(understood, wishes, scale, found))
    try:
        return replace(seen, job=parse_job(text), text=text)
    except JobError as error:
        raise JobError(placed_faults(error.faults, understood)) from error


def _views(regions: Sequence[NumberedRegion]) -> str:
    """What may be a face among the regions, in words; empty where nothing may."""
    views = Counter(one.shape.what for one in regions if one.shape.what in VIEWS)
    if not views:
        return ""
    said = {
        "face": ngettext("{count} that may be a face", "{count} that may be a face", views["face"]),
        "plan": ngettext("{count} that may be a plan", "{count} that may be a plan", views["plan"]),
        "section": ngettext(
            "{count} that may be a section", "{count} that may be a section", views["section"]
        ),
    }
    some = reduce(lambda a, b: gettext("{one} and {other}", one=a, other=b), [said[what] for what in views])
    hint = gettext("--svg PICTURE numbers them for --face")
    return gettext("no outline that is surely a face, but {regions}: {hint}", regions=some, hint=hint)


def _tolerance(wishes: Wishes, drawn: UnitScale) -> float:
    """How near ends meet [drawing units]."""
    return (wishes.tolerance or limits()["tolerance"]) * drawn.inch / drawn.factor


def _found(
    placed: PlacedDrawing,
    seen: Look,
    wishes: Wishes,
    drawn: UnitScale | None,
    faults: list[Fault],
) -> tuple[Faces, UnitScale | None, list[Fault]]:
    """The faces, in units that the openings do not speak against; and why those are a guess."""
    stand_in = drawn or scale("in", "")
    found = find_faces(placed, seen.roles, stand_in, _tolerance(wishes, stand_in))
    likely = (
        None
        if wishes.units is not None
        else likely_units(found.boxes, found.wall_boxes, drawn.name if drawn else None)
    )
    walls = [(face.outline.box[2] - face.outline.box[0], face.outline.source) for face in found.faces]
    widths = width_faults(walls, drawn, likely) if drawn is not None else []
    code = seen.document.units
    if likely is None:
        metric = seen.document.metric
        faults += (
            widths
            if drawn is not None
            else [no_units(code, None if metric is None else "mm" if metric else "in")]
        )
        return found, drawn, []
    by_openings = scale(likely, gettext("the sizes of its openings"))
    doubts = [no_units(code, likely)]
    if drawn is not None:
        doubts = widths or [other_units(found.boxes or found.wall_boxes, drawn, likely)]
    found = find_faces(placed, seen.roles, by_openings, _tolerance(wishes, by_openings))
    found.notes.append(_openings_say(drawn, likely))
    return found, by_openings, doubts


def _openings_say(drawn: UnitScale | None, likely: str) -> str:
    """What is said where the openings speak for other units than the header."""
    units, hint = gettext(WORDS[likely]), gettext("for a job file add --units {units}", units=likely)
    if drawn is None:
        return gettext(
            "the header says nothing, the openings say {units}: shown so; {hint}", units=units, hint=hint
        )
    return gettext(
        "the header says {other_units}, the openings say {units}: shown so; {hint}",
        other_units=gettext(WORDS[drawn.name]),
        units=units,
        hint=hint,
    )


def _unit_fault(boxes: Sequence[Box], drawn: UnitScale, likely: str) -> Fault:
    """Openings that no building has in the header's units."""
    left, low, right, high = sorted(boxes, key=lambda box: box[2] - box[0])[len(boxes) // 2]
    mark = 1 / 16 if drawn.units == "in" else 1.0
    size = " by ".join(
        show_length(one * drawn.factor, drawn.units, mark) for one in (right - left, high - low)
    )
    size += " mm" if drawn.units == "mm" else ""
    found = f"openings of {size} or so in {WORDS[drawn.name]} (by {drawn.by})"
    return Fault("the drawing", found, f"--units {likely}, which fits them; or --units {drawn.name}")


def _layer_faults(seen: Look, wishes: Wishes) -> list[Fault]:
    faults = []
    for role, names in wishes.layers.items():
        for name in names:
            if "*" not in name and name.casefold() not in {layer.name.casefold() for layer in seen.layers}:
                near = get_close_matches(name, [layer.name for layer in seen.layers], 1, 0.5)
                wanted = (
                    gettext('a layer with lines on it; nearest is "{layer}"', layer=near[0])
                    if near
                    else gettext("a layer with lines")
                )
                given = gettext('"{layer}", which the drawing does not have', layer=f"{role}={name}")
                faults.append(Fault("--layer", given, wanted))
    if not seen.layers or not seen.document.in_model:
        wanted = gettext('--layer "wall=NAME" for outlines')
        if number := seen.document.on_paper:
            wanted = ngettext(
                "elevations there: {count} lines and texts are on paper alone, in a layout",
                "elevations there: {count} lines and texts are on paper alone, in a layout",
                number,
            )
        faults.append(Fault(gettext("the layers"), gettext("no line in model space"), wanted))
    return faults


def _scale(document: DxfContent, wishes: Wishes) -> UnitScale | None:
    if wishes.units is not None:
        return scale(wishes.units, "--units")
    name = of_header(document.units)
    return None if name is None else scale(name, gettext("the header"))


def _like(
    document: DxfContent, wishes: Wishes, drawn: UnitScale | None, faults: list[Fault]
) -> tuple[Job | None, bool, list[str]]:
    """The job that gives what a drawing does not say: the user's, else the one that the drawing carries."""
    if wishes.like is not None:
        if drawn is not None and wishes.like.units != drawn.units:
            own = gettext(WORDS[wishes.like.units])
            found = gettext("a job in {units}, and a drawing in {other}", units=own, other=drawn.words)
            wanted = gettext(
                "a job in {units}; or --units {option}, if {others} are drawn",
                units=gettext(WORDS[drawn.units]),
                option=wishes.like.units,
                others=own,
            )
            faults.append(Fault("--like", found, wanted))
        return wishes.like, False, []
    if not document.record:
        return None, False, []
    try:
        job = parse_job(document.record)
    except JobError:
        return None, False, [gettext("the job that the drawing carries cannot be read: not used")]
    if drawn is not None and job.units != drawn.units:
        note = gettext("the job that the drawing carries is in {units}: not used", units=job.units)
        return None, False, [note]
    return job, True, [gettext("siding, trim, limits and corners from the job that the drawing carries")]


def _unusual(understood: Understood, drawn: UnitScale) -> list[str]:
    """The first measure that buildings seldom have: a wall that may pass can be in wrong units."""
    mark = rules().round[drawn.units]
    return [
        gettext(
            "{place}: a {key} of {length}, {usual}; is it drawn in {units}? {hint}",
            place=odd.place,
            key=odd.name,
            length=decimals(show_length(odd.length, drawn.units, mark)),
            usual=odd.usual,
            units=drawn.words,
            hint=gettext("--units says so"),
        )
        for odd in odd_measures(understood.elevations, drawn.units)[:1]
    ]


def _job(understood: Understood, wishes: Wishes, like: Job | None, drawn: UnitScale) -> Job:
    faces = tuple(understood.elevations)
    if like is None:
        assert wishes.cladding is not None
        return bare_job(wishes.name, drawn.units, understood.datum, wishes.cladding, faces)
    claddings = like.claddings
    if wishes.cladding is not None:
        name = next(iter(claddings))
        claddings = {name: build_cladding(name, wishes.cladding, {}, drawn.units)}
    return replace(like, elevations=faces, claddings=claddings, as_built=_still_there(like.as_built, faces))


def _still_there(built: AsBuilt, faces: Sequence[Elevation]) -> AsBuilt:
    """What hangs already and what was found elsewhere, on the faces and of the openings that are drawn."""
    marks = {(face.name, one.mark) for face in faces for one in face.openings}
    names = {face.name for face in faces}
    return AsBuilt(
        tuple(line for line in built.courses if line.face in names),
        tuple(one for one in built.openings if (one.face, one.opening.mark) in marks),
    )


def _remarks(understood: Understood, wishes: Wishes, drawn: UnitScale, found: Faces) -> Remarks:
    head = [
        gettext("From {file}, drawn in {units}.", file=wishes.file, units=gettext(WORDS[drawn.name])),
        gettext(
            "Heights from the datum: {datum}; x from the left corner of each face.", datum=understood.datum
        ),
    ]
    if found.unused:
        head.append(
            ngettext(
                "{count} things on the layers of walls and openings were of no use.",
                "{count} things on the layers of walls and openings were of no use.",
                len(found.unused),
            )
        )
    places = {name: source.on_layer() for name, source in understood.faces.items()}
    return Remarks(head, places, understood.boxes)
