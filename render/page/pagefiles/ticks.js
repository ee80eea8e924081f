// Courses that are up: kept in the browser's own storage where it has one, and as a small file.

const TICKS = { format: "evencourse-ticks", version: 1 };
const PLACE = `evencourse ${DATA.key}`;
const ticks = new Map(); // face and course set -> set of course numbers
let keeps = true;

const tickKey = (face, setNumber) => JSON.stringify([face.name, DATA.sets[setNumber].name]);
const isUp = (face, setNumber, course) => ticks.get(tickKey(face, setNumber))?.has(course) ?? false;

function putTick(key, course, up) {
  if (!ticks.has(key)) ticks.set(key, new Set());
  if (up) ticks.get(key).add(course);
  else ticks.get(key).delete(course);
}

const undos = []; // what was done, the last one at the end: its words, and the ticks that it changed

/** Change ticks so that it can be undone; returns what the change returns. */
function changeTicks(words, change) {
  const was = new Map([...ticks].map(([key, courses]) => [key, new Set(courses)]));
  const found = change();
  tickHung();
  const changed = [];
  for (const key of new Set([...was.keys(), ...ticks.keys()])) {
    const [before, after] = [was.get(key) ?? new Set(), ticks.get(key) ?? new Set()];
    for (const course of new Set([...before, ...after])) {
      if (before.has(course) !== after.has(course)) changed.push([key, course, before.has(course)]);
    }
  }
  if (changed.length) undos.push({ words, changed });
  keepTicks();
  return found;
}

/** Take back what was done last; returns its words, or null where nothing is left to undo. */
function undoTicks() {
  const last = undos.pop();
  if (!last) return null;
  for (const [key, course, up] of last.changed) putTick(key, course, up);
  keepTicks();
  return last.words;
}

/** What was measured on the wall is up, ticked or not. */
function tickHung() {
  for (const face of DATA.faces) {
    for (const { set } of face.zones) {
      if (!face.hung[set]) continue;
      for (let course = 1; course <= face.hung[set]; course += 1) putTick(tickKey(face, set), course, true);
    }
  }
}

/** The ticks as a small file. */
function ticksText() {
  const up = Object.create(null); // a face may bear any name, even one that plain objects keep for themselves
  for (const face of DATA.faces) {
    for (const { set } of face.zones) {
      const courses = [...(ticks.get(tickKey(face, set)) ?? [])].sort((a, b) => a - b);
      if (courses.length) (up[face.name] ??= Object.create(null))[DATA.sets[set].name] = courses;
    }
  }
  return `${JSON.stringify({ ...TICKS, job: DATA.job, key: DATA.key, up }, null, 1)}\n`;
}

/** Add the ticks of a file's text to those that are here; returns what to tell, and throws an Error that says what is wrong. */
function takeTicks(text) {
  let content;
  try {
    content = JSON.parse(text);
  } catch {
    throw new Error(say("no JSON"));
  }
  if (content === null || content.format !== TICKS.format || typeof content.up !== "object" || content.up === null) {
    throw new Error(say("no check marks"));
  }
  if (content.version !== TICKS.version) throw new Error(say("other version"));
  if (content.job !== DATA.job) throw new Error(say("other job", { job: content.job }));
  let [taken, had, left] = [0, 0, 0];
  for (const [faceName, sets] of Object.entries(content.up)) {
    for (const [setName, courses] of Object.entries(sets ?? {})) {
      for (const course of Array.isArray(courses) ? courses : []) {
        const face = DATA.faces.find((one) => one.name === faceName);
        const zone = face?.zones.find((one) => DATA.sets[one.set].name === setName);
        if (zone && Number.isInteger(course) && course >= 1 && course < linesOf(zone.set).butts.length) {
          if (isUp(face, zone.set, course)) had += 1;
          else taken += 1;
          putTick(tickKey(face, zone.set), course, true);
        } else left += 1;
      }
    }
  }
  const told = [say("added", { count: taken })];
  if (had) told.push(say("had", { count: had }));
  if (left) told.push(say("left out", { count: left }));
  const other = content.key === DATA.key ? "" : ` ${say("measured again")}`;
  return `${told.join(", ")}.${other}`;
}

/** Keep the ticks in the browser; where that cannot be done, the page says so. */
function keepTicks() {
  try {
    window.localStorage.setItem(PLACE, ticksText());
    keeps = true;
  } catch {
    keeps = false;
  }
}

/** Ticks that the browser kept. */
function recallTicks() {
  try {
    const text = window.localStorage.getItem(PLACE);
    window.localStorage.setItem(`${PLACE} try`, "");
    window.localStorage.removeItem(`${PLACE} try`);
    keeps = true;
    if (text !== null) takeTicks(text);
  } catch {
    keeps = false;
  }
}
