// The page comes up: every part is filled, and listens.

function saveTicks() {
  const saved = ticksText();
  const name = `${DATA.job.replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "").slice(0, 60) || "job"}-check-marks.json`;
  const link = make("a", { href: URL.createObjectURL(new Blob([saved], { type: "application/json" })), download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  byId("ticks-text").value = saved;
  tell(say("saved", { file: name }));
}

/** Change many ticks at once, and tell of it. */
function changeMany(words, change) {
  try {
    tell(changeTicks(words, change));
  } catch (error) {
    tell(error.message);
    return;
  }
  showTicks();
}

const loadTicks = (content) => changeMany(say("marks added"), () => takeTicks(content));

function undo() {
  const words = undoTicks();
  if (words === null) return;
  showTicks();
  tell("");
  announce(`${say("undone", { change: words })} ${byId("progress").textContent}.`);
  if (byId("undo").disabled) byId("next").focus();
}

function tell(words) {
  byId("ticks-told").textContent = words;
}

function start() {
  byId("job").replaceChildren(named(DATA.job || say("nameless job")));
  byId("datum").replaceChildren(...phrase(DATA.author ? "datum and author" : "datum", { datum: named(DATA.datum), author: named(DATA.author) }));
  recallTicks();
  tickHung();
  startDrawing();
  startDetails();
  byId("zoom-in").onclick = () => zoomBy(1.6);
  byId("zoom-out").onclick = () => zoomBy(1 / 1.6);
  byId("zoom-fit").onclick = fitView;
  byId("all-back").onclick = () => {
    setsOf(faceNow()).forEach((set) => takeRow(set, planRow(set)));
    byId("drawing").focus();
  };
  byId("next").onclick = () => {
    const next = nextCourse();
    if (next) tick(next, true);
  };
  byId("next-pieces").onclick = () => {
    const next = nextCourse();
    if (next) open({ set: next.set, course: next.number });
  };
  byId("ticks-save").onclick = saveTicks;
  byId("ticks-paste").onclick = () => loadTicks(byId("ticks-text").value);
  byId("ticks-file").onchange = async (event) => {
    const [file] = event.target.files;
    if (file) loadTicks(await file.text());
    event.target.value = "";
  };
  byId("ticks-none").onclick = () => {
    if (!window.confirm(say("clear all?"))) return;
    changeMany(say("marks cleared"), () => {
      ticks.clear();
      return say("all cleared");
    });
  };
  byId("undo").onclick = undo;
  window.addEventListener("storage", (event) => {
    if (event.key !== PLACE) return;
    ticks.clear();
    undos.length = 0; // another window's check marks are not undone here
    recallTicks();
    tickHung();
    showTicks();
  });
  document.querySelectorAll(".legend-sign").forEach((place) => place.append(sign(place.dataset.sign)));
  recallFace();
  showFace();
  startPlace();
  document.body.classList.add("ready");
}

/** The figures of the page for whoever checks them: every row of every course set, the others as planned. */
window.evencourse = Object.freeze({
  rows: () => DATA.sets.map((set) => set.rows.map(({ starter }) => starter)),
  marks: () => DATA.sets.map((set) => set.rows.slice(0, set.marks).map(({ starter }) => starter)),
  termsAt: (set, row) => DATA.terms.map((name, index) => [name, text(DATA.sets[set].rows[row].terms[index])]),
  edgesAt: (set, row) => {
    const at = (one) => (one === set ? row : planRow(one));
    return DATA.faces.map((face) => edgesOf(face, at).map((edge) => [edge.target.subject, edge.result, edge.act]));
  },
});

start();
