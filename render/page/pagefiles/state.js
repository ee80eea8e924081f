// What the page holds, what is chosen in it, and the rows of the table that say what that comes to.

const DATA = JSON.parse(document.getElementById("plan").textContent);
const RESULTS = ["flush", "rip", "notch", "sliver", "base"];
const text = (number) => DATA.texts[number];
const courseName = (setNumber, course) => `${DATA.sets[setNumber].prefix}${course}`;

DATA.faces.forEach((face, number) => {
  face.number = number;
});

/** Lines of a row as they are drawn: butt lines stacked up from the starter. */
for (const { rows } of DATA.sets) {
  for (const row of rows) {
    row.butts = [row.starter];
    row.exposures = [];
    for (const [courses, exposure, reading] of row.bands) {
      const foot = row.butts[row.butts.length - 1];
      for (let course = 1; course <= courses; course += 1) {
        row.butts.push(foot + course * exposure);
        row.exposures.push(text(reading));
      }
    }
  }
}

const state = {
  face: 0,
  /** For each course set the row that is looked at. */
  at: DATA.sets.map((set) => set.planned),
  /** What is open: { opening }, { fixture } or { set, course }; null for nothing. */
  picked: null,
};

const faceNow = () => DATA.faces[state.face];
const planRow = (setNumber) => DATA.sets[setNumber].planned;
const rowNow = (setNumber) => state.at[setNumber];
const linesOf = (setNumber) => DATA.sets[setNumber].rows[rowNow(setNumber)];
const setsOf = (face) => [...new Set(face.zones.map((zone) => zone.set))];

/** What a face makes of a row of one of its course sets. */
const viewOf = (face, setNumber, rowOf = rowNow) => DATA.views[DATA.sets[setNumber].rows[rowOf(setNumber)].views[face.number]];

/** Whether the lines of a course set are not those of the plan. */
const moved = (setNumber) => rowNow(setNumber) !== planRow(setNumber);
const faceMoved = (face) => face.zones.some((zone) => moved(zone.set));

/**
 * Edges of a face from the bottom up, under the lines as they are now; those that no course meets are left out.
 * Of a course that is cut they tell how far up it is, and what is over that up to the next line.
 */
function edgesOf(face, rowOf = rowNow) {
  const next = new Map(setsOf(face).map((set) => [set, viewOf(face, set, rowOf).edges.values()]));
  const found = [];
  for (const target of face.targets) {
    const outcome = next.get(target.set).next().value;
    if (outcome === null) continue;
    const [result, course, act, cut, rest, ...facts] = DATA.outcomes[outcome];
    found.push({ target, result: RESULTS[result], course, act: text(act), cut: text(cut), rest: text(rest), facts: facts.map(text) });
  }
  return found;
}

/** Edges of a face that have another result, or another course, than in the plan. */
function changesOf(face) {
  if (!faceMoved(face)) return [];
  const before = new Map(edgesOf(face, planRow).map((edge) => [edge.target, edge]));
  return edgesOf(face)
    .map((edge) => ({ edge, was: before.get(edge.target) ?? null }))
    .filter(({ edge, was }) => was === null || was.result !== edge.result || was.course !== edge.course);
}

/** What was given up on a face, the worst first. */
function givenUp(face) {
  const all = setsOf(face).flatMap((set) => viewOf(face, set).given.map((number) => DATA.given[number]));
  return all.sort(([, ...a], [, ...b]) => a.map((rank, at) => rank - b[at]).find((apart) => apart) ?? 0).map(([words]) => text(words));
}

/** Slopes that siding is cut along, with the words of their cut: 8" up, 16" over; from square 63.4 degrees. */
function slopesOf(face) {
  return face.slopes.flatMap((slope, at) => {
    const layouts = face.zones.map((zone) => zone.set).filter((set, index, all) => all.indexOf(set) === index).map((set) => viewOf(face, set).slopes[at]);
    if (layouts.includes(null)) return [];
    const shown = new Map();
    for (const [up, over] of layouts.flat()) if (!shown.has(up)) shown.set(up, [text(up), text(over)]);
    const laid = shown.size ? [...shown.values()] : [slope.layout];
    const layout = laid.map(([up, over]) => say("up and over", { up, over })).reduce((one, other) => say("either layout", { layout: one, other }));
    return [{ slope, words: `${layout}; ${slope.saw}` }];
  });
}

/** The wall's outline as siding has it. */
function cladOutline(face) {
  const lowest = face.zones[0].set;
  return DATA.outlines[viewOf(face, lowest).outline].map(([x, y]) => [x, y ?? linesOf(lowest).starter]);
}

/** Every course that shows on a face, from the bottom up, with the heights between which it is drawn. */
function coursesOf(face) {
  const found = [];
  for (const zone of face.zones) {
    const { butts, exposures, readings, starter } = linesOf(zone.set);
    const { shown, own } = viewOf(face, zone.set);
    const ends = new Map(own.map(([course, ...line]) => [course, line]));
    const bottom = zone.bottom ?? starter;
    for (let number = shown[0]; number <= shown[1]; number += 1) {
      const [butt, next] = [butts[number - 1], butts[number]];
      const [foot, head] = [Math.max(butt, bottom), Math.min(next, zone.top)];
      if (head <= foot) continue;
      found.push({
        set: zone.set, number, butt, next, foot, head, ends: ends.get(number) ?? null, name: courseName(zone.set, number),
        reading: text(readings[number - 1]), nextReading: text(readings[number]), exposure: exposures[number - 1],
      });
    }
  }
  return found;
}
