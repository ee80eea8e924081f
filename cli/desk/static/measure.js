// One face at a time: fields and drawing that follow each other. The desk reads, plans and draws.
import "./bring.js";
import { Drawing } from "./drawing.js";
import { Keypad } from "./keypad.js";
import { device, el, get, here, listen, parsed, post, Refused, roomOf, say, signOf } from "./net.js";
import { landed, renew } from "./press.js";
import { sidingFrom } from "./siding.js";
import { undoing } from "./undo.js";
import { spoken } from "./words.js";

const body = document.body.dataset;
const find = (name) => document.querySelector(name);
const fields = find("#fields");
let number = Number(body.number);
let shown = null; // index of the face, "job" for what holds for all of it
let faces = [];
let typing = "";
let last = null;
let replacing = false;
const sent = new WeakMap(); // what was sent of a field

// A figure in the middle of being typed is not sent: 7- or 7-1/ is on its way to be something.
const complete = (text) => !/(?:[-/]|^-|\.)\s*$/.test(text);

// ---- What is sent: one request at a time, of each field only the last that was typed.

const waiting = new Map();
let busy = false;
let order = 0;

export function send(change, key = `n${(order += 1)}`) {
  waiting.delete(key);
  waiting.set(key, change);
  pump();
}

async function pump() {
  if (busy || !waiting.size) return;
  busy = true;
  const taken = [...waiting];
  waiting.clear();
  const started = performance.now();
  try {
    const view = await post(`${here}/edit`, {
      base: number, changes: taken.map(([, change]) => change), face: shown === "job" ? 0 : shown, room: roomOf(find("#stage")), typing,
    });
    number = view.number;
    document.body.dataset.saved = number;
    await landed();
    if (!waiting.size) show(view);
    document.body.dataset.latency = (performance.now() - started).toFixed(1);
    if (view.meanwhile?.length) await reload(spoken("meanwhile: {changes}", { changes: words(view.meanwhile) }));
    else if (taken.some(([, change]) => ["add", "remove", "copy", "step", "no step"].includes(change.kind))) await reload();
    else if (taken.some(([, change]) => change.kind === "drag" || change.kind === "set" && change.whole)) await reload();
  } catch (error) {
    if (error instanceof Refused && error.status === 409) await stale(error.answer, taken);
    else if (error instanceof Refused && error.status < 500) { say(error.message, true); await reload(); }
    else { say(error instanceof Refused ? spoken("{error}. This figure is sent again until it is saved.", { error: error.message }) : spoken("No connection to the desk: this figure is sent when it is back."), true); for (const [key, change] of taken) if (!waiting.has(key)) waiting.set(key, change); setTimeout(pump, 2000); busy = false; return; }
  }
  busy = false;
  if (waiting.size) pump();
  else plan();
}

const words = (changes) => changes.map((one) => `${one.face || spoken("the job")}: ${one.changes.join("; ")}`).join(" · ");

async function stale(answer, taken) {
  await landed();
  const ask = find("#ask");
  ask.replaceChildren(
    el("h2", {}, spoken("Changed meanwhile")),
    el("p", {}, answer.who ? spoken("{who} changed this while you were at it:", { who: spoken(answer.who) }) : spoken("Somebody changed this while you were at it:")),
    el("ul", {}, ...answer.stale.flatMap((one) => one.changes.map((line) => el("li", {}, `${one.face || spoken("the job")}: ${line}`)))),
    el("div", { class: "buttons" },
      el("button", { type: "button", onclick: () => ask.close("theirs") }, spoken("Keep theirs")),
      el("button", { type: "button", class: "main", onclick: () => ask.close("mine") }, spoken("Put mine"))),
  );
  ask.returnValue = ""; // what an answer before has left
  ask.showModal();
  await new Promise((done) => ask.addEventListener("close", done, { once: true }));
  number = answer.now;
  if (ask.returnValue === "mine") for (const [key, change] of taken) waiting.set(key, change);
  else await reload();
}

// ---- What is shown.

const drawing = new Drawing(find("#stage"), (change, key) => { typing = key; send(change, key); }, (path) => focusPart(path));

