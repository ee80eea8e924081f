// A drawing from elsewhere: what is tapped on it is sent to the desk, which reads it as the command does.
import { Keypad } from "./keypad.js";
import { el, post, put, Refused, say, who } from "./net.js";
import { renew } from "./press.js";
import { sidingFrom } from "./siding.js";
import { spoken } from "./words.js";

const SVG = "http://www.w3.org/2000/svg";
const body = document.body.dataset;
const find = (name) => document.querySelector(name);
const here = `/drawing/${encodeURIComponent(body.drawing)}`;
const handles = find("#handles");
const LEFT_OUT = "ignore";
const KINDS = ["window", "door", "garage door", "vent", "other"];
// What is picked: numbers of faces with a name or ""; of openings with "MARK,KIND" or LEFT_OUT. Null: as it was found.
const picked = { faces: null, openings: new Map() };
let view = null;
let key = "";
let zoom = 1;
let points = []; // where the two ends of a known length were tapped

// ---- What is sent, one request at a time, the last state of all.

const value = (name) => find(`#d-${name}`)?.value.trim() ?? "";
const known = () => (value("known") && value("tape") === "mm" && /^[\d.,]+$/.test(value("known")) ? `${value("known")} mm` : value("known"));
const said = () => ({
  job: body.job, mode: find("[name=mode]:checked")?.value ?? "", cladding: find("#d-cladding")?.dataset.profile ?? "", units: value("units"),
  page: body.kind === "pdf" ? value("page") : "", between: known() && value("between") ? value("between") : "", known: value("between") ? known() : "",
  accept: find("#d-accept")?.checked ?? false,
  face: [...picked.faces ?? []].map(([number, name]) => (name ? `${number}=${name}` : `${number}`)),
  opening: [...picked.openings].map(([number, words]) => (words ? `${number}=${words}` : `${number}`)),
});

let busy = false;
let again = false;
const taps = []; // made while the desk was still at the one before
async function look() {
  again = busy;
  if (busy) return;
  busy = true;
  try {
    show(await post(`${here}/look`, { ...said(), seen: key }));
  } catch (error) {
    failed(error);
  }
  busy = false;
  if (again) look();
  else if (taps.length) tap(taps.shift());
}

function failed(error) {
  find("#take").disabled = true;
  find("#line").textContent = spoken("Nothing was taken of this file.");
  const words = error instanceof Refused ? error.answer.faults ?? [error.message] : [spoken("No connection to the desk.")];
  renew(find("#faults"), el("ul", { class: "lines" }, ...words.map((line) => el("li", { class: "look" }, line))));
}

// ---- What is shown.

function show(fresh) {
  const moved = key && fresh.key !== key && (picked.faces || picked.openings.size);
  if (fresh.svg) {
    key = fresh.key;
    put(find("#drawing"), fresh.svg);
    handles.setAttribute("viewBox", find("#drawing svg").getAttribute("viewBox"));
    view = { ...fresh };
  } else view = { ...fresh, paths: view.paths };
  if (moved) {
    picked.faces = null;
    picked.openings.clear();
    say(spoken("The drawing is read otherwise now, and its numbers are others: pick again."), true);
    look();
  }
  regions();
  faults();
  find("#line").textContent = `${view.scale} ${spoken("{count} faces are taken.", { count: view.faces.length })}`.trim();
  renew(find("#taken"), view.faces.map(faceForm), (input) => input === document.activeElement && input.value !== input.defaultValue);
  const list = (lines) => el("ul", { class: "lines" }, ...lines.map((line) => el("li", {}, line)));
  renew(find("#watch"), [list(view.notes), view.unused.length ? el("details", {}, el("summary", {}, spoken("Lines and texts that were not used")), list(view.unused)) : null]);
  const accept = find("#doubtful");
  if (accept && view.doubtful.length) {
    accept.hidden = false;
    accept.querySelector("span").textContent = spoken("Take layers whose name may mean something else, too: {layers}", { layers: view.doubtful.join(", ") });
  }
  if (body.kind === "pdf") find("label[for=d-page]").textContent = spoken("Page, of {pages}", { pages: view.pages });
  const mode = find(`[name=mode][value=${view.mode}]`);
  if (mode) {
    mode.checked = true;
    find("#take").textContent = view.mode === "back" ? spoken("Put the changes into the job") : spoken("Add these faces to the job");
  }
  changes(view.changes);
  const likely = find("#likely");
  if (likely) renew(likely, view.likely ? el("button", { type: "button", onclick: () => { find("#d-units").value = view.likely.units; look(); } }, spoken("It is drawn in {units}", { units: view.likely.words })) : []);
  const siding = find("#d-cladding");
  if (siding) siding.textContent = view.siding || spoken("as the job says that the drawing carries");
  find("#take").disabled = !view.ready;
  body.looked = view.ready ? "ready" : "open";
}

