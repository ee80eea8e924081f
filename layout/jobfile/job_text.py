"""The job as a job file: text that a person can read and edit, and that reads back as the same job."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields

from evencourse.layout.jobfile.job_values import key, length, number, temperature, text
from evencourse.layout.model.cladding import Cladding
from evencourse.layout.model.job import Elevation, Fixture, Job, Opening, Order, Point, Trim, Units, Zone
from evencourse.layout.model.roof import Roof
from evencourse.layout.trade.profiles import COUNTS, LENGTHS, NUMBERS, WORDS, build_cladding
from evencourse.layout.trade.rules import rules

#: Properties of a panel that follow from its exposure and cannot be given.
_MOULDED = ("exposure_min", "exposure_max")


@dataclass(frozen=True)
class Remarks:
    """Comments in a job file.

    Attributes:
        head: lines at the top.
        faces: what is said beside a face's name, by name.
        things: what is said beside an opening's or a fixture's mark, by face and mark.
    """

    head: Sequence[str] = ()
    faces: Mapping[str, str] = field(default_factory=dict)
    things: Mapping[tuple[str, str], str] = field(default_factory=dict)


def job_text(job: Job, remarks: Remarks | None = None, ascii_only: bool = False) -> str:
    """A job as TOML.

    Args:
        job: any job without a fault.
        remarks: comments to write.
        ascii_only: write every other sign by its number, for carriers that have no room for it.

    Returns:
        Text for which ``parse_job`` gives an equal job: tape fractions where a length is a whole number of
        sixty-fourths of an inch, every digit where it is not; the shorthand where a wall has its shape; what
        equals a default left out.
    """
    return "\n".join(_Writer(job, remarks or Remarks(), ascii_only).lines()) + "\n"


class _Writer:
    def __init__(self, job: Job, remarks: Remarks, ascii_only: bool) -> None:
        self.job, self.units, self.remarks, self.ascii = job, job.units, remarks, ascii_only
        self.trim = _usual_trim(job)

    def lines(self) -> Iterator[str]:
        for line in self.remarks.head:
            yield f"# {_one_line(line)}".rstrip()
        if self.remarks.head:
            yield ""
        yield from self.job_lines()
        yield from self.cladding_lines()
        yield from self.limit_lines()
        usual = _default_trim(self.job.inch)
        trims = _trim_values(self.trim or usual, usual)
        trims += [(name, value) for name, value in vars(self.job.corner_trim).items() if value]
        if trims:
            yield from ("", "[trim]", *(f"{name} = {self.length(value)}" for name, value in trims))
        yield from self.rest_lines()
        for face in self.job.elevations:
            yield ""
            yield from self.face_lines(face)
        if self.job.as_built:
            yield from self.built_lines()

    def built_lines(self) -> Iterator[str]:
        yield from ("", "[as_built]")
        for line in self.job.as_built.courses:
            yield "  [[as_built.course]]"
            yield f"  face = {self.text(line.face)}"
            yield f"  courses = {self.text(line.courses)}"
            yield f"  course = {line.course}"
            yield f"  left = {self.length(line.left)}"
            yield f"  right = {self.length(line.right)}"
        for found in self.job.as_built.openings:
            yield "  [[as_built.opening]]"
            yield f"  face = {self.text(found.face)}"
            yield f"  mark = {self.text(found.opening.mark)}"
            for name, value in (
                ("left", found.opening.left),
                ("sill", found.opening.bottom),
                ("width", found.opening.width),
                ("height", found.opening.height),
            ):
                yield f"  {name} = {self.length(value)}"

    def length(self, value: float, feet: bool = False) -> str:
        return length(value, self.units, feet)

    def pair(self, pair: tuple[float, float], feet: bool = True) -> str:
        """One height where both are the same, else [left, right]."""
        if pair[0] == pair[1]:
            return self.length(pair[0], feet)
        return f"[{self.length(pair[0], feet)}, {self.length(pair[1], feet)}]"

    def ground(self, face: Elevation) -> str:
        """The ground: heights at both corners where it is straight between them, else points."""
        points, across = face.grade or (), [x for x, _ in face.outline]
        if [x for x, _ in points] == [min(across), max(across)]:
            return self.pair((points[0][1], points[1][1]), feet=False)
        return self.points(points)

    def points(self, points: Sequence[Point]) -> str:
        return f"[{', '.join(f'[{self.length(x, True)}, {self.length(y)}]' for x, y in points)}]"

    def range(self, pair: tuple[float, float]) -> str:
        return f"[{self.length(pair[0])}, {self.length(pair[1])}]"

    def text(self, value: str) -> str:
        return text(value, self.ascii)

    def job_lines(self) -> Iterator[str]:
        job = self.job
        yield "[job]"
        if job.name:
            yield f"name = {self.text(job.name)}"
        yield f'units = "{job.units}"'
        yield f"round = {self.length(job.round)}"
        yield f"datum = {self.text(job.datum)}"
        if job.author:
            yield f"author = {self.text(job.author)}"
        if job.temperature is not None:
            yield f"temperature = {temperature(job.temperature, job.units)}"
        if job.model_datum is not None:
            yield f"model_datum = {self.length(job.model_datum)}"
        if job.language:
            yield f"language = {self.text(job.language)}"
        if job.crew_languages:
            yield f"crew_languages = [{', '.join(map(self.text, job.crew_languages))}]"

    def cladding_lines(self) -> Iterator[str]:
        for name, cladding in self.job.claddings.items():
            alone = name == "main" and len(self.job.claddings) == 1
            yield from ("", "[cladding]" if alone else f"[claddings.{key(name, self.ascii)}]")
            yield f"profile = {self.text(cladding.profile)}"
            for own in _overrides(cladding, self.units):
                value = getattr(cladding, own)
                if own in WORDS:
                    yield f"{own} = {self.text(value)}"
                else:
                    yield f"{own} = {self.length(value) if own in LENGTHS else number(value)}"

    def limit_lines(self) -> Iterator[str]:
        limits, values = self.job.limits, rules().limits
        lines = []
        if limits.starter is not None:
            lines.append(f"starter = {self.range(limits.starter)}")
        for name in ("tolerance", "strip_min", "jump"):
            value = getattr(limits, name)
            if value != values[name] * self.job.inch:
                lines.append(f"{name} = {self.length(value)}")
        if lines:
            yield from ("", "[limits]", *lines)

    def rest_lines(self) -> Iterator[str]:
        job, values = self.job, rules()
        for table, given, usual in (
            ("framing", job.framing, values.framing), ("seams", job.seams, values.seams),
        ):  # fmt: skip
            lines = [
                f"{one.name} = {self.length(getattr(given, one.name))}"
                for one in fields(given)
                if getattr(given, one.name) != usual[one.name] * job.inch
            ]
            if lines:
                yield from ("", f"[{table}]", *lines)
        order = []
        if job.order.spare:
            order.append(f"spare = {number(job.order.spare)}")
        if job.order.currency:
            order.append(f"currency = {self.text(job.order.currency)}")
        if job.order.prices:
            prices = (f"{key(k, self.ascii)} = {number(v)}" for k, v in job.order.prices.items())
            order.append(f"prices = {{ {', '.join(prices)} }}")
        if job.order.lengths:
            lengths = (f"{key(k, self.ascii)} = {self.length(v)}" for k, v in job.order.lengths.items())
            order.append(f"lengths = {{ {', '.join(lengths)} }}")
        if job.order.heap != Order().heap:
            order.append(f"heap = {job.order.heap}")
        if job.order.faces:
            order.append(f"faces = [{', '.join(map(self.text, job.order.faces))}]")
        if order:
            yield from ("", "[order]", *order)

    def face_lines(self, face: Elevation) -> Iterator[str]:
        yield "[[elevation]]"
        yield f"name = {self.text(face.name)}{_beside(self.remarks.faces.get(face.name))}"
        yield from self.outline_lines(face.outline)
        for side in ("left", "right"):
            if getattr(face, side) != "outside corner":
                yield f'{side} = "{getattr(face, side)}"'
        if face.grade is not None:
            yield f"grade = {self.ground(face)}"
        if face.turn is not None:
            yield f'turn = "{face.turn}"'
        if face.weight != 1:
            yield f"weight = {number(face.weight)}"
        if face.courses != "main":
            yield f"courses = {self.text(face.courses)}"
        zones = face.zones
        if len(zones) == 1 and zones[0] == Zone(zones[0].cladding):
            zones = ()
            if len(self.job.claddings) > 1:
                yield f"cladding = {self.text(face.zones[0].cladding)}"
        if face.entrance is not None:
            yield f"entrance = {self.length(face.entrance, True)}"
        if face.on_plan is not None:
            yield f"on_plan = [{', '.join(f'[{self.length(x)}, {self.length(y)}]' for x, y in face.on_plan)}]"
        for opening in face.openings:
            yield ""
            yield from (f"  {line}" for line in self.opening_lines(opening, face.name))
        for fixture in face.fixtures:
            yield ""
            yield from (f"  {line}" for line in self.fixture_lines(fixture, face.name))
        for roof in face.roofs:
            yield ""
            yield from (f"  {line}" for line in self.roof_lines(roof))
        for zone in zones:
            yield ""
            yield from (f"  {line}" for line in self.zone_lines(zone))

    def outline_lines(self, outline: tuple[Point, ...]) -> Iterator[str]:
        if shape := _shorthand(outline):
            yield f"width = {self.length(shape.width, True)}"
            yield f"base = {self.pair(shape.base, feet=False)}"
            yield f"eave = {self.pair(shape.eave)}"
            if shape.peak is None:
                return
            if (pitch := _pitch(shape)) is not None:
                yield f'gable = {{ pitch = "{number(pitch)}/12" }}'
                return
            middle = shape.eave[0] == shape.eave[1] and shape.peak[0] == shape.width / 2
            at = "" if middle else f", at = {self.length(shape.peak[0], True)}"
            yield f"gable = {{ peak = {self.length(shape.peak[1], True)}{at} }}"
            return
        corners = [f"[{self.length(x, True)}, {self.length(y, True)}]" for x, y in outline]
        yield "outline = ["
        line = ""
        for corner in corners:
            if line and len(line) + len(corner) > 96:
                yield f"  {line}"
                line = ""
            line += f"{' ' if line else ''}{corner},"
        yield f"  {line}"
        yield "]"

    def opening_lines(self, opening: Opening, face: str) -> Iterator[str]:
        yield "[[elevation.opening]]"
        if opening.mark:
            remark = _beside(self.remarks.things.get((face, opening.mark)))
            yield f"mark = {self.text(opening.mark)}{remark}"
        if opening.kind != "window":
            yield f'kind = "{opening.kind}"'
        if opening.shape != "rectangle":
            yield f'shape = "{opening.shape}"'
        yield f"left = {self.length(opening.left, True)}"
        if not opening.on_base:
            yield f"sill = {self.length(opening.bottom, True)}"
        yield f"width = {self.length(opening.width)}"
        usual = {"round": opening.width, "half-round": opening.width / 2}.get(opening.shape)
        if opening.height != usual:
            yield f"height = {self.length(opening.height)}"
        if opening.shape == "arch":
            yield f"rise = {self.length(opening.rise)}"
        if opening.head_edge != "want":
            yield f'head_edge = "{opening.head_edge}"'
        if opening.sill_edge != "want" and not opening.on_base:
            yield f'sill_edge = "{opening.sill_edge}"'
        own = _trim_values(opening.trim, self.trim or opening.trim)
        if own:
            yield f"trim = {{ {', '.join(f'{name} = {self.length(value)}' for name, value in own)} }}"

    def fixture_lines(self, fixture: Fixture, face: str) -> Iterator[str]:
        yield "[[elevation.fixture]]"
        yield f"mark = {self.text(fixture.mark)}{_beside(self.remarks.things.get((face, fixture.mark)))}"
        yield f"left = {self.length(fixture.left, True)}"
        yield f"bottom = {self.length(fixture.bottom, True)}"
        yield f"width = {self.length(fixture.width)}"
        yield f"height = {self.length(fixture.height)}"
        if not fixture.block:
            yield "block = false"

    def roof_lines(self, roof: Roof) -> Iterator[str]:
        yield "[[elevation.roof]]"
        yield f"mark = {self.text(roof.mark)}"
        if roof.kind != "roof":
            yield f'kind = "{roof.kind}"'
        yield f"line = {self.points(roof.line)}"
        yield f"depth = {self.length(roof.depth)}"

    def zone_lines(self, zone: Zone) -> Iterator[str]:
        yield "[[elevation.zone]]"
        yield f"cladding = {self.text(zone.cladding)}"
        if zone.top is not None:
            yield f"top = {self.length(zone.top, True)}"
        if zone.trim:
            yield f"trim = {self.length(zone.trim)}"
        if zone.starter is not None:
            yield f"starter = {self.range(zone.starter)}"
        if zone.courses is not None:
            yield f"courses = {self.text(zone.courses)}"


@dataclass(frozen=True)
class _Shape:
    """A wall in the words of the shorthand."""

    width: float
    base: tuple[float, float]
    eave: tuple[float, float]
    peak: Point | None


def _shorthand(outline: tuple[Point, ...]) -> _Shape | None:
    """The shorthand that gives exactly these corners, in this order; None where there is none."""
    if len(outline) not in (4, 5):
        return None
    (x0, low0), (x1, low1), (x2, high1), *peak, (x3, high0) = outline
    if (x0, x3) != (0.0, 0.0) or x1 != x2 or x1 <= 0 or high0 <= low0 or high1 <= low1:
        return None
    if peak and not (0 < peak[0][0] < x1 and peak[0][1] > max(high0, high1)):
        return None
    return _Shape(x1, (low0, low1), (high0, high1), peak[0] if peak else None)


def _pitch(shape: _Shape) -> float | None:
    """The pitch from which the reader finds exactly this peak; None where there is none in sixty-fourths."""
    if shape.peak is None:
        return None
    at, peak = shape.peak
    pitch = round(12 * 64 * (peak - shape.eave[0]) / at) / 64
    if not 0 < pitch <= 120:
        return None
    slope = pitch / 12
    found = (shape.width * slope + shape.eave[1] - shape.eave[0]) / (2 * slope)
    return pitch if (found, shape.eave[0] + found * slope) == (at, peak) else None


def _overrides(cladding: Cladding, units: Units) -> list[str]:
    """Properties that a job must give to make this cladding from its profile, in the order of the data."""
    names = (*WORDS, *LENGTHS, *COUNTS, *NUMBERS)
    given: dict[str, float | str] = {}
    while True:
        built = build_cladding(cladding.name, cladding.profile, given, units)
        wrong = [
            name
            for name in names
            if getattr(built, name) != getattr(cladding, name)
            and not (cladding.fixed and name in _MOULDED)
            and name not in given
        ]
        if not wrong:
            return [name for name in names if name in given]
        given |= {name: getattr(cladding, name) for name in wrong}


def _default_trim(inch: float) -> Trim:
    usual = rules().trim
    return Trim(usual["head"] * inch, usual["sill"] * inch, usual["side"] * inch)


def _usual_trim(job: Job) -> Trim | None:
    """The trim that most openings have; None without an opening."""
    counted = Counter(opening.trim for face in job.elevations for opening in face.openings)
    return counted.most_common(1)[0][0] if counted else None


def _trim_values(trim: Trim, usual: Trim) -> list[tuple[str, float]]:
    """Widths that differ from the usual ones."""
    names = ("head", "sill", "side")
    return [(name, getattr(trim, name)) for name in names if getattr(trim, name) != getattr(usual, name)]


def _beside(remark: str | None) -> str:
    return f"  # {_one_line(remark)}" if remark else ""


def _one_line(remark: str) -> str:
    return "".join(sign if sign.isprintable() else " " for sign in remark)
