// The drawing that the desk made, and what can be taken hold of on it.
import { put } from "./net.js";

const SVG = "http://www.w3.org/2000/svg";
const made = (name, values) => {
  const shape = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(values)) shape.setAttribute(key, value);
  return shape;
};

export class Drawing {
  /** stage holds #drawing and #handles; moved is told of a drag; chosen of a tap on an opening. */
  constructor(stage, moved, chosen) {
    this.picture = stage.querySelector("#drawing");
    this.handles = stage.querySelector("#handles");
    this.moved = moved;
    this.chosen = chosen;
    this.held = null;
    if (this.handles) {
      this.handles.addEventListener("pointerdown", (event) => this.take(event));
      this.handles.addEventListener("pointermove", (event) => this.move(event));
      for (const end of ["pointerup", "pointercancel"]) this.handles.addEventListener(end, (event) => this.drop(event));
    }
  }

  /** alike: what comes looks like what is there, and takes its place. */
  clear(alike = false) {
    if (!alike) this.picture.replaceChildren();
    this.handles?.replaceChildren();
  }

  show(view) {
    this.picture.classList.toggle("old", !view.svg);
    if (!view.svg) { if (!this.held) this.handles?.replaceChildren(); return; }
    put(this.picture, view.svg);
    this.place = view.place;
    if (!this.handles || !view.handles) return;
    this.handles.setAttribute("viewBox", this.picture.firstElementChild.getAttribute("viewBox"));
    const shapes = view.handles.map((one, index) => this.shape(one, index));
    // What is being dragged stays under the finger.
    if (this.held) return;
    this.list = view.handles;
    this.handles.replaceChildren(...shapes.filter(Boolean));
  }

  shape(one, index) {
    const group = made("g", { "data-index": index, class: `handle ${one.kind}` });
    if (one.box) {
      const [x, y, width, height] = one.box;
      group.append(made("rect", { x, y, width, height }));
    } else {
      const [x, y] = one.point;
      group.append(made("circle", { cx: x, cy: y, r: 5, class: "reach" }), made("circle", { cx: x, cy: y, r: 1.5, class: "dot" }));
    }
    const title = made("title", {});
    title.textContent = one.label;
    group.append(title);
    return group;
  }

  at(event) {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.handles.getScreenCTM().inverse());
    return [point.x, point.y];
  }

  take(event) {
    const group = event.target.closest("[data-index]");
    if (!group || event.button) return;
    const one = this.list[Number(group.dataset.index)];
    this.held = { one, from: this.at(event), key: `drag-${Date.now().toString(36)}`, far: false, group };
    this.handles.setPointerCapture(event.pointerId);
    event.preventDefault();
  }

  move(event) {
    if (!this.held) return;
    const [x, y] = this.at(event);
    const { one, from, key, group } = this.held;
    const off = [(x - from[0]), (y - from[1])];
    if (!this.held.far && Math.hypot(...off) < 1.2) return;
    this.held.far = true;
    group.setAttribute("transform", one.kind === "level" ? `translate(0 ${off[1]})` : `translate(${off[0]} ${off[1]})`);
    const to = [one.at[0] + off[0] * this.place.mm, one.at[1] - off[1] * this.place.mm];
    this.moved({ kind: "drag", what: one.kind, path: one.path, side: one.side, to }, key);
  }

  drop(event) {
    if (!this.held) return;
    const { one, far, key, from, group } = this.held;
    const [x, y] = this.at(event);
    this.held = null;
    if (!far) { this.chosen(one.path); return; }
    group.setAttribute("class", `${group.getAttribute("class")} dropped`);
    const to = [one.at[0] + (x - from[0]) * this.place.mm, one.at[1] - (y - from[1]) * this.place.mm];
    this.moved({ kind: "drag", what: one.kind, path: one.path, side: one.side, to }, key);
  }
}