function show(view) {
  last = view;
  faces = view.faces.map((face) => face.name);
  walk(view);
  drawing.show(view);
  find("#empty").hidden = Boolean(view.svg) || shown === "job" && faces.length > 0;
  find("#empty").textContent = !faces.length
    ? spoken("Walk round the building to the right, one face at a time: begin with + Face.")
    : fields.querySelector("[data-path*=outline]") ? spoken("The face is drawn when its figures are there.") : spoken("The face is drawn when its width, base and eave are there.");
  faults(view);
  if (view.summary) find("#line").textContent = view.summary.map((one) => `${view.summary.length > 1 ? `${one.set}: ` : ""}${one.starter} · ${one.score}`).join("\n");
  find("#line").classList.toggle("old", Boolean(view.draft));
  if (view.edges) edges(view.edges);
  document.body.dataset.drawn = view.draft ? "draft" : view.svg ? "planned" : "none";
}

function faults(view) {
  for (const place of fields.querySelectorAll(".fault")) place.textContent = "";
  for (const field of fields.querySelectorAll(".field")) field.classList.remove("wrong", "missing");
  const loose = [];
  for (const fault of view.faults) {
    if (!faces.length && fault.path.join() === "elevation") continue; // said where the drawing will be
    const found = figuresOf(fault) ?? [fieldAt(fault.path)];
    for (const field of found) {
      const place = field?.querySelector(".fault") ?? wholeAt(fault.path);
      if (!place) {
        if (fault.path[0] !== "elevation" || shown === "job" || fault.path[1] === shown || fault.path.length < 2) loose.push(fault.line ? spoken("line {line}: {place}: {words}", fault) : `${fault.place}: ${fault.words}`);
        continue;
      }
      place.textContent = [place.textContent, fault.missing ? spoken("wanted: {wanted}", fault) : fault.words].filter(Boolean).join("; ");
      field?.classList.add(fault.missing ? "missing" : "wrong");
      field?.querySelector("input, select, button")?.setAttribute("aria-invalid", String(!fault.missing));
      field?.closest("details")?.setAttribute("open", "");
    }
  }
  for (const field of fields.querySelectorAll(".field:not(.wrong) [aria-invalid]")) field.removeAttribute("aria-invalid");
  const watch = find("#watch");
  const lines = [...loose.map((line) => el("li", { class: "look" }, line)), ...view.watch.map((line) => el("li", {}, line))];
  if (view.closed === "closed") lines.unshift(el("li", { class: "good" }, spoken("The walk round the building closes.")));
  const first = lines.splice(0, lines.length > 4 ? 3 : 4);
  renew(watch, [el("ul", { class: "lines" }, ...first), lines.length ? el("details", {}, el("summary", {}, spoken("{count} more to look at", { count: lines.length })), el("ul", { class: "lines" }, ...lines)) : null]);
}

/** A point has two figures: those that are not typed yet have its fault, or the first. */
const figuresOf = (fault) => {
  const text = JSON.stringify(fault.path).slice(0, -1);
  const both = [0, 1].map((axis) => [...fields.querySelectorAll(".field")].find((one) => one.dataset.path === `${text},${axis}]`)).filter(Boolean);
  if (!both.length) return null;
  return fault.missing ? both.filter((one) => !one.querySelector("input").value) : both.slice(0, 1);
};

const fieldAt = (path) => {
  for (let depth = path.length; depth > 0; depth -= 1) {
    const text = JSON.stringify(path.slice(0, depth));
    const found = [...fields.querySelectorAll(".field")].filter((one) => one.dataset.path === text);
    if (found.length) return found[typeof path[depth] === "number" ? Math.min(path[depth], found.length - 1) : 0];
  }
  return null;
};
const wholeAt = (path) => {
  for (let depth = path.length; depth > 0; depth -= 1) {
    const found = fields.querySelector(`[data-whole='${CSS.escape ? JSON.stringify(path.slice(0, depth)).replaceAll("'", "\\'") : ""}']`);
    if (found) return found;
  }
  return null;
};

let walked = null;
function walk(view) {
  const mark = (face) => (face.faults ? ` ${spoken("({count} figures wanted)", { count: face.faults })}` : "");
  const place = (index) => `?face=${index}`;
  const items = [
    el("a", { href: place("job"), "aria-current": shown === "job" ? "page" : null, "data-go": "job" }, spoken("The job")),
    ...view.faces.map((face, index) => el("a", { href: place(index), "aria-current": shown === index ? "page" : null, "data-go": index, class: face.faults ? "open" : "" }, face.name || spoken("Face {number}", { number: index + 1 }), el("span", { class: "unseen" }, mark(face)))),
    el("button", { type: "button", "data-add": '["elevation"]' }, spoken("+ Face")),
  ];
  renew(find("#walk"), items);
  if (walked === shown) return; // whoever moves the row along is not brought back
  walked = shown;
  find("#walk [aria-current]")?.scrollIntoView({ block: "nearest", inline: "nearest" });
}

