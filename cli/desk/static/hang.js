// On the wall: the next course, its pieces, a tick. Ticks made without a connection are kept and sent later.
import { Keypad } from "./keypad.js";
import { device, el, get, here, job, listen, post, Refused, say, who } from "./net.js";
import { landed, renew } from "./press.js";
import { spoken } from "./words.js";

const find = (name) => document.querySelector(name);
const store = `evencourse-ticks-${job}`;
const asText = (value) => JSON.stringify(value);
let number = Number(document.body.dataset.number);
let walls = null;
let face = 0;
let up = new Map(); // face, set and course -> who put it up, and at which height
let counter = 0;
let told = ""; // the face and its next course that the tape was moved to
let unsent = [];
try { unsent = JSON.parse(localStorage.getItem(store) ?? "[]"); } catch { unsent = []; }

const name = (wall, course) => asText([wall.name, course.set, course.number]);
const standing = () => {
  const found = new Map(up);
  for (const tick of unsent) {
    const key = asText([tick.face, tick.course_set, tick.course]);
    if (tick.up) found.set(key, tick);
    else found.delete(key);
  }
  return found;
};

function keep() {
  try { localStorage.setItem(store, JSON.stringify(unsent)); } catch { say(spoken("This browser keeps nothing: do not close the page before the ticks are sent."), true); }
  link();
}

function link(words = "") {
  const count = unsent.length;
  find("#link").textContent = words || (count ? spoken("{count} ticks wait for the connection.", { count }) : "");
}

let sending = false;
let again = false; // something happened while the desk was being asked
async function sync() {
  if (sending) { again = true; return; }
  sending = true;
  again = false;
  const sent = unsent.slice(0, 400);
  try {
    const answer = sent.length ? await post(`${here}/ticks`, { ticks: sent }) : await get(`${here}/ticks`);
    await landed();
    unsent = unsent.filter((tick) => !sent.includes(tick));
    up = new Map(answer.up.map((one) => [asText([one.face, one.set, one.course]), one]));
    counter = Math.max(counter, answer.counter);
    keep();
    draw();
  } catch (error) {
    if (error instanceof Refused && error.status === 400) { unsent = unsent.filter((tick) => !sent.includes(tick)); keep(); say(error.message, true); }
    else link(unsent.length ? spoken("No connection. {count} ticks are kept here and sent later.", { count: unsent.length }) : spoken("No connection. Ticks are kept here and sent later."));
  }
  sending = false;
  if (again) setTimeout(sync, 200);
  else if (unsent.length && navigator.onLine) setTimeout(sync, 3000);
}

function tick(wall, course, on) {
  counter += 1;
  unsent.push({ id: crypto.randomUUID?.() ?? `${device}-${Date.now()}-${counter}`, face: wall.name, course_set: course.set, course: course.number, up: on, device, counter, who: who(), height: course.height });
  keep();
  draw();
  sync();
}

function pieces(course) {
  return el("ol", { class: "pieces" }, ...course.pieces.map((piece) => el("li", {}, el("b", {}, piece.id), el("span", { class: "long" }, piece.length), el("span", {}, [piece.cut, piece.from].filter(Boolean).join("; ")))));
}

function draw() {
  if (!walls) return;
  const done = standing();
  renew(find("#walk"), walls.faces.map((wall, index) => {
    const count = wall.courses.filter((course) => course.built || done.has(name(wall, course))).length;
    return el("button", { type: "button", "data-face": index, "aria-current": index === face ? "page" : null }, `${wall.name} ${count}/${wall.courses.length}`);
  }));
  const wall = walls.faces[face];
  const isUp = (course) => course.built || done.has(name(wall, course));
  const next = wall.courses.find((course) => !isUp(course));
  // What hangs stays where it is: a plan that has changed since does not move it.
  const moved = wall.courses.filter((course) => !course.built && Math.abs((done.get(name(wall, course))?.height ?? course.height) - course.height) > 0.01);
  const before = wall.courses.filter((course) => isUp(course) && !course.built).at(-1);
  renew(find("#now"), [next
    ? el("article", { class: "next" },
      el("p", { class: "kicker" }, spoken("Next course")),
      el("h2", {}, el("span", { class: "big" }, next.name), ` ${spoken("bottom {height}", { height: next.at })}`),
      next.edges.length ? el("ul", { class: "lines" }, ...next.edges.map((line) => el("li", {}, line))) : null,
      pieces(next),
      el("button", { type: "button", class: "main tick", "data-tick": wall.courses.indexOf(next) }, spoken("Course {course} is up", { course: next.name })))
    : el("p", { class: "good" }, spoken("{face}: every course is up.", { face: wall.name })),
    moved.length ? el("p", { class: "look" }, spoken("Course {courses} went up by other lines than the plan has now. Tap it under Courses, measure its bottom and write it down: the rest is planned from there.", { courses: moved.map((course) => course.name).join(", ") })) : "",
    before ? el("button", { type: "button", class: "quiet", "data-untick": wall.courses.indexOf(before) }, spoken("Course {course} is not up after all", { course: before.name })) : "",
    before ? el("button", { type: "button", class: "quiet", "data-open": wall.courses.indexOf(before), "data-measured": true }, spoken("Course {course} hangs elsewhere: write down where", { course: before.name })) : ""]);
  const rungs = wall.courses.map((course, index) => el("li", { class: [isUp(course) ? "up" : "", course === next ? "now" : "", course.number % 5 ? "" : "fifth"].join(" ") },
    el("button", { type: "button", "data-open": index, "aria-label": isUp(course) ? spoken("Course {name}, bottom {at}, up", course) : spoken("Course {name}, bottom {at}, not up", course) }, el("span", { class: "number" }, course.name), el("span", { class: "rung" }), el("span", {}, course.reading), el("span", { class: "who" }, isUp(course) ? (course.built ? spoken("as measured") : done.get(name(wall, course))?.who || spoken("up")) : ""))));
  const tape = find("#tape");
  renew(tape, el("ol", { class: "rungs", reversed: true }, ...rungs.reverse()));
  const at = tape.querySelector(".now") ?? tape.querySelector("li");
  const there = asText([wall.name, next?.name]);
  if (at && there !== told) tape.scrollTop = at.offsetTop - tape.clientHeight / 2;
  told = there; // whoever looks along the tape is not brought back by what others do
  document.body.dataset.up = String(wall.courses.filter(isUp).length);
}

