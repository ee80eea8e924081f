// The face in words: its edges, what was given up, its courses with their ticks, slopes and cautions.

/** The figures over the drawing. */
function showSummary() {
  const face = faceNow();
  const first = face.zones[0].set;
  const set = DATA.sets[first];
  const { starter } = linesOf(first);
  byId("starter").replaceChildren("Starter ", make("strong", null, level(starter)));
  setText(byId("chalk"), set.drop ? `Chalk line ${level(starter + set.drop)}` : "");
  const counts = { flush: 0, notch: 0, sliver: 0 };
  for (const edge of edgesOf(face)) if (edge.target.importance !== "ignore") counts[edge.result] += 1;
  const part = (result, one, more) => make("span", { class: counts[result] ? "count" : "count none" }, sign(result), ` ${many(counts[result], one, more)}`);
  byId("score").replaceChildren(part("flush", "flush", "flush"), part("notch", "notch", "notches"), part("sliver", "sliver", "slivers"));
  byId("all-back").hidden = !faceMoved(face);
}

function facesButtons() {
  const buttons = DATA.faces.map((face, index) =>
    button(named(face.name), {
      "aria-current": index === state.face ? "true" : "false",
      onclick: () => {
        state.face = index;
        state.picked = null;
        showFace();
        byId("faces").children[index].focus();
        say(`${face.name}: ${byId("score").textContent}`);
      },
    }),
  );
  byId("faces").replaceChildren(...buttons);
  byId("faces").hidden = buttons.length < 2;
  byId("summary-title").classList.toggle("aside", buttons.length > 1);
}

/** One edge as a row to tap. */
function edgeRow(edge, was, face) {
  const { target } = edge;
  const picked = target.opening === null ? { set: target.set, course: edge.course } : { opening: target.opening };
  const extra = { must: ", must", want: "", ignore: ", ignored" }[target.importance];
  return make(
    "li",
    { class: `edge ${was ? "was" : ""}` },
    button(sign(edge.result), { onclick: () => open(picked) },
      make("span", { class: "what" }, make("strong", null, named(`${edgeSubject(edge, face)}${extra}`)), make("span", { class: "height" }, show(target.height))),
      edge.result === "notch" ? make("span", { class: "aside" }, "notch: ") : null,
      make("span", { class: "do" }, edgeAction(edge, face)),
      was ? make("span", { class: "before" }, `changed; in the plan: ${was === "none" ? "no edge" : `${was.result}, course ${courseName(DATA.sets[target.set], was.course)}`}`) : null,
    ),
  );
}

function showEdges() {
  const face = faceNow();
  const changes = new Map(changesOf(face).map(({ edge, was }) => [edge.target, was ?? "none"]));
  const edges = edgesOf(face).reverse();
  byId("edges").replaceChildren(...edges.map((edge) => edgeRow(edge, changes.get(edge.target), face)));
  const others = DATA.faces.filter((one) => one !== face).reduce((sum, one) => sum + changesOf(one).length, 0);
  const elsewhere = others ? `, ${others} on other faces` : "";
  byId("changes").textContent = changes.size + others ? `Changed against the plan: ${many(changes.size, "edge", "edges")} here${elsewhere}.` : "";
  const given = faceMoved(face) ? givenUp(face) : face.givenUp;
  const missed = face.zones.flatMap((zone) => {
    const { mark, other } = state.at[zone.set];
    const { missed: own, otherMissed } = DATA.sets[zone.set];
    return (other === null ? own[mark] : otherMissed[other]).map((number) => DATA.texts[number]);
  });
  byId("given").replaceChildren(
    ...missed.map((text) => make("li", { class: "missed" }, make("strong", null, "Missed: "), named(text, "span"))),
    ...given.map((text) => make("li", null, named(text, "span"))),
    ...(missed.length + given.length ? [] : [make("li", null, "Nothing: every edge that counts is flush.")]),
  );
}

let rows = []; // the courses in the list, each with its box and the word beside it

