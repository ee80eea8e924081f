// A siding is chosen by a picture of its section.
import { el, put } from "./net.js";
import { spoken } from "./words.js";

/** The profile that is taken; "" where it is left as it is. */
export async function sidingFrom(ask, chosen) {
  const response = await fetch(`/profiles?chosen=${encodeURIComponent(chosen)}`);
  put(ask, await response.text());
  ask.prepend(el("h2", {}, spoken("Siding")));
  const marked = () => ask.querySelector(":checked")?.value ?? "";
  ask.append(el("div", { class: "buttons" },
    el("button", { type: "button", onclick: () => ask.close("") }, spoken("Leave it as it is")),
    el("button", { type: "button", class: "main", onclick: () => ask.close(marked()) }, spoken("Take the one that is marked"))));
  ask.returnValue = ""; // what an answer before has left
  ask.showModal();
  ask.querySelector(":checked")?.focus();
  ask.querySelector(":checked")?.closest("label").scrollIntoView({ block: "center" });
  // A tap takes it; whoever goes along them by keys only marks them.
  for (const one of ask.querySelectorAll("input")) one.onclick = (event) => { if (event.detail) ask.close(one.value); };
  await new Promise((done) => ask.addEventListener("close", done, { once: true }));
  return ask.returnValue;
}
