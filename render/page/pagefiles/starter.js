// The starter line: moving it, what its marks are worth, and the other answers of the plan.

/** The mark that the starter line is on: the first rows of a course set are its marks. */
function markNow(setNumber) {
  const { rows, marks } = DATA.sets[setNumber];
  const now = rowNow(setNumber);
  return now < marks ? now : rows.findIndex(({ starter }) => starter === rows[now].starter);
}

/** Put the starter line on one of its marks. */
function moveStarter(setNumber, mark, dragged = false) {
  takeRow(setNumber, Math.min(Math.max(mark, 0), DATA.sets[setNumber].marks - 1), dragged);
}

/** Look at another answer. */
function takeRow(setNumber, row, dragged = false) {
  if (rowNow(setNumber) === row) return;
  state.at[setNumber] = row;
  linesMoved(setNumber, dragged);
}

let resting = null;
/** Show other lines; while they are dragged the drawing and the figures alone, the lists when the finger rests. */
function linesMoved(setNumber, dragged = false) {
  clearTimeout(resting);
  showLines();
  layWall();
  if (dragged) resting = setTimeout(() => listsMoved(setNumber), 150);
  else listsMoved(setNumber);
}

function listsMoved(setNumber) {
  showLists();
  const words = [say("starter at", { height: text(linesOf(setNumber).at) }), text(linesOf(setNumber).score)];
  const face = faceNow();
  const changes = changesOf(face);
  if (changes.length) {
    const told = changes.slice(0, 4).map(({ edge }) => say("edge action", { edge: edge.target.subject, action: edge.act }));
    words.push(say(changes.length > 4 ? "more edges differ" : "edges differ", { edges: told.join("; "), number: changes.length - 4 }));
  } else words.push(moved(setNumber) ? say("no edge differs") : say("as planned"));
  announce(`${words.join(". ")}.`);
}

/** Controls of one course set, made once for a face. */
function starterControls(setNumber) {
  const set = DATA.sets[setNumber];
  const title = say(DATA.sets.length > 1 ? "starter line of" : "starter line", { siding: set.label });
  const parts = [make("h2", null, title), make("p", { class: "starter-now", id: `now-${setNumber}` }), make("p", { id: `all-${setNumber}` })];
  if (set.marks > 1) {
    const last = set.marks - 1;
    const slider = make("input", {
      type: "range", min: 0, max: last, step: 1, id: `slider-${setNumber}`, "aria-label": say("slider", { line: title }),
      oninput: () => moveStarter(setNumber, Number(slider.value), true),
      onchange: () => linesMoved(setNumber),
    });
    const step = (by) => moveStarter(setNumber, markNow(setNumber) + by);
    parts.push(
      make("p", { class: "hint" }, say("drag the grip", { limits: set.reach })),
      make(
        "div",
        { class: "mover" },
        button("−", { "aria-label": say("starter down", { step: set.step }), id: `down-${setNumber}`, onclick: () => step(-1) }),
        make("div", { class: "track" }, make("div", { class: "chart", id: `chart-${setNumber}`, onclick: (event) => pickOnChart(event, setNumber) }), slider),
        button("+", { "aria-label": say("starter up", { step: set.step }), id: `up-${setNumber}`, onclick: () => step(1) }),
      ),
    );
  } else if (set.hung) parts.push(make("p", { class: "hint" }, say("courses hang", { last: set.hung })));
  else parts.push(make("p", { class: "hint" }, say("starter fixed")));
  const back = button(say("back"), {
    id: `back-${setNumber}`,
    onclick: () => {
      takeRow(setNumber, set.planned);
      byId(`slider-${setNumber}`)?.focus();
    },
  });
  parts.push(make("p", { class: "against" }, make("span", { id: `against-${setNumber}` }), " ", back));
  if (set.others.length) {
    const choice = (label, checked, taken) =>
      make("label", { class: "choice" }, make("input", { type: "radio", name: `answer-${setNumber}`, checked, onchange: taken }), make("span", null, label));
    const line = (row, words) => [`${words} `, make("br"), make("span", { class: "score" }, text(set.rows[row].score))];
    parts.push(
      make(
        "details",
        { open: !set.fixed },
        make("summary", null, say("others")),
        make(
          "fieldset",
          { id: `others-${setNumber}` },
          make("legend", null, say("layout shown")),
          choice(line(set.planned, say("plan's layout", { layout: set.words })), true, () => takeRow(setNumber, set.planned)),
          set.others.map((row, other) => choice(line(row, set.otherWords[other]), false, () => takeRow(setNumber, row))),
        ),
      ),
    );
  }
  parts.push(
    make("details", { class: "terms" }, make("summary", null, say("every term")), make("div", { class: "scroll", tabindex: 0, role: "group", "aria-label": say("terms") }, make("table", { id: `terms-${setNumber}` }))),
  );
  return make("section", { class: "card" }, parts);
}

