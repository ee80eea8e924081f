// The face in words: its edges, which are not met, its courses with their ticks, slopes and cautions.

let counters = null; // the counts of edges, each with the element that says it

/** The figures under the drawing. */
function showSummary() {
  const face = faceNow();
  const [label, level, chalk] = viewOf(face, face.zones[0].set).first;
  setText(byId("chalk"), chalk === null ? "" : say("chalk line", { height: text(chalk) }));
  if (!byId("starter").firstChild) byId("starter").append(...phrase("first line", { line: make("span"), height: make("strong") }));
  setText(byId("starter").querySelector("span"), text(label));
  setText(byId("starter").querySelector("strong"), text(level));
  counters ??= RESULTS.map((result) => {
    const words = make("span");
    byId("score").append(make("span", { class: "count" }, sign(result), " ", words));
    return words;
  });
  const counted = edgesOf(face).filter(({ target }) => target.importance !== "ignore");
  RESULTS.forEach((result, at) => {
    const count = counted.filter((edge) => edge.result === result && !(result === "flush" && edge.target.kind === "base")).length;
    setText(counters[at], say(`count ${result}`, { count }));
    counters[at].parentNode.classList.toggle("none", !count);
  });
  byId("all-back").hidden = !faceMoved(face);
}

function facesButtons() {
  const buttons = DATA.faces.map((face, index) =>
    button(named(face.name), {
      "aria-current": index === state.face ? "true" : "false",
      onclick: () => {
        if (index === state.face) return;
        state.face = index;
        state.picked = null;
        showFace();
        keepPlace("pushState");
        byId("faces").children[index].focus();
        announce(say("face and counts", { face: face.name, counts: byId("score").textContent }));
      },
    }),
  );
  byId("faces").replaceChildren(...buttons);
  byId("faces").hidden = buttons.length < 2;
  buttons[state.face].scrollIntoView({ block: "nearest", inline: "center" });
}

/** One edge as a row to tap. */
function edgeRow(edge, was) {
  const { target } = edge;
  const picked = target.opening === null ? { set: target.set, course: edge.course } : { opening: target.opening };
  const edgeName = { must: say("edge must", { edge: target.subject }), want: target.subject, ignore: say("edge ignored", { edge: target.subject }) }[target.importance];
  return make(
    "li",
    { class: `edge ${was ? "was" : ""}` },
    button(sign(edge.result), { onclick: () => open(picked) },
      make("span", { class: "what" }, make("strong", null, named(edgeName)), make("span", { class: "height" }, target.reading)),
      edge.result === "notch" ? make("span", { class: "aside" }, `${say("notch first")} `) : null,
      make("span", { class: "do" }, edge.act),
      was ? make("span", { class: "before" }, was === "none" ? say("changed from no edge") : say("changed", { result: say(`result ${was.result}`), course: courseName(target.set, was.course) })) : null,
    ),
  );
}

function showEdges() {
  const face = faceNow();
  const changes = new Map(changesOf(face).map(({ edge, was }) => [edge.target, was ?? "none"]));
  const edges = edgesOf(face).reverse();
  byId("edges").replaceChildren(...edges.map((edge) => edgeRow(edge, changes.get(edge.target))));
  const others = DATA.faces.filter((one) => one !== face).reduce((sum, one) => sum + changesOf(one).length, 0);
  byId("changes").textContent = changes.size + others ? say(others ? "edges changed elsewhere" : "edges changed", { count: changes.size, others }) : "";
  const given = faceMoved(face) ? givenUp(face) : face.givenUp;
  const missed = setsOf(face).flatMap((set) => linesOf(set).missed.map(text));
  byId("given").replaceChildren(
    ...missed.map((words) => make("li", { class: "missed" }, make("strong", null, `${say("missed")} `), named(words, "span"))),
    ...given.map((words) => make("li", null, named(words, "span"))),
    ...(missed.length + given.length ? [] : [make("li", null, say("all flush"))]),
  );
}

let rows = []; // the courses in the list, each with its box and the word beside it

