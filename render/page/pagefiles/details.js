// What a tap opens: an opening with its cuts, a fixture, a course with its pieces.

const row = (name, value) => [make("dt", null, name), make("dd", null, value)];

/** Open the sheet of what was tapped: Back closes it. */
function open(picked) {
  const stepped = state.picked !== null;
  show(picked);
  keepPlace(stepped ? "replaceState" : "pushState");
}

function show(picked) {
  state.picked = picked;
  const dialog = byId("details");
  fill(picked);
  if (!dialog.open) dialog.showModal();
  dialog.scrollTop = 0;
  layWall();
}

function fill(picked) {
  const [title, parts, steps] = picked.opening !== undefined ? openingParts(picked.opening) : picked.fixture !== undefined ? fixtureParts(picked.fixture) : courseParts(picked);
  byId("details-title").replaceChildren(...title);
  byId("details-body").replaceChildren(...parts.flat(Infinity).filter(Boolean));
  for (const [id, target, label] of [["details-down", steps[0], steps[2]], ["details-up", steps[1], steps[3]]]) {
    const one = byId(id);
    one.disabled = target === null;
    one.setAttribute("aria-label", label);
    one.onclick = () => {
      open(target);
      announce(byId("details-title").textContent);
    };
  }
}

function openingParts(number) {
  const face = faceNow();
  const opening = face.openings[number];
  const edges = edgesOf(face).filter((edge) => edge.target.opening === number);
  const parts = [openingPicture(face, opening, edges), edges.reverse().map((edge) => edgeParts(edge, face))];
  parts.push(make("h3", null, say("where it is")), make("dl", null, opening.facts.map(([name, value]) => row(name, value))));
  const other = (index) => (face.openings[index] ? { opening: index } : null);
  const title = phrase(`kind ${opening.kind}`, { mark: named(opening.mark) });
  return [title, parts, [other(number - 1), other(number + 1), say("opening before"), say("next opening")]];
}

/** Head or sill of an opening: course, cut, strip, furring, result. */
function edgeParts(edge, face) {
  const { target, result, facts } = edge;
  const was = changesOf(face).find((change) => change.edge.target === target)?.was;
  const importance = { must: ` ${say("must be flush")}`, want: "", ignore: ` ${say("not counted")}` }[target.importance];
  const rows = [row(say("height"), target.level)];
  for (let at = 0; at < facts.length; at += 2) rows.push(row(facts[at], facts[at + 1]));
  return [
    make("h3", null, phrase("edge heading", { edge: target.name[0].toUpperCase() + target.name.slice(1), sign: sign(result), result: say(`result ${result}`) })),
    make("p", { class: "act" }, `${edge.act}.${importance}`),
    was ? make("p", { class: "before" }, say("in the plan", { result: say(`result ${was.result}`), course: courseName(target.set, was.course) })) : null,
    make("dl", null, rows),
  ];
}

function fixtureParts(number) {
  const face = faceNow();
  const { mark, box, facts } = face.fixtures[number];
  const crossed = coursesOf(face).filter((course) => course.head > box[1] && course.foot < box[3]);
  const names = crossed.map(({ name }) => name).join(", ");
  const parts = [make("dl", null, facts.map(([name, value]) => row(name, value)), row(say("cut round it"), names || say("no courses")))];
  const other = (index) => (face.fixtures[index] ? { fixture: index } : null);
  return [phrase("fixture", { mark: named(mark) }), parts, [other(number - 1), other(number + 1), say("fixture before"), say("next fixture")]];
}

function courseParts(picked) {
  const face = faceNow();
  const all = coursesOf(face);
  const at = all.findIndex((course) => course.set === picked.set && course.number === picked.course);
  const target = (course) => (course ? { set: course.set, course: course.number } : null);
  const set = DATA.sets[picked.set];
  const name = courseName(picked.set, picked.course);
  const steps = [target(all[at - 1]), target(all[at + 1]), say("course below"), say("course above")];
  if (at < 0) return [phrase("course", { course: name }), [make("p", null, say("course not here"))], [null, null, steps[2], steps[3]]];
  const title = phrase("course of face", { course: name, face: named(face.name) });
  const course = all[at];
  const box = make("input", {
    type: "checkbox",
    onchange: () => tick(course, box.checked),
  });
  box.checked = isUp(face, course.set, course.number);
  const cuts = edgesOf(face).filter((edge) => edge.target.set === course.set && edge.course === course.number);
  const mine = face.pieces.filter((piece) => piece.set === course.set && piece.course === course.number);
  const parts = [
    make("label", { class: "tick-here" }, box, make("span", null, say("course is up", { course: name }))),
    make("dl", null, row(say("butt line"), course.reading), course.ends ? row(say("on this face"), text(course.ends[2])) : [], row(say("next line"), course.nextReading), row(say("exposure"), course.exposure), row(say("siding"), set.label)),
  ];
  if (cuts.length) {
    parts.push(make("h3", null, say("edges it meets")));
    parts.push(make("ul", { class: "plain" }, cuts.map((edge) => make("li", null, sign(edge.result), " ", phrase("edge action", { edge: named(edge.target.subject), action: edge.act })))));
  }
  if (!mine.length && course.number <= face.hung[course.set]) {
    parts.push(make("p", { class: "hint" }, say("course installed")));
    return [title, parts, steps];
  }
  parts.push(make("h3", null, moved(course.set) ? say("pieces") : say("pieces from left", { count: mine.length })));
  if (moved(course.set)) {
    parts.push(make("p", { class: "warn" }, say("pieces held back")));
  } else parts.push(mine.map(pieceParts));
  return [title, parts, steps];
}

function pieceParts(piece) {
  const words = piece.words.map(text);
  const [left, bottom, right, top] = boundsOf(piece.outline);
  const pad = (right - left) * 0.006;
  const stock = piece.stock === null ? "" : `${say("stock", { stock: piece.stock, cut: piece.cut })} `;
  return make(
    "article",
    { class: "piece" },
    make("h4", null, named(piece.id), " ", make("span", { class: "length" }, piece.length)),
    picture(
      { class: "shape", viewBox: `${left - pad} ${-top - pad} ${right - left + 2 * pad} ${top - bottom + 2 * pad}` },
      shape("path", { d: [piece.outline, ...piece.holes].map(path).join(""), "fill-rule": "evenodd" }),
    ),
    make("p", { class: "stock" }, `${stock}${say("order", { number: piece.order })}`),
    make("ul", { class: "plain" }, words.map((one) => make("li", null, one))),
  );
}

function startDetails() {
  const dialog = byId("details");
  byId("details-close").onclick = () => dialog.close();
  dialog.addEventListener("click", (event) => {
    if (event.target === dialog) dialog.close();
  });
  dialog.addEventListener("close", () => {
    if (state.picked !== null) leaveSheet();
    state.picked = null;
    layWall();
  });
}