function changes(found) {
  const row = (name, cells) => el("tr", {}, ...cells.map((cell) => el(name, {}, cell)));
  const figures = (rows) => el("table", { class: "figures" }, el("thead", {}, row("th", [spoken("Plan"), spoken("Before"), spoken("After")])), el("tbody", {}, ...rows.map((one) => row("td", one))));
  renew(find("#changes"), found ? [
    el("h2", {}, found.lines.length ? spoken("Changed since the job was drawn") : spoken("Nothing has changed since the job was drawn")),
    el("ul", { class: "lines" }, ...found.lines.map((line) => el("li", {}, line))),
    found.rows.length ? figures(found.rows) : null,
  ] : []);
}

function faults() {
  for (const place of document.querySelectorAll("#fields .fault")) place.textContent = "";
  for (const field of document.querySelectorAll("#fields .field")) field.classList.remove("wrong");
  const loose = [];
  for (const fault of view.faults) {
    const field = fault.field && find(`#fields [data-field=${fault.field}]`);
    if (!field) { loose.push(`${fault.place}: ${fault.words}`); continue; }
    const place = field.querySelector(".fault");
    place.textContent = [place.textContent, fault.words].filter(Boolean).join("; ");
    field.classList.add("wrong");
    field.closest("details")?.setAttribute("open", "");
  }
  for (const field of document.querySelectorAll("#fields .field")) field.querySelector("input, select, button")?.setAttribute("aria-invalid", String(field.classList.contains("wrong")));
  renew(find("#faults"), loose.length ? el("ul", { class: "lines" }, ...loose.map((line) => el("li", { class: "look" }, line))) : []);
}

const words = (one) => {
  const found = () => {
    if (one.face && !one.mark) return spoken("face {face}", one);
    if (one.face) return one.kind === "thing" ? spoken("on {face}", one) : spoken("{kind} {mark} on {face}", { ...one, kind: spoken(one.kind) });
    return one.view ? spoken("{view}, not taken", { view: spoken(one.what) }) : spoken("not taken");
  };
  return spoken("Region {number}, {size}: {what}", { ...one, what: found() });
};

function regions() {
  const at = document.activeElement?.dataset?.number;
  const old = new Map([...handles.querySelectorAll(".region")].map((path) => [path.dataset.number, path]));
  const shapes = view.regions.map((one) => {
    const path = old.get(`${one.number}`) ?? document.createElementNS(SVG, "path");
    const kind = one.face ? one.mark ? { door: "door", "garage door": "door", thing: "thing" }[one.kind] ?? "window" : "face" : "";
    const values = {
      class: `region ${kind}`, d: view.paths[one.number], "data-number": one.number, role: "button",
      "aria-label": words(one), "aria-pressed": String(Boolean(one.face)), tabindex: -1,
    };
    for (const [name, text] of Object.entries(values)) if (path.getAttribute(name) !== `${text}`) path.setAttribute(name, text);
    return path;
  });
  // Small ones lie over large ones; what has the focus is not taken out.
  const kept = shapes.length === old.size && shapes.every((path, index) => path === handles.children[index]);
  if (!kept) handles.replaceChildren(...shapes, ...handles.querySelectorAll(".measured"));
  const first = handles.querySelector(`[data-number="${at ?? 1}"]`) ?? shapes.at(0);
  first?.setAttribute("tabindex", 0);
  if (at && !kept) first?.focus();
  marks();
}

function faceForm(face) {
  const name = `n-${face.number}`;
  const head = face.number
    ? [el("div", { class: "grid" }, el("div", { class: "field", "data-field": face.number === view.faces[0].number ? "face" : null },
      el("label", { for: name }, spoken("Name of this face")),
      el("input", { id: name, value: face.name, maxlength: 80, autocomplete: "off", spellcheck: "false", onchange: (event) => rename(face.number, event.target.value) }),
      el("p", { class: "fault" }))),
    el("button", { type: "button", class: "quiet", onclick: () => toggleFace(face.number) }, spoken("Leave out {face}", { face: face.name }))] : [];
  return el("fieldset", { class: "form", id: `face-${face.number || face.name}` },
    el("legend", {}, face.number ? `${face.number}: ${face.name}` : face.name),
    el("p", { class: "hint" }, face.size, face.others.length ? `; ${face.others.join(", ")}` : ""),
    ...head,
    el("ul", { class: "holes" }, ...face.openings.map((one) => holeRow(face, one))));
}