/** The courses as a list; made anew only for other lines. */
function showCourses() {
  const face = faceNow();
  rows = coursesOf(face).map((course) => {
    const { name, reading } = course;
    const box = make("input", { type: "checkbox", "aria-label": say("course is up", { course: name }), onchange: () => tick(course, box.checked) });
    const word = make("span", { class: "state" });
    const pieces = button(
      make("strong", null, name),
      { "aria-label": say("course row", { course: name, height: reading }), onclick: () => open({ set: course.set, course: course.number }) },
      make("span", { class: "height" }, reading),
      word,
    );
    const item = make("li", { class: course.number % 5 === 0 ? "course heavy" : "course" }, make("label", { class: "box" }, box), pieces);
    return { course, box, word, item };
  });
  byId("courses").replaceChildren(...rows.map(({ item }) => item));
  byId("piece-notes-all").hidden = faceMoved(face) || !face.pieceNotes.length;
  byId("piece-notes").replaceChildren(...face.pieceNotes.map((words) => make("li", null, words)));
}

function tick(course, up) {
  const face = faceNow();
  changeTicks(say("tick of course", { course: course.name, face: face.name }), () => putTick(tickKey(face, course.set), course.number, up));
  showTicks();
  announce(`${say(up ? "course is up" : "course is down", { course: course.name })}. ${byId("progress").textContent}.`);
}

/** The next course that is not up; null when all are. */
function nextCourse() {
  const face = faceNow();
  return rows.find(({ course }) => !isUp(face, course.set, course.number))?.course ?? null;
}

/** The bar at the foot: the next course with its line and what is cut in it, and what can be undone. */
function showBar() {
  const face = faceNow();
  const next = nextCourse();
  byId("next").disabled = byId("next-pieces").disabled = next === null;
  setText(byId("next-course"), next ? say("course is up", { course: next.name }) : say("all up"));
  const cut = next ? edgesOf(face).filter(({ target, course, result }) => target.set === next.set && course === next.number && result !== "flush") : [];
  setText(byId("next-what"), next ? say(cut.length ? "line and cuts" : "line", { height: next.reading, edges: cut.map(({ target }) => target.subject).join(", ") }) : "");
  byId("next-pieces").setAttribute("aria-label", next ? say("pieces of course", { course: next.name }) : say("pieces"));
  const last = undos.at(-1);
  byId("undo").disabled = !last;
  byId("undo").setAttribute("aria-label", last ? say("undo last", { change: last.words }) : say("undo"));
}

/** Everything that ticks change in the list. */
function tickRows() {
  const face = faceNow();
  let up = 0;
  for (const { course, box, word } of rows) {
    box.checked = isUp(face, course.set, course.number);
    word.textContent = box.checked ? say("up") : "";
    up += box.checked ? 1 : 0;
  }
  byId("progress").textContent = say("progress", { done: up, count: rows.length });
  showBar();
  byId("keeps").textContent = say(keeps ? "kept" : "not kept");
  byId("keeps").classList.toggle("warn", !keeps);
}

/** Everything that ticks change. */
function showTicks() {
  tickRows();
  layWall();
}

function showSlopes() {
  const slopes = slopesOf(faceNow());
  byId("slopes-card").hidden = !slopes.length;
  byId("slopes").replaceChildren(
    ...slopes.map(({ slope, words }) => make("li", null, make("strong", null, slope.name), words, make("br"), slope.span)),
  );
}

function showCautions() {
  const face = faceNow();
  byId("carried-card").hidden = !face.carriedOn.length;
  byId("carried").replaceChildren(...face.carriedOn.map((words) => make("li", null, named(words, "span"))));
  const own = viewOf(face, face.zones[0].set).cautions.map(text);
  byId("cautions").replaceChildren(...[...own, ...DATA.general].map((words) => make("li", null, words)));
}

/** What other lines change in the figures. */
function showLines() {
  showSummary();
  setsOf(faceNow()).forEach(showStarter);
}

/** What other lines change in the lists. */
function showLists() {
  setsOf(faceNow()).forEach(showTerms);
  showEdges();
  showSlopes();
  showCautions();
  showCourses();
  tickRows();
}

/** Another face. */
function showFace() {
  const face = faceNow();
  rememberFace();
  facesButtons();
  document.querySelectorAll(".face-name").forEach((one) => one.replaceChildren(named(face.name)));
  byId("drawing").setAttribute("aria-label", say("drawing", { face: face.name }));
  byId("starters").replaceChildren(...setsOf(face).map(starterControls));
  showLines();
  showLists();
  layWall();
  askHeight();
  fitView();
}
