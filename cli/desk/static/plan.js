// The plan: a starter to slide with every mark's result, edges to mark, alternatives, other sidings, material.
import { Drawing } from "./drawing.js";
import { device, el, get, here, listen, post, Refused, roomOf, say, signOf } from "./net.js";
import { landed, renew } from "./press.js";
import { undoing } from "./undo.js";
import { spoken } from "./words.js";

const body = document.body.dataset;
const find = (name) => document.querySelector(name);
const drawing = new Drawing(find("#stage"), () => {}, () => {});
let number = Number(body.number);
let names = JSON.parse(body.faces);
let face = Math.max(0, Number(new URLSearchParams(location.search).get("face")) || 0);
let sets = [];
let row = 0; // of the set that was moved last
let set = null;
const marked = new Map(); // an edge -> how much it shall matter, as it was tapped, until the desk has drawn it so

function walk() {
  renew(find("#walk"), names.map((name, index) => el("a", { href: `?face=${index}`, "data-go": index, "aria-current": index === face ? "page" : null }, name || spoken("Face {number}", { number: index + 1 }))));
}

async function load() {
  try {
    const found = await get(`${here}/choices`);
    await landed();
    number = found.number;
    sets = found.sets;
    set = sets.find((one) => one.name === set?.name) ?? sets[0];
    row = set.planned;
    draw();
    await choose();
    material();
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    const lines = error.answer.faults ?? [error.message];
    await landed();
    renew(find("#sets"), [el("p", { class: "look" }, spoken("There is no plan yet:")), el("ul", { class: "lines" }, ...lines.map((line) => el("li", {}, line))), el("a", { href: `${here}/measure` }, spoken("Go on measuring"))]);
  }
}

function chart(one) {
  const marks = one.rows.slice(0, one.marks);
  const most = Math.max(...marks.map((mark) => mark.weight), 1e-9);
  const ns = "http://www.w3.org/2000/svg";
  const svg = document.createElementNS(ns, "svg");
  svg.setAttribute("viewBox", `0 0 ${marks.length} 40`);
  svg.setAttribute("preserveAspectRatio", "none");
  svg.setAttribute("aria-hidden", "true");
  marks.forEach((mark, index) => {
    const bar = document.createElementNS(ns, "rect");
    const high = Math.max(2, (38 * mark.weight) / most);
    for (const [key, value] of Object.entries({ x: index + 0.12, y: 40 - high, width: 0.76, height: high })) bar.setAttribute(key, value);
    bar.setAttribute("class", [mark.bad ? "bad" : "fine", index === one.planned ? "planned" : "", one === set && index === row ? "here" : ""].join(" "));
    svg.append(bar);
  });
  return svg;
}

function draw() {
  const parts = sets.map((one) => {
    const at = one === set ? row : one.planned;
    const shown = one.rows[at];
    const range = el("input", { type: "range", min: 0, max: one.marks - 1, step: 1, "aria-label": spoken("Starter of {set}", { set: one.name }), "aria-valuetext": `${shown.words}: ${shown.score}`, disabled: one.marks < 2, oninput: (event) => { set = one; row = Number(event.target.value); moved(); } });
    range.value = Math.min(at, one.marks - 1);
    const others = one.others.map((index, place) => el("label", { class: "alternative" },
      Object.assign(el("input", { type: "radio", name: `other-${one.name}`, onchange: () => { set = one; row = index; moved(); } }), { checked: at === index }),
      el("span", {}, el("b", {}, `${place ? spoken("Alternative {number}:", { number: place }) : spoken("The plan:")} `), `${one.rows[index].words}; ${one.rows[index].bands}`, el("br"), one.rows[index].score, one.rows[index].against ? el("span", { class: "hint" }, ` (${one.rows[index].against})`) : "")));
    return el("section", { class: "set", "data-set": one.name },
      el("h2", {}, sets.length > 1 ? `${one.name}: ${one.label}` : one.label),
      el("p", { class: "starter" }, el("b", {}, shown.words)),
      el("p", { class: "score" }, shown.score, shown.against ? el("span", { class: "hint" }, ` · ${shown.against}`) : ""),
      el("p", { class: "bands" }, shown.bands),
      one.marks > 1 ? el("div", { class: "track" }, el("div", { class: "chart" }, chart(one)), range,
        el("div", { class: "buttons" }, el("button", { type: "button", "data-by": -1, "aria-label": spoken("one mark lower") }, "−"), el("button", { type: "button", "data-by": 1, "aria-label": spoken("one mark higher") }, "+"),
          at !== one.planned ? el("button", { type: "button", "data-back": true }, spoken("Back to the plan")) : null,
          at !== one.planned && at < one.marks && sets.length === 1 ? el("button", { type: "button", class: "main", "data-keep": true }, spoken("Keep this starter")) : null)) : el("p", {}, spoken("The starter is fixed.")),
      el("p", { class: "hint" }, spoken("Starter limits {limits}", { limits: one.limits })),
      sets.length === 1 && one.marks === 1 && !one.hung ? el("button", { type: "button", "data-free": true }, spoken("Let the planner choose")) : null,
      one.missed.length ? el("ul", { class: "lines" }, ...one.missed.map((line) => el("li", { class: "look" }, line))) : null,
      others.length > 1 ? el("fieldset", { class: "form" }, el("legend", {}, spoken("Other workable layouts")), ...others) : null);
  });
  renew(find("#sets"), parts);
}

