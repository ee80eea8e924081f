// Elements made by hand: texts are always set as text, never read as markup.

const SVG = "http://www.w3.org/2000/svg";

function put(parent, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value === null || value === false || value === undefined) continue;
    if (name.startsWith("on")) parent.addEventListener(name.slice(2), value);
    else parent.setAttribute(name, value === true ? "" : value);
  }
  parent.append(...children.flat(Infinity).filter((child) => child !== null && child !== undefined));
  return parent;
}

/** A text as it is to stand; one that stands already is left as it is. */
const setText = (element, text) => element.textContent === text || element.replaceChildren(...worded(text));

/** An element with attributes (on... is a listener) and children. */
const make = (name, attributes, ...children) =>
  put(document.createElement(name), attributes, children.flat(Infinity).map((child) => (typeof child === "string" ? worded(child) : child)));

/** The same in a drawing. */
const draw = (name, attributes, ...children) => put(document.createElementNS(SVG, name), attributes, children);

const byId = (id) => document.getElementById(id);

/** A name that the user gave, kept apart from the direction of what stands round it. */
const named = (text, name = "bdi") => make(name, name === "bdi" ? { dir: "ltr" } : null, text);

/** A button at least a thumb wide. */
function button(text, attributes, ...children) {
  return make("button", { type: "button", ...attributes }, text, ...children);
}

/** What is to stand in a drawing, before it is one: shapes, or one text. */
const shape = (name, attributes, ...children) => ({ name, attributes, children: children.flat(Infinity).filter((one) => one !== null) });

/** Bring a part of a drawing up to date: elements that are there are kept, and only what differs is set. */
function redraw(parent, wanted) {
  wanted.forEach(({ name, attributes, children }, index) => {
    let one = parent.children[index];
    if (one?.localName !== name) {
      const made = document.createElementNS(SVG, name);
      if (one) one.replaceWith(made);
      else parent.append(made);
      one = made;
      one.shown = {};
    }
    for (const key of Object.keys({ ...one.shown, ...attributes })) {
      const value = attributes[key] ?? null;
      if (value === (one.shown[key] ?? null)) continue;
      if (value === null) one.removeAttribute(key);
      else one.setAttribute(key, value);
    }
    one.shown = attributes;
    if (typeof children[0] !== "string") redraw(one, children);
    else if (one.textContent !== children[0]) one.textContent = children[0];
  });
  while (parent.childElementCount > wanted.length) parent.lastElementChild.remove();
}

/** A drawing of its own, of shapes. */
function picture(attributes, ...shapes) {
  const made = draw("svg", { "aria-hidden": "true", ...attributes });
  redraw(made, shapes.flat(Infinity).filter((one) => one !== null));
  return made;
}

/** Shapes of the signs in a box of 20 by 10: a filled bar, an open step, a filled diamond. */
function signShape(result) {
  if (result === "flush") return shape("path", { class: "sign flush", d: "M1 3H19V7H1Z" });
  if (result !== "sliver") return shape("path", { class: "sign notch", d: "M1 8.5H10V1.5H19" });
  return shape("path", { class: "sign sliver", d: "M4 5L10 -1L16 5L10 11Z" });
}

/** A sign to stand in a text; the words beside it say the same. */
const sign = (result) => picture({ class: "inline", viewBox: "0 -1 20 12" }, signShape(result));

const PLURALS = new Intl.PluralRules(document.documentElement.lang);

/** A message of the page's language in parts: texts, and what is put in its places, elements too. One of a number has two forms. */
function phrase(key, values = {}) {
  const message = DATA.words[key];
  const form = Array.isArray(message) ? message[PLURALS.select(values.count) === "one" ? 0 : 1] : message;
  return form.split(/\{(\w+)\}/).map((part, at) => (at % 2 ? values[part] : part)).filter((part) => part !== "");
}

/** A message as a text. */
const say = (key, values) => phrase(key, values).join("");

let spoken = null;
/** Tell a screen reader something, once it has settled. */
function announce(text) {
  clearTimeout(spoken);
  spoken = setTimeout(() => {
    byId("live").textContent = text;
  }, 350);
}
