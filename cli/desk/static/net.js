// Asking the desk, and putting its answers on the page.
import { worded } from "./readings.js";
import { spoken } from "./words.js";

const page = document.body.dataset;
export const job = page.job;
export const here = `/job/${encodeURIComponent(job)}`;
const token = document.querySelector("meta[name=desk-token]").content;
const kept = (name, made) => {
  try {
    if (localStorage.getItem(name) === null) localStorage.setItem(name, made());
    return localStorage.getItem(name);
  } catch {
    return made();
  }
};
export const device = kept("evencourse-device", () => crypto.randomUUID?.() ?? `d-${Math.random().toString(36).slice(2)}`);
export const who = () => kept("evencourse-who", () => "");

const name = document.querySelector("#who");
if (name) {
  const label = () => { name.querySelector("span").textContent = who() || spoken("not given"); };
  name.addEventListener("click", () => {
    const told = prompt(spoken("Your name, as the others see it"), who());
    if (told !== null) try { localStorage.setItem("evencourse-who", told.trim().slice(0, 40)); } catch { /* it is asked again */ }
    label();
  });
  label();
}

// What the desk draws is put in as it is; texts of people are set as text or were escaped by the desk.
const policy = globalThis.trustedTypes?.createPolicy("desk", { createHTML: (text) => text });
export function put(element, text) {
  element.innerHTML = policy ? policy.createHTML(text) : text;
}

export function parsed(text) {
  const made = document.createElement("template");
  put(made, text);
  return made.content;
}

export class Refused extends Error {
  constructor(status, answer) {
    super(answer.error ?? spoken("the desk did not take it"));
    Object.assign(this, { status, answer });
  }
}

async function answered(response) {
  const answer = response.headers.get("content-type")?.includes("json") ? await response.json() : { error: await response.text() };
  if (!response.ok) throw new Refused(response.status, answer);
  return answer;
}

export async function post(address, content) {
  return answered(await fetch(address, {
    method: "POST",
    headers: { "content-type": "application/json", "x-desk-token": token },
    body: JSON.stringify({ who: who(), device, ...content }),
  }));
}

export async function brought(file) {
  return answered(await fetch(`/drawings?name=${encodeURIComponent(file.name.slice(-200))}`, {
    method: "POST", headers: { "content-type": "application/octet-stream", "x-desk-token": token }, body: file,
  }));
}

export async function get(address, signal) {
  return answered(await fetch(address, { signal }));
}

export async function posted(address) {
  return fetch(address, { method: "POST", headers: { "x-desk-token": token } });
}

export function el(name, values = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(values)) {
    if (value === undefined || value === null || value === false) continue;
    if (key.startsWith("on")) made[key] = value;
    else made.setAttribute(key, value === true ? "" : value);
  }
  const kept = children.filter((child) => child !== null && child !== undefined);
  made.append(...(name === "option" ? kept : kept.flatMap((child) => (typeof child === "string" ? worded(child) : [child]))));
  return made;
}

let quiet = 0;
export function say(words, look = false) {
  const place = document.querySelector("#say");
  place.textContent = words;
  place.classList.toggle("look", look);
  place.classList.add("shown");
  clearTimeout(quiet);
  quiet = setTimeout(() => place.classList.remove("shown"), look ? 9000 : 3500);
}

export function listen(told) {
  const source = new EventSource(`${here}/live`);
  source.onmessage = (event) => told(JSON.parse(event.data));
  addEventListener("pagehide", () => source.close());
  return source;
}

export function roomOf(element) {
  if (document.body.classList.contains("padded")) return `${Math.round(element.clientWidth)}x${Math.round(innerHeight * 0.25)}`;
  const box = element.getBoundingClientRect();
  const high = Math.max(180, Math.min(innerHeight * 0.62, 720));
  return `${Math.round(Math.max(240, Math.min(1600, box.width)))}x${Math.round(innerWidth < 900 ? innerHeight * 0.36 : high)}`;
}

export function signOf(result) {
  const names = "http://www.w3.org/2000/svg";
  const svg = document.createElementNS(names, "svg");
  svg.setAttribute("viewBox", "0 0 24 16");
  svg.setAttribute("class", `sign ${result}`);
  svg.setAttribute("aria-hidden", "true");
  const shape = document.createElementNS(names, "path");
  shape.setAttribute("d", { flush: "M2 6h20v4H2z", notch: "M2 4h6v8h8V4h6", sliver: "M12 1l10 14H2z" }[result]);
  svg.append(shape);
  return svg;
}