let pending = null;
async function moved() {
  draw();
  await choose();
}

function choose() {
  walk();
  if (pending) pending.again = true;
  else {
    pending = { again: true };
    pending.done = chosen().finally(() => { pending = null; });
  }
  return pending.done;
}

async function chosen() {
  while (pending.again) {
    pending.again = false;
    await drawn();
  }
}

async function drawn() {
  const started = performance.now();
  const asked = face;
  try {
    const view = await get(`${here}/choice?set=${encodeURIComponent(set.name)}&row=${row}&face=${face}&room=${roomOf(find("#stage"))}`);
    drawing.show(view);
    document.body.dataset.latency = (performance.now() - started).toFixed(1);
    await landed();
    edges(view.edges, asked);
    lines("#given", view.given_up, row === set.planned ? spoken("Every edge is met.") : spoken("Known of the plan's own lines alone."));
    lines("#cautions", view.cautions, spoken("Nothing in particular."));
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    say(error.message, true);
  }
}

function lines(place, found, none) {
  renew(find(place), found.length ? found.map((line) => el("li", {}, line)) : el("li", { class: "hint" }, none));
}

let listed = { list: [], of: 0 };
const nameOf = (edge) => JSON.stringify([listed.of, edge.opening, edge.edge]);

function edges(list = listed.list, of = listed.of) {
  listed = { list, of };
  renew(find("#edges"), list.map((edge) => {
    const importance = marked.get(nameOf(edge)) ?? edge.importance;
    const mine = edge.opening && ["head", "sill"].includes(edge.edge);
    const marks = mine ? el("div", { class: "marks", role: "group", "aria-label": spoken("How much {edge} matters", { edge: edge.subject }) }, ...["must", "want", "ignore"].map((word) => el("button", { type: "button", "aria-pressed": String(importance === word), onclick: () => mark(edge, word) }, spoken(word)))) : null;
    return el("li", { class: `${edge.result} ${importance}` }, signOf(edge.result), el("span", { class: "subject" }, edge.subject), el("span", { class: "act" }, edge.act), marks);
  }));
}

// One change after the other: each is made on what the one before it has left.
let changing = Promise.resolve();
let left = 0;
function change(changes, words) {
  left += 1;
  changing = changing.then(() => made(changes, words)).finally(() => { left -= 1; });
  return changing;
}

async function made(changes, words) {
  try {
    const answer = await post(`${here}/edit`, { base: number, changes, face, room: roomOf(find("#stage")) });
    number = answer.number;
    say(spoken("Saved: {what}", { what: words ?? answer.what }));
  } catch (error) {
    say(error.answer ? error.answer.stale ? spoken("Somebody changed the job meanwhile: look at it again.") : error.message : spoken("No connection to the desk: this was not saved."), true);
    marked.clear();
    edges();
  }
  if (left > 1) return; // the last one is planned
  await load().catch(() => {});
  if (left > 1) return;
  marked.clear();
  edges();
}

