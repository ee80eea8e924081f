// What the page holds and what is chosen in it.

const DATA = JSON.parse(document.getElementById("plan").textContent);
const RULES = DATA.rules;
const TAPE = DATA.tape;

const state = {
  face: 0,
  /** For each course set the mark of its starter line, or one of its other answers. */
  at: DATA.sets.map((set) => ({ mark: set.planned, other: null })),
  /** What is open: { opening }, { fixture } or { set, course }; null for nothing. */
  picked: null,
};

DATA.faces.forEach((face, number) => {
  face.number = number;
});
const faceNow = () => DATA.faces[state.face];
const kept = new Map();

/** Lines of a course set from one of its marks. */
function linesFrom(setNumber, mark) {
  const key = `${setNumber} ${mark}`;
  if (!kept.has(key)) {
    const set = DATA.sets[setNumber];
    kept.set(key, set.lines === null ? panelLines(set, set.marks[mark]) : set.lines[mark]);
  }
  return kept.get(key);
}

/** Lines of a course set as chosen. */
function linesOf(setNumber) {
  const { mark, other } = state.at[setNumber];
  return other === null ? linesFrom(setNumber, mark) : DATA.sets[setNumber].others[other];
}

const planLines = (setNumber) => linesFrom(setNumber, DATA.sets[setNumber].planned);

/** Whether the lines of a course set are not those of the plan. */
function moved(setNumber) {
  return linesOf(setNumber) !== planLines(setNumber);
}

const faceMoved = (face) => face.zones.some((zone) => moved(zone.set));

/** Edges of a face that have another result, or another course, than in the plan. */
function changesOf(face) {
  const before = new Map(edgesOf(face, planLines).map((edge) => [edge.target, edge]));
  return edgesOf(face)
    .map((edge) => ({ edge, was: before.get(edge.target) ?? null }))
    .filter(({ edge, was }) => was === null || was.result !== edge.result || was.course !== edge.course);
}
