// What comes from the desk is put in while somebody is at the page: a press lands where it began, the focus stays.

const CONTROLS = "button, a, select, summary, label, input:not([type=range])";
// After a finger is lifted its click may be as late as that; longer than a press it is held for something else [ms].
const CLICK = 350;
const HELD = 5000;
const presses = new Map(); // pointer -> what ends its press
let waiting = [];

function lift(pointer, after) {
  if (!presses.has(pointer)) return;
  clearTimeout(presses.get(pointer));
  presses.set(pointer, setTimeout(() => {
    presses.delete(pointer);
    if (!presses.size) for (const go of waiting.splice(0)) go();
  }, after));
}

const all = () => { for (const pointer of [...presses.keys()]) lift(pointer, 0); };
addEventListener("pointerdown", (event) => {
  if (!event.target.closest?.(CONTROLS)) return;
  if (!presses.has(event.pointerId)) presses.set(event.pointerId, 0);
  lift(event.pointerId, HELD);
}, true);
addEventListener("pointerup", (event) => lift(event.pointerId, CLICK), true);
addEventListener("pointercancel", (event) => lift(event.pointerId, 0), true);
for (const done of ["click", "change", "blur"]) addEventListener(done, (event) => { if (done !== "blur" || event.target === window) all(); }, true);

/** When no button, link or field is being pressed; what moves or replaces them waits for it. */
export async function landed() {
  if (presses.size) await new Promise((done) => waiting.push(done));
}

// By these one of several alike is told from the others.
const NAMES = ["id", "data-path", "data-side", "data-go", "data-add", "data-same", "data-by", "data-back", "data-keep", "data-measured"];
const nameOf = (node) => [node.nodeName, ...NAMES.map((name) => node.getAttribute?.(name))].join("\n");
const LEFT = ["open", "inputmode"]; // what the page itself sets

function match(old, fresh, kept) {
  if (old.nodeType !== Node.ELEMENT_NODE) {
    if (old.nodeValue !== fresh.nodeValue) old.nodeValue = fresh.nodeValue;
    return;
  }
  for (const { name } of [...old.attributes]) if (!fresh.hasAttribute(name) && !LEFT.includes(name)) old.removeAttribute(name);
  for (const { name, value } of fresh.attributes) if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  for (const name of ["onclick", "onchange", "oninput"]) old[name] = fresh[name];
  fill(old, fresh, kept);
  if (!fresh.matches("input, select") || kept(old)) return;
  for (const name of ["value", "checked"]) if (old[name] !== fresh[name]) old[name] = fresh[name];
}

function fill(place, fresh, kept) {
  let at = place.firstChild;
  for (const one of [...fresh.childNodes]) {
    const name = nameOf(one);
    let found = at;
    while (found && nameOf(found) !== name) found = found.nextSibling;
    if (!found) { place.insertBefore(one, at); continue; }
    while (at !== found) {
      const next = at.nextSibling;
      at.remove();
      at = next;
    }
    match(found, one, kept);
    at = found.nextSibling;
  }
  while (at) {
    const next = at.nextSibling;
    at.remove();
    at = next;
  }
}

/** Put new content into a place; what is there already stays the same element, and a kept field its text. */
export function renew(place, content, kept = () => false) {
  const fresh = document.createDocumentFragment();
  fresh.append(...[content].flat().filter((one) => one !== null && one !== undefined && one !== ""));
  fill(place, fresh, kept);
}
