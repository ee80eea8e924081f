// The starter line: moving it, what its marks are worth, and the other answers of the plan.

const scores = new Map();
function scoreOf(setNumber, lines) {
  if (!scores.has(lines)) scores.set(lines, score(setNumber, lines));
  return scores.get(lines);
}
const scoreNow = (setNumber) => scoreOf(setNumber, linesOf(setNumber));
const scorePlanned = (setNumber) => scoreOf(setNumber, planLines(setNumber));

/** Put the starter line on one of its marks. */
function moveStarter(setNumber, mark) {
  const set = DATA.sets[setNumber];
  const next = Math.min(Math.max(mark, 0), set.marks.length - 1);
  if (state.at[setNumber].mark === next && state.at[setNumber].other === null) return;
  state.at[setNumber] = { mark: next, other: null };
  linesMoved(setNumber);
}

/** Take one of the plan's other answers. */
function takeOther(setNumber, other) {
  const set = DATA.sets[setNumber];
  const mark = set.marks.indexOf(set.others[other].starter);
  state.at[setNumber] = { mark, other: set.lines === null ? null : other };
  linesMoved(setNumber);
}

function linesMoved(setNumber) {
  refresh();
  const words = [`Starter ${levelOfDatum(linesOf(setNumber).starter)}`, scoreWords(scoreNow(setNumber))];
  const face = faceNow();
  const changes = changesOf(face);
  if (changes.length) {
    const told = changes.slice(0, 4).map(({ edge }) => `${edgeSubject(edge, face)}: ${edgeAction(edge, face)}`);
    words.push(`changed on this face: ${told.join("; ")}${changes.length > 4 ? ` and ${changes.length - 4} more` : ""}`);
  } else words.push(moved(setNumber) ? "no edge changed on this face" : "as in the plan");
  say(`${words.join(". ")}.`);
}

/** Controls of one course set, made once for a face. */
function starterControls(setNumber) {
  const set = DATA.sets[setNumber];
  const title = DATA.sets.length > 1 ? `Starter line, ${set.label}` : "Starter line";
  const parts = [make("h2", null, title), make("p", { class: "starter-now", id: `now-${setNumber}` }), make("p", { id: `all-${setNumber}` })];
  if (set.marks.length > 1) {
    const last = set.marks.length - 1;
    const slider = make("input", {
      type: "range", min: 0, max: last, step: 1, id: `slider-${setNumber}`, "aria-label": `${title}, in marks of the tape`,
      oninput: () => moveStarter(setNumber, Number(slider.value)),
    });
    const step = (by) => moveStarter(setNumber, state.at[setNumber].mark + by);
    const gap = show(Math.min(...set.marks.slice(1).map((mark, index) => mark - set.marks[index])));
    parts.push(
      make("p", { class: "hint" }, `Drag the grip under the line on the drawing, or move it here. It may lie from ${level(set.reach[0])} to ${levelOfDatum(set.reach[1])}.`),
      make(
        "div",
        { class: "mover" },
        button("−", { "aria-label": `Starter down ${gap}`, id: `down-${setNumber}`, onclick: () => step(-1) }),
        make("div", { class: "track" }, make("div", { class: "chart", id: `chart-${setNumber}`, onclick: (event) => pickOnChart(event, setNumber) }), slider),
        button("+", { "aria-label": `Starter up ${gap}`, id: `up-${setNumber}`, onclick: () => step(1) }),
      ),
    );
  } else if (set.hung) parts.push(make("p", { class: "hint" }, `Courses 1 to ${set.hung} hang: planned again from there.`));
  else parts.push(make("p", { class: "hint" }, "It can lie nowhere else."));
  const back = button("Back to the plan", {
    id: `back-${setNumber}`,
    onclick: () => {
      moveStarter(setNumber, set.planned);
      byId(`slider-${setNumber}`)?.focus();
    },
  });
  parts.push(make("p", { class: "against" }, make("span", { id: `against-${setNumber}` }), " ", back));
  if (set.others.length) {
    const choice = (label, checked, taken) =>
      make("label", { class: "choice" }, make("input", { type: "radio", name: `answer-${setNumber}`, checked, onchange: taken }), make("span", null, label));
    const line = (lines, words) => [`${words} `, make("br"), make("span", { class: "score" }, scoreWords(scoreOf(setNumber, lines)))];
    const planned = planLines(setNumber);
    const bands = planned.bands.map((band) => bandWords(planned, band)).join("; ");
    parts.push(
      make(
        "details",
        { open: !set.fixed },
        make("summary", null, `${set.fixed ? "Other starters" : "Other courses"} that differ to a crew`),
        make(
          "fieldset",
          { id: `others-${setNumber}` },
          make("legend", null, "Lines to look at"),
          choice(line(planned, `The plan. ${level(planned.starter)}: ${bands}`), true, () => moveStarter(setNumber, set.planned)),
          set.others.map((lines, other) => choice(line(lines, set.otherWords[other]), false, () => takeOther(setNumber, other))),
        ),
      ),
    );
  }
  parts.push(
    make("details", { class: "terms" }, make("summary", null, "Every term of the score"), make("div", { class: "scroll", tabindex: 0, role: "group", "aria-label": "Terms of the score" }, make("table", { id: `terms-${setNumber}` }))),
  );
  return make("section", { class: "card" }, parts);
}