function open(course, measured = false) {
  const wall = walls.faces[face];
  const ask = find("#ask");
  const isUp = standing().has(name(wall, course));
  const figure = (side) => el("div", { class: "field length" }, el("label", { for: `built-${side}` }, side === "left" ? spoken("Measured bottom at the left corner") : spoken("Measured bottom at the right corner")), el("input", { id: `built-${side}`, name: side, autocomplete: "off", value: course.reading }));
  const form = el("form", { method: "dialog" },
    el("h2", {}, spoken("Course {name}, bottom {at}", course)), pieces(course),
    course.built ? null : el("button", { type: "button", onclick: () => { ask.close(); tick(wall, course, !isUp); } }, isUp ? spoken("It is not up after all") : spoken("It is up")),
    el("details", { open: measured || isUp && !course.built }, el("summary", {}, spoken("It hangs elsewhere: write down where")), el("p", {}, spoken("Heights from the datum. What hangs stays; the courses above are planned again.")), el("div", { class: "grid" }, figure("left"), figure("right")),
      el("p", { class: "look", role: "alert" }), el("button", { type: "button", class: "main", onclick: () => built(wall, course, form) }, spoken("Plan the rest from there"))),
    el("button", { class: "quiet" }, spoken("Close")));
  ask.replaceChildren(form, find("#pad")); // outside of a dialog nothing can be tapped
  pad.dress(form);
  form.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !event.target.matches("input")) return;
    event.preventDefault();
    pad.next(event.target);
  });
  ask.showModal();
  if (measured) form.elements.left.focus();
}

async function built(wall, course, form) {
  const told = form.querySelector("[role=alert]");
  told.textContent = "";
  try {
    ({ number } = await post(`${here}/edit`, {
      base: number, face, sound: true, changes: [{ kind: "built", face: wall.name, set: course.set, course: course.number, left: form.elements.left.value, right: form.elements.right.value }],
    }));
  } catch (error) {
    told.textContent = error.message;
    return;
  }
  find("#ask").close();
  say(spoken("Written down; the rest is planned again."));
  await load();
}

async function load() {
  try {
    const found = await get(`${here}/work/hang`);
    if (found.stopped) return;
    await landed();
    number = found.number;
    walls = found;
    face = Math.min(face, walls.faces.length - 1);
    try { localStorage.setItem(`${store}-walls`, JSON.stringify(found)); } catch { /* the wall is asked for again next time */ }
    draw();
  } catch (error) {
    if (error instanceof Refused) {
      renew(find("#now"), [el("p", { class: "look" }, spoken("There is nothing to hang yet:")), el("ul", { class: "lines" }, ...(error.answer.faults ?? [error.message]).map((line) => el("li", {}, line)))]);
    } else {
      link(spoken("No connection."));
    }
  }
}

document.addEventListener("click", (event) => {
  const button = event.target.closest("button");
  if (!button || !walls) return;
  const wall = walls.faces[face];
  const { face: to, tick: on, untick: off, open: one } = button.dataset;
  if (to !== undefined) { face = Number(to); draw(); }
  else if (on !== undefined) tick(wall, wall.courses[Number(on)], true);
  else if (off !== undefined) tick(wall, wall.courses[Number(off)], false);
  else if (one !== undefined) open(wall.courses[Number(one)], "measured" in button.dataset);
});
// On a wall that many tick at once the desk is asked a few times a second, not once for each.
let waited = 0;
function soon() {
  waited ||= setTimeout(() => { waited = 0; sync(); }, 300);
}

addEventListener("online", sync);
addEventListener("offline", () => link(spoken("No connection. Ticks are kept here and sent later.")));

const pad = new Keypad(find("#pad"), find("#pad-switch"), () => walls?.units);
load();
sync();
listen((event) => {
  if (event.kind === "ticks") soon();
  if ((event.kind === "revision" || event.kind === "hello") && event.number > number) load();
  if (event.kind === "hello") sync();
});