/** The courses as a list; made anew only for other lines. */
function showCourses() {
  const face = faceNow();
  rows = coursesOf(face).map((course) => {
    const name = courseName(DATA.sets[course.set], course.number);
    const box = make("input", { type: "checkbox", "aria-label": `Course ${name} is up`, onchange: () => tick(course, box.checked) });
    const word = make("span", { class: "state" });
    const pieces = button(
      make("strong", null, name),
      { "aria-label": `Course ${name}, ${show(course.butt)}: its pieces`, onclick: () => open({ set: course.set, course: course.number }) },
      make("span", { class: "height" }, show(course.butt)),
      word,
    );
    const item = make("li", { class: course.number % 5 === 0 ? "course heavy" : "course" }, make("label", { class: "box" }, box), pieces);
    return { course, box, word, item };
  });
  byId("courses").replaceChildren(...rows.map(({ item }) => item));
  byId("piece-notes-all").hidden = faceMoved(face) || !face.pieceNotes.length;
  byId("piece-notes").replaceChildren(...face.pieceNotes.map((text) => make("li", null, text)));
}

function tick(course, up) {
  const face = faceNow();
  setUp(face, course.set, course.number, up);
  showTicks();
  say(`Course ${courseName(DATA.sets[course.set], course.number)} ${up ? "is up" : "is no longer ticked"}. ${byId("progress").textContent}.`);
}

/** The next course that is not up; null when all are. */
function nextCourse() {
  const face = faceNow();
  return rows.find(({ course }) => !isUp(face, course.set, course.number))?.course ?? null;
}

/** Everything that ticks change. */
function showTicks() {
  const face = faceNow();
  let up = 0;
  for (const { course, box, word } of rows) {
    box.checked = isUp(face, course.set, course.number);
    word.textContent = box.checked ? "up" : "";
    up += box.checked ? 1 : 0;
  }
  byId("progress").textContent = `${up} of ${many(rows.length, "course", "courses")} up`;
  const next = nextCourse();
  byId("next").disabled = next === null;
  byId("next").textContent = next ? `Course ${courseName(DATA.sets[next.set], next.number)} is up` : "Every course of this face is up";
  byId("keeps").textContent = keeps
    ? "Ticks are kept in this browser, on this device."
    : "This browser keeps nothing for this page: save the ticks to a file before you close it.";
  byId("keeps").classList.toggle("warn", !keeps);
  layWall();
}

function showSlopes() {
  const slopes = slopesOf(faceNow());
  byId("slopes-card").hidden = !slopes.length;
  byId("slopes").replaceChildren(
    ...slopes.map((found) => {
      const { slope, low, high } = found;
      const name = `${slope.base ? "Over the roof below" : "Gable"}, ${slope.hand} end cut`;
      return make("li", null, make("strong", null, `${name}, ${slope.words[0]}: `), slopeWords(found), make("br"),
        `From ${show(low)} to ${show(high)}, ${show(slope.length)} along the slope.`);
    }),
  );
}

function showCautions() {
  const face = faceNow();
  byId("carried-card").hidden = !face.carriedOn.length;
  byId("carried").replaceChildren(...face.carriedOn.map((text) => make("li", null, named(text, "span"))));
  const { mark } = state.at[face.zones[0].set];
  const own = face.cautions[mark].map((number) => DATA.texts[number]);
  byId("cautions").replaceChildren(...[...own, ...DATA.general].map((text) => make("li", null, text)));
}

/** Everything that other lines change. */
function refresh() {
  showSummary();
  for (const zone of faceNow().zones) showStarter(zone.set);
  showEdges();
  showSlopes();
  showCautions();
  showCourses();
  showTicks();
}

/** Another face. */
function showFace() {
  const face = faceNow();
  facesButtons();
  document.querySelectorAll(".face-name").forEach((one) => one.replaceChildren(named(face.name)));
  byId("drawing").setAttribute("aria-label", `Drawing of ${face.name}. Arrow keys move it, plus and minus zoom, 0 shows the whole wall. The lists beside it say the same in words.`);
  byId("starters").replaceChildren(...[...new Set(face.zones.map((zone) => zone.set))].map(starterControls));
  refresh();
  askHeight();
  fitView();
}