function edges(list) {
  const rows = list.filter((edge) => edge.importance !== "ignore").map((edge) => el("li", { class: edge.result }, signOf(edge.result), el("span", { class: "subject" }, edge.subject), el("span", { class: "act" }, edge.act)));
  renew(find("#edges"), [el("h2", {}, spoken("What happens at its edges")), el("ul", { class: "edge-list" }, ...rows)]);
}

let planning = null;
async function plan() {
  planning?.abort();
  planning = new AbortController();
  const { signal } = planning;
  const asked = shown;
  try {
    const view = await get(`${here}/face?face=${asked === "job" ? 0 : asked}&room=${roomOf(find("#stage"))}`, signal);
    await landed();
    if (signal.aborted || asked !== shown || busy || view.number < number) return;
    if (view.number > number) { await reload(); await plan(); return; }
    show(view);
  } catch (error) {
    if (error.name !== "AbortError" && error instanceof Refused) say(error.message, true);
  }
}

async function reload(words) {
  const begun = new Map([...fields.querySelectorAll(".field input")].map((input) => [input, input.value]));
  const response = await fetch(`${here}/fields?face=${shown}`).catch(() => null);
  if (!response?.ok) return;
  const fresh = parsed(await response.text());
  await landed();
  number = Math.max(number, Number(response.headers.get("x-desk-number")));
  // What somebody types goes on where it is; all else is as the desk has it.
  const unsent = (input) => {
    const { path, side } = input.closest(".field").dataset;
    return begun.get(input) !== input.value || waiting.has(path + side) || input.value !== (sent.get(input) ?? input.defaultValue);
  };
  const typed = new Set([...fields.querySelectorAll(".field input")].filter(unsent));
  for (const input of begun.keys()) if (!typed.has(input)) sent.delete(input);
  // A field that is taken away while somebody types in it tells of a change: it is none of theirs.
  replacing = true;
  renew(fields, fresh, (input) => typed.has(input));
  replacing = false;
  begin();
  if (last) faults(last);
  if (words) say(words);
}

function begin() {
  const data = find("#walk-data");
  shown = data.dataset.face === "job" ? "job" : Number(data.dataset.face);
  faces = JSON.parse(data.dataset.faces);
  pad.dress(fields);
  document.body.dataset.face = shown;
}

async function go(face, { push = true, type = false, alike = false } = {}) {
  shown = face;
  typing = "";
  await reload();
  if (last) walk(last);
  if (type) fields.querySelector("input")?.select();
  if (push) history.pushState({ face: shown }, "", `?face=${shown}`);
  drawing.clear(alike);
  find("#edges").replaceChildren();
  scrollTo({ top: 0 });
  await plan();
}

function focusPart(path) {
  const text = JSON.stringify(path).slice(0, -1);
  const first = [...fields.querySelectorAll(".field")].find((one) => one.dataset.path.startsWith(text) && one.classList.contains("length"));
  first?.querySelector("input").focus();
  first?.closest(".form")?.scrollIntoView({ block: "nearest", behavior: "smooth" });
}

// ---- What is done on the page.

const valueOf = (field, input) => ({ kind: "set", path: JSON.parse(field.dataset.path), side: field.dataset.side || undefined, value: input.value });