function holeRow(face, one) {
  const small = el("small", {}, `${one.size}${one.shape === "rectangle" ? "" : `, ${spoken(one.shape)}`}; ${one.place}`);
  if (!one.number) return el("li", {}, el("span", { class: "number" }), el("b", {}, one.mark), el("span", {}, spoken(one.kind)), small);
  const choice = el("select", { id: `k-${one.number}`, onchange: (event) => pickHole(one.number, event.target.value, one.mark) },
    ...[...KINDS, LEFT_OUT].map((kind) => el("option", { value: kind, selected: kind === one.kind }, kind === LEFT_OUT ? spoken("left out") : spoken(kind))));
  return el("li", {},
    el("span", { class: "number" }, `${one.number}`),
    el("div", { class: "field" }, el("label", { for: `m-${one.number}` }, spoken("Mark")), el("input", { id: `m-${one.number}`, value: one.mark, maxlength: 40, autocomplete: "off", spellcheck: "false", onchange: (event) => pickHole(one.number, one.kind, event.target.value.trim()) })),
    el("div", { class: "field" }, el("label", { for: `k-${one.number}` }, spoken("Region {number} is", one)), choice),
    small);
}

// ---- What is picked.

const region = (number) => view.regions.find((one) => one.number === number);
const plain = (mark) => (mark.includes(",") || KINDS.includes(mark) || mark === LEFT_OUT ? "" : mark);

function allFaces() {
  picked.faces ??= new Map(view.faces.filter((face) => face.number).map((face) => [face.number, ""]));
  return picked.faces;
}

function toggleFace(number) {
  const faces = allFaces();
  if (!faces.has(number)) {
    faces.set(number, "");
    say(spoken("Region {number} is taken as a face.", { number }));
  } else if (faces.size === 1) {
    say(spoken("This is the only face: tap another one first."), true);
    return;
  } else {
    faces.delete(number);
    say(spoken("Region {number} is left out. Tap it again to take it.", { number }));
  }
  look();
}

function rename(number, name) {
  allFaces().set(number, name.trim());
  look();
}

/** In a face with a picked opening only picked ones count: the others are picked as they are. */
function pickHole(number, kind, mark) {
  const face = view.faces.find((one) => one.name === region(number).inside);
  if (kind !== LEFT_OUT) {
    for (const one of face?.openings ?? []) if (one.number && !picked.openings.has(one.number)) picked.openings.set(one.number, plain(one.mark));
  }
  picked.openings.set(number, kind === LEFT_OUT ? kind : [plain(mark), kind].filter(Boolean).join(","));
  say(kind === LEFT_OUT ? spoken("Region {number} is left out.", { number }) : spoken("Region {number}: {kind}.", { number, kind: spoken(kind || "an opening") }));
  look();
}

/** A wall is taken or not; an opening goes from what it was found as to the other kind, and out. */
function tap(number) {
  const one = region(number);
  if (one.view || !one.inside || one.face && !one.mark) toggleFace(number);
  else if (one.kind === "thing") pickHole(number, LEFT_OUT, "");
  else if (!one.face) pickHole(number, one.guess, "");
  else pickHole(number, one.kind === one.guess ? (one.guess === "door" ? "window" : "door") : LEFT_OUT, one.mark);
}

const tapped = (number) => { if (busy) taps.push(number); else tap(number); };

handles.addEventListener("click", (event) => {
  const path = event.target.closest(".region");
  if (find("#ends")?.getAttribute("aria-pressed") === "true") measure(event);
  else if (path) tapped(Number(path.dataset.number));
});
handles.addEventListener("keydown", (event) => {
  const path = event.target.closest(".region");
  if (!path) return;
  const step = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
  const numbers = view.regions.map((one) => one.number).sort((a, b) => a - b);
  let to = null;
  if (step) to = numbers[(numbers.indexOf(Number(path.dataset.number)) + step + numbers.length) % numbers.length];
  else if (event.key === "Home") to = numbers[0];
  else if (event.key === "End") to = numbers.at(-1);
  else if (event.key === "Enter" || event.key === " ") { event.preventDefault(); tapped(Number(path.dataset.number)); return; }
  if (to === null) return;
  event.preventDefault();
  path.setAttribute("tabindex", -1);
  const next = handles.querySelector(`[data-number="${to}"]`);
  next.setAttribute("tabindex", 0);
  next.focus();
  next.scrollIntoView({ block: "nearest", inline: "nearest" });
});