function pickOnChart(event, setNumber) {
  const box = event.currentTarget.getBoundingClientRect();
  const share = (event.clientX - box.left - 22) / (box.width - 44);
  moveStarter(setNumber, Math.round(share * (DATA.sets[setNumber].marks - 1)));
}

/** A bar for every mark, over the place where the slider stands on it: as high as its flush edges weigh, open where it leaves slivers or misses a must. */
function chart(setNumber) {
  const set = DATA.sets[setNumber];
  const all = set.rows.slice(0, set.marks);
  const most = Math.max(1, ...all.map(({ weight }) => weight));
  const step = 1000 / (set.marks - 1);
  const wide = Math.min(step * 0.72, 120);
  const bars = all.map(({ weight, bad }, mark) => {
    const height = 3 + (41 * weight) / most;
    return shape("rect", { class: bad ? "bad" : "good", x: mark * step - wide / 2, y: 46 - height, width: wide, height });
  });
  const planned = set.planned * step;
  return picture(
    { viewBox: "0 0 1000 60", preserveAspectRatio: "none" },
    bars,
    shape("path", { class: "planned", d: `M${planned - 12} 60L${planned} 49L${planned + 12} 60Z` }),
  );
}

/** What the controls say now. */
function showStarter(setNumber) {
  const set = DATA.sets[setNumber];
  const now = rowNow(setNumber);
  const lines = set.rows[now];
  const [at, score] = [text(lines.at), text(lines.score)];
  setText(byId(`now-${setNumber}`), lines.chalk === null ? at : say("now", { starter: at, chalk: text(lines.chalk) }));
  const shared = DATA.faces.filter((face) => face.zones.some((zone) => zone.set === setNumber)).length;
  setText(byId(`all-${setNumber}`), say(shared > 1 ? "on all faces" : "on one face", { number: shared, score }));
  const slider = byId(`slider-${setNumber}`);
  if (slider) {
    const mark = markNow(setNumber);
    slider.value = mark;
    slider.setAttribute("aria-valuetext", `${at}, ${score}`);
    byId(`down-${setNumber}`).disabled = mark === 0;
    byId(`up-${setNumber}`).disabled = mark === set.marks - 1;
    const bars = byId(`chart-${setNumber}`);
    if (!bars.firstChild) bars.append(chart(setNumber));
    bars.querySelector(".here")?.classList.remove("here");
    bars.querySelectorAll("rect")[mark]?.classList.add("here");
  }
  setText(byId(`against-${setNumber}`), moved(setNumber) ? text(lines.against) : say("this is the plan"));
  byId(`back-${setNumber}`).hidden = !moved(setNumber);
  byId(`others-${setNumber}`)?.querySelectorAll("input").forEach((input, index) => {
    input.checked = now === [set.planned, ...set.others][index];
  });
}

/** Every term of the score, here and in the plan. */
function showTerms(setNumber) {
  const { rows, planned } = DATA.sets[setNumber];
  const [lines, plan] = [linesOf(setNumber), rows[planned]];
  byId(`terms-${setNumber}`).replaceChildren(
    make("thead", null, make("tr", null, [say("term"), say("here"), say("plan")].map((title) => make("th", { scope: "col" }, title)))),
    make("tbody", null, DATA.terms.map((name, index) => make("tr", null, make("th", { scope: "row" }, name), make("td", null, text(lines.terms[index])), make("td", null, text(plan.terms[index]))))),
  );
}