fields.addEventListener("focusin", (event) => {
  const field = event.target.closest(".field");
  if (field) typing = `${device.slice(0, 8)}-${Date.now().toString(36)}`;
});
fields.addEventListener("input", (event) => {
  const field = event.target.closest(".field");
  if (!field || event.target.tagName === "SELECT") return;
  if (!complete(event.target.value)) return;
  sent.set(event.target, event.target.value);
  send(valueOf(field, event.target), field.dataset.path + field.dataset.side);
});
fields.addEventListener("change", (event) => {
  const field = event.target.closest(".field");
  const before = sent.get(event.target) ?? (event.target.tagName === "SELECT" ? null : event.target.defaultValue);
  if (!field || replacing || before === event.target.value) return; // whoever only passes through changes nothing
  const whole = event.target.tagName === "SELECT" && /"units"|"kind"/.test(field.dataset.path);
  send({ ...valueOf(field, event.target), whole }, field.dataset.path + field.dataset.side);
});
fields.addEventListener("keydown", (event) => {
  if (event.key === "Enter" && event.target.matches(".field input")) {
    event.preventDefault();
    pad.next(event.target);
  }
});
document.addEventListener("click", async (event) => {
  const button = event.target.closest("button, a[data-go]");
  if (!button) return;
  if (button.dataset.go !== undefined) {
    event.preventDefault();
    await go(button.dataset.go === "job" ? "job" : Number(button.dataset.go));
  } else if (button.dataset.add) {
    const path = JSON.parse(button.dataset.add);
    send({ kind: "add", path, same: "same" in button.dataset });
    await settled();
    // Who has a keyboard types on at once; on a phone it would come up over the drawing.
    if (path.length === 1) await go(faces.length - 1, { type: matchMedia("(pointer: fine)").matches });
    else [...fields.querySelectorAll(`.form[data-path^='${JSON.stringify(path).slice(0, -1)}']`)].at(-1)?.querySelector("same" in button.dataset ? ".field.length input" : "input")?.focus();
  } else if (button.dataset.act) {
    const pitched = fields.querySelector('[data-path*=\'"pitch"\'] input')?.value;
    send(JSON.parse(button.dataset.act));
    await settled();
    if (pitched && fields.querySelector("[data-side=step]")) say(spoken("The wall is given by its corners now, and its gable by the peak."));
    // What is typed on the keypad of the desk brings up no keyboard over the drawing.
    const wanted = fields.querySelector(".field.missing.length") ?? fields.querySelector(".field.missing");
    wanted?.querySelector("input")?.focus();
    wanted?.scrollIntoView({ block: "center" });
  } else if (button.dataset.copy) {
    send({ kind: "copy", path: JSON.parse(button.dataset.copy) });
    await settled();
    await go(shown + 1, { alike: true });
  } else if (button.dataset.remove) {
    const path = JSON.parse(button.dataset.remove);
    send({ kind: "remove", path });
    await settled();
    say(spoken("Taken away. Undo brings it back."));
    if (path.length === 2) await go(faces.length ? Math.min(shown, faces.length - 1) : "job");
  } else if (button.classList.contains("pick")) {
    await choose(button);
  }
});

async function settled() {
  while (busy || waiting.size) await new Promise((done) => setTimeout(done, 15));
}

async function choose(button) {
  const taken = await sidingFrom(find("#ask"), button.dataset.profile);
  if (!taken) return;
  button.dataset.profile = button.textContent = taken;
  send({ kind: "set", path: JSON.parse(button.closest(".field").dataset.path), value: taken, whole: true });
}

undoing(settled, async (answer) => {
  number = answer.number;
  const [name, before] = [faces[shown], faces.length];
  await reload(answer.what);
  // Whoever was on a face stays on it; one that is undone gives way to the one before it.
  const at = faces.indexOf(name);
  if (shown !== "job" && faces[shown] !== name && (at >= 0 || faces.length < before)) await go(at >= 0 ? at : Math.max(0, shown - 1));
  else await plan();
});
addEventListener("popstate", (event) => {
  const face = new URLSearchParams(location.search).get("face") ?? "0";
  go(event.state?.face ?? (face === "job" ? "job" : Number(face)), { push: false });
});
let turned = 0;
addEventListener("resize", () => { clearTimeout(turned); turned = setTimeout(plan, 200); });

const pad = new Keypad(find("#pad"), find("#pad-switch"), () => (fields.querySelector("[data-units]") ?? body).units ?? body.units);
begin();
history.replaceState({ face: shown }, "", `?face=${shown}`);
// What was typed before the script was there is sent now.
for (const input of fields.querySelectorAll(".field input")) if (input.value !== input.defaultValue) input.dispatchEvent(new Event("input", { bubbles: true }));
plan();
listen(async (event) => {
  if (event.kind === "hello" && event.number > number || event.kind === "revision" && event.device !== device && event.number > number) {
    await settled();
    if (event.number <= number) return;
    await reload(event.who || event.what ? `${spoken(event.who || "Somebody")}: ${spoken(event.what ?? "changed the job")}` : "");
    await plan();
  }
});