// What was tapped shows at once: the plan with it may take its time.
function mark(edge, importance) {
  const { of } = listed;
  marked.set(nameOf(edge), importance);
  edges();
  change([{ kind: "mark", path: ["elevation", of], opening: edge.opening, edge: edge.edge, importance }], `${names[of] || spoken("Face {number}", { number: of + 1 })}, ${edge.subject}: ${spoken(importance)}`);
}

undoing(() => changing, async (answer) => {
  number = answer.number;
  say(answer.what);
  await load();
});

document.addEventListener("click", (event) => {
  const button = event.target.closest("button, a[data-go]");
  if (!button) return;
  const data = button.dataset;
  if (data.go !== undefined) {
    event.preventDefault();
    face = Number(data.go);
    history.replaceState({}, "", `?face=${face}`);
    choose();
  } else if (data.by || "back" in data) {
    const one = sets.find((item) => item.name === button.closest(".set").dataset.set);
    const from = one === set ? row : one.planned;
    set = one;
    row = "back" in data ? one.planned : Math.max(0, Math.min(one.marks - 1, Math.min(from, one.marks - 1) + Number(data.by)));
    moved();
  } else if ("keep" in data) {
    const value = set.rows[row].starter;
    change([{ kind: "set", path: ["limits", "starter"], side: "low", value }, { kind: "set", path: ["limits", "starter"], side: "high", value }]);
  } else if ("free" in data) change([{ kind: "set", path: ["limits", "starter"], value: "" }]);
  else if (button.id === "compare") sidings();
  else if (data.swap) take(JSON.parse(data.swap));
});

async function material() {
  const place = find("#material");
  place.replaceChildren(el("p", { class: "hint", "data-step": "material" }, spoken("Pieces and order are being worked out…")));
  try {
    const found = await get(`${here}/work/material`);
    await landed();
    if (found.stopped) return;
    place.replaceChildren(
      ...found.sidings.map((line) => el("p", {}, line)),
      el("div", { class: "scroll" }, el("table", { class: "figures" }, el("thead", {}, el("tr", {}, el("th", { scope: "col" }, spoken("What")), el("th", { scope: "col" }, spoken("Quantity")))), el("tbody", {}, ...found.items.map((item) => el("tr", {}, el("td", {}, item.what), el("td", {}, item.quantity)))))),
      el("p", { class: "hint" }, spoken("{count} pieces; spare {share} %.", { count: found.pieces, share: found.spare })));
  } catch (error) {
    place.replaceChildren(el("p", { class: "look" }, error.message));
  }
}

async function sidings() {
  const place = find("#sidings");
  find("#compare").disabled = true;
  place.replaceChildren(el("p", { class: "hint", "data-step": "sidings" }, spoken("Working…")));
  try {
    const { rows } = await get(`${here}/work/sidings`);
    await landed();
    place.replaceChildren(el("ul", { class: "rows plain" }, ...(rows ?? []).map((one) => el("li", { class: "siding" }, el("b", {}, one.label, one.own ? ` ${spoken("(the job's)")}` : ""), el("span", {}, spoken("{score}; starter {starters}", { score: one.score, starters: one.starters.join(", ") })), ...one.material.map((line) => el("small", {}, line)), one.own ? null : el("button", { type: "button", "data-swap": JSON.stringify(one.swap) }, spoken("Take this one"))))));
  } catch (error) {
    place.replaceChildren(el("p", { class: "look" }, error.message));
  }
  find("#compare").disabled = false;
}

async function take(swap) {
  try {
    ({ number } = await post(`${here}/siding`, { base: number, swap }));
    say(spoken("Taken. Undo brings the other back."));
  } catch (error) {
    say(error.message, true);
  }
  find("#sidings").replaceChildren();
  await load();
}

walk();
load();
listen((event) => {
  if (event.kind === "step") {
    const place = find(`[data-step="${CSS.escape(event.task)}"]`);
    if (place) place.textContent = spoken("Working: {step}…", { step: event.words });
  } else if ((event.kind === "revision" && event.device !== device || event.kind === "hello") && event.number > number) {
    if (event.what) say(`${spoken(event.who || "Somebody")}: ${spoken(event.what)}`);
    load();
  }
});