function pickOnChart(event, setNumber) {
  const box = event.currentTarget.getBoundingClientRect();
  const share = (event.clientX - box.left - 22) / (box.width - 44);
  moveStarter(setNumber, Math.round(share * (DATA.sets[setNumber].marks.length - 1)));
}

/** A bar for every mark, over the place where the slider stands on it: as high as its flush edges weigh, open where it leaves slivers or misses a must. */
function chart(setNumber) {
  const set = DATA.sets[setNumber];
  const all = set.marks.map((_, mark) => scoreOf(setNumber, linesFrom(setNumber, mark)));
  const most = Math.max(1, ...all.map((one) => one.flush_weight));
  const step = 1000 / (set.marks.length - 1);
  const wide = Math.min(step * 0.72, 120);
  const bars = all.map((one, mark) => {
    const height = 3 + (41 * one.flush_weight) / most;
    const bad = one.slivers + one.missed_must > 0;
    const here = mark === state.at[setNumber].mark;
    const name = `${bad ? "bad" : "good"}${here ? " here" : ""}`;
    return draw("rect", { class: name, x: mark * step - wide / 2, y: 46 - height, width: wide, height });
  });
  const planned = set.planned * step;
  return draw(
    "svg",
    { viewBox: "0 0 1000 60", preserveAspectRatio: "none", "aria-hidden": "true" },
    bars,
    draw("path", { class: "planned", d: `M${planned - 12} 60L${planned} 49L${planned + 12} 60Z` }),
  );
}

/** What the controls say now. */
function showStarter(setNumber) {
  const set = DATA.sets[setNumber];
  const lines = linesOf(setNumber);
  const [found, plan] = [scoreNow(setNumber), scorePlanned(setNumber)];
  const { mark, other } = state.at[setNumber];
  const chalk = set.drop ? `; chalk line ${level(lines.starter + set.drop)}` : "";
  setText(byId(`now-${setNumber}`), `${levelOfDatum(lines.starter)}${chalk}`);
  const shared = DATA.faces.filter((face) => face.zones.some((zone) => zone.set === setNumber)).length;
  byId(`all-${setNumber}`).textContent = `${shared > 1 ? `On all ${shared} faces that share it` : "On this face"}: ${scoreWords(found)}.`;
  const slider = byId(`slider-${setNumber}`);
  if (slider) {
    slider.value = mark;
    slider.setAttribute("aria-valuetext", `${levelOfDatum(lines.starter)}, ${scoreWords(found)}`);
    byId(`down-${setNumber}`).disabled = mark === 0;
    byId(`up-${setNumber}`).disabled = mark === set.marks.length - 1;
    byId(`chart-${setNumber}`).replaceChildren(chart(setNumber));
  }
  byId(`against-${setNumber}`).textContent = moved(setNumber) ? againstPlan(found, plan) : "This is the plan.";
  byId(`back-${setNumber}`).hidden = !moved(setNumber);
  const chosen = set.lines === null ? set.others.findIndex((one) => one.starter === lines.starter) : (other ?? -1);
  byId(`others-${setNumber}`)?.querySelectorAll("input").forEach((input, index) => {
    input.checked = moved(setNumber) ? chosen >= 0 && chosen === index - 1 : index === 0;
  });
  const shown = scoreTerms(found);
  const planned = scoreTerms(plan);
  byId(`terms-${setNumber}`).replaceChildren(
    make("thead", null, make("tr", null, ["Term, the first difference decides", "here", "plan"].map((text) => make("th", { scope: "col" }, text)))),
    make("tbody", null, shown.map(([name, value], index) => make("tr", null, make("th", { scope: "row" }, name), make("td", null, value), make("td", null, planned[index][1])))),
  );
}
