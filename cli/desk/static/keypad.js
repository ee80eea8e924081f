// A keypad for lengths as a tape reads them. It writes text into fields and knows nothing of walls.
import { el } from "./net.js";
import { spoken } from "./words.js";

const EIGHTHS = ["1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"];
const SIXTEENTHS = ["1/16", "3/16", "5/16", "7/16", "9/16", "11/16", "13/16", "15/16"];

export class Keypad {
  constructor(place, button, units) {
    Object.assign(this, { place, button, units, input: null });
    this.on = matchMedia("(pointer: coarse)").matches;
    button.addEventListener("click", () => { this.on = !this.on; this.switched(); });
    document.addEventListener("focusin", (event) => this.follow(event.target));
    document.addEventListener("focusout", (event) => { if (!event.relatedTarget) this.follow(null); });
    place.addEventListener("pointerdown", (event) => event.preventDefault()); // the field keeps the focus
    place.addEventListener("click", (event) => this.press(event.target.closest("button")?.dataset.key));
    this.switched();
  }

  switched() {
    this.button.setAttribute("aria-pressed", String(this.on));
    if (this.within) this.dress(this.within);
    this.follow(document.activeElement);
  }

  /** Fields of lengths ask for no keyboard of the system while the keypad is there. */
  dress(within) {
    this.within = within;
    for (const input of within.querySelectorAll(".field.length input")) {
      if (this.on) input.setAttribute("inputmode", "none");
      else input.removeAttribute("inputmode");
    }
  }

  follow(target) {
    const field = target?.closest?.(".field.length");
    if (target?.closest?.("#pad")) return;
    this.input = this.on && field ? target : null;
    clearTimeout(this.leaving);
    // It goes only when the tap that leaves the field has landed: nothing moves away under the finger.
    if (!this.input) { this.leaving = setTimeout(() => this.shown(false), 350); return; }
    this.shown(true);
    this.draw(field);
    target.select?.();
    this.fresh = true;
    requestAnimationFrame(() => field.scrollIntoView({ block: "nearest" }));
  }

  shown(on) {
    if (this.place.hidden === !on) return;
    this.place.hidden = !on;
    document.body.classList.toggle("padded", on);
    dispatchEvent(new Event("resize")); // the drawing has less room now, or more
  }

  draw(field) {
    const key = (label, name = label, more = {}) => el("button", { type: "button", "data-key": name, ...more }, label);
    const row = (name, ...keys) => el("div", { class: `keys ${name}` }, ...keys);
    const inch = this.units() !== "mm";
    const pitch = field.dataset.kind === "pitch";
    const rows = inch && !pitch ? [row("tape", ...SIXTEENTHS.map((one) => key(one, one, { class: "fine" }))), row("tape", ...EIGHTHS.map((one) => key(one)))] : [];
    const side = pitch ? ["/12", "."] : inch ? ["′", "″"] : [".", "−"];
    const names = { "′": "'", "″": '"', "−": "-" };
    rows.push(
      row("digits", key("7"), key("8"), key("9"), key("⌫", "back", { "aria-label": spoken("delete") })),
      row("digits", key("4"), key("5"), key("6"), key(side[0], names[side[0]] ?? side[0], { "aria-label": side[0] === "′" ? spoken("feet") : null })),
      row("digits", key("1"), key("2"), key("3"), key(side[1], names[side[1]] ?? side[1], { "aria-label": { "″": spoken("inches"), "−": spoken("minus") }[side[1]] ?? null })),
      row("digits", key(inch ? "−" : "C", inch ? "-" : "clear", { "aria-label": inch ? spoken("minus") : spoken("clear") }), key("0"), key(spoken("Done"), "done"), key(spoken("Next"), "next", { class: "main" })),
    );
    this.place.replaceChildren(...rows);
    document.documentElement.style.setProperty("--pad", `${this.place.offsetHeight}px`);
  }

  press(key) {
    if (!key || !this.input) return;
    let text = this.fresh && !["next", "back"].includes(key) ? "" : this.input.value;
    this.fresh = false;
    if (key === "done") { this.input.dispatchEvent(new Event("change", { bubbles: true })); this.input.blur(); return; }
    let done = key === "next";
    if (key === "back") text = text.slice(0, -1).trimEnd();
    else if (key === "clear") text = "";
    else if (key === "-") text = text.startsWith("-") ? text.slice(1) : `-${text}`;
    else if (key.includes("/")) {
      text = key === "/12" ? `${text}/12` : `${text.replace(/-?\d+\/\d+$/, "")}${/\d$/.test(text.replace(/-?\d+\/\d+$/, "")) ? "-" : ""}${key}`;
      done = true;
    } else if (key === "'") text = text.includes("'") ? text : `${text}' `;
    else if (key === '"') { done = true; }
    else if (key !== "next") text += key;
    if (this.input.value !== text) {
      this.input.value = text.trimStart();
      this.input.dispatchEvent(new Event("input", { bubbles: true }));
    }
    if (done) this.next(this.input);
  }

  /** The field is complete: on to the next one. */
  next(input) {
    input.dispatchEvent(new Event("change", { bubbles: true }));
    const scope = input.closest("#fields, dialog") ?? document;
    const all = [...scope.querySelectorAll(".field input, .field select, [data-add]")].filter((one) => one.offsetParent !== null && !one.closest("details:not([open])"));
    const after = all.slice(all.indexOf(input) + 1).find((one) => one.matches("input, [data-add]"));
    if (after) after.focus();
    else input.blur();
  }
}