// ---- A known length.

function measuring(on) {
  points = on ? [] : points;
  find("#ends").setAttribute("aria-pressed", String(on));
  document.body.classList.toggle("measuring", on);
  if (on) { find("#stage").scrollIntoView({ block: "nearest" }); say(spoken("Tap one end of the known length, then the other.")); }
  marks();
}

const onDrawing = (x, y) => [view.place.x + (x - view.place.origin[0]) / view.place.mm, view.place.y - (y - view.place.origin[1]) / view.place.mm];
const onPicture = ([x, y]) => [view.place.origin[0] + (x - view.place.x) * view.place.mm, view.place.origin[1] - (y - view.place.y) * view.place.mm];

async function measure(event) {
  const by = handles.getScreenCTM();
  const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(by.inverse());
  points.push(onDrawing(at.x, at.y));
  marks();
  if (points.length < 2) return;
  measuring(false);
  try {
    const found = await post(`${here}/ends`, { ...said(), between: "", known: "", points, near: 16 / (by.a * view.place.mm) });
    points = found.ends;
    find("#d-between").value = found.between;
    marks();
    find("#d-known").focus();
    say(spoken("Type how long it is."));
    if (known()) look();
  } catch (error) {
    say(error.message, true);
  }
}

function marks() {
  for (const old of handles.querySelectorAll(".measured")) old.remove();
  if (!points.length) return;
  const by = handles.getScreenCTM();
  const arm = by ? 9 / by.a : 4;
  const places = points.map(onPicture);
  const crosses = places.map(([x, y]) => `M${x - arm} ${y}h${2 * arm}M${x} ${y - arm}v${2 * arm}`);
  const path = document.createElementNS(SVG, "path");
  path.setAttribute("class", "measured");
  path.setAttribute("d", `${crosses.join("")}${places.length > 1 ? `M${places.map(([x, y]) => `${x} ${y}`).join("L")}` : ""}`);
  handles.append(path);
}

// ---- The rest of the page.

function zoomed(to) {
  const stage = find("#stage");
  const middle = [(stage.scrollLeft + stage.clientWidth / 2) / zoom, (stage.scrollTop + stage.clientHeight / 2) / zoom];
  zoom = Math.min(12, Math.max(1, to));
  find(".rolled").style.setProperty("--zoom", zoom);
  stage.scrollTo(middle[0] * zoom - stage.clientWidth / 2, middle[1] * zoom - stage.clientHeight / 2);
  marks();
}
find("#nearer").addEventListener("click", () => zoomed(zoom * 1.6));
find("#farther").addEventListener("click", () => zoomed(zoom / 1.6));
find("#whole").addEventListener("click", () => zoomed(1));
find("#ends")?.addEventListener("click", (event) => measuring(event.currentTarget.getAttribute("aria-pressed") !== "true"));
addEventListener("keydown", (event) => { if (event.key === "Escape" && document.body.classList.contains("measuring")) measuring(false); });
for (const one of document.querySelectorAll("[name=mode]")) one.addEventListener("change", look);
for (const name of ["units", "page", "between", "known", "tape", "accept"]) {
  find(`#d-${name}`)?.addEventListener("change", () => { if (name === "between") points = []; look(); });
}
find("#d-cladding")?.addEventListener("click", async (event) => {
  const button = event.currentTarget;
  const taken = await sidingFrom(find("#ask"), button.dataset.profile || view?.siding || "");
  if (taken) { button.dataset.profile = taken; look(); }
});
find("#take").addEventListener("click", async (event) => {
  event.target.disabled = true;
  say(spoken("Writing the job …"));
  try {
    const { job, face } = await post(`${here}/take`, { ...said(), who: who() });
    location.assign(`/job/${encodeURIComponent(job)}/measure?face=${face}`);
  } catch (error) {
    say(error.message, true);
    event.target.disabled = !view?.ready;
  }
});
addEventListener("pageshow", (event) => { if (event.persisted) look(); });
if (find("#pad")) {
  const pad = new Keypad(find("#pad"), find("#pad-switch"), () => value("tape"));
  pad.dress(find("#fields"));
  find("#fields").addEventListener("keydown", (event) => {
    if (event.key === "Enter" && event.target.matches("input:not([type=checkbox])")) { event.preventDefault(); event.target.blur(); }
  });
}
look();
